// Package output writes what a command hands over: whole files or none, nothing
// that a terminal takes for a command, and how far a long job is.
package output

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// A File is written beside its name and renamed when it is whole, so that an
// interrupted export leaves no half file. Files are made for their owner only.
type File struct {
	io.Writer
	tmp  *os.File
	name string
}

// Create begins the output file name; an empty name or "-" is stdout.
func Create(name string, stdout io.Writer) (*File, error) {
	if name == "" || name == "-" {
		return &File{Writer: stdout}, nil
	}
	tmp, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*.part")
	if err != nil {
		return nil, fmt.Errorf("cannot write %s: %w", name, err)
	}
	return &File{Writer: tmp, tmp: tmp, name: name}, nil
}

// Commit makes the file durable and gives it its name.
func (o *File) Commit() error {
	if o.tmp == nil {
		return nil
	}
	err := o.tmp.Sync()
	if cerr := o.tmp.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(o.tmp.Name(), o.name)
	}
	if err != nil {
		os.Remove(o.tmp.Name())
		return fmt.Errorf("cannot write %s: %w", o.name, err)
	}
	o.tmp = nil
	return nil
}

// Abandon removes what was written; after Commit it does nothing.
func (o *File) Abandon() {
	if o.tmp != nil {
		o.tmp.Close()
		os.Remove(o.tmp.Name())
	}
}
