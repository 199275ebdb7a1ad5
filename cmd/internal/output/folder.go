package output

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"example.org/readback/store/disk"
)

// A Folder of files is written beside its name and gets the name when it is whole.
type Folder struct {
	name, tmp, marker string
	replace           bool
}

// CreateFolder begins a folder. One that stands there already must be empty, or,
// with Replace, hold the marker: the file that such a folder always has.
func (f Flags) CreateFolder(marker string) (*Folder, error) {
	d := &Folder{name: f.Out, marker: marker, replace: f.Replace}
	if err := d.look(); err != nil {
		return nil, err
	}
	var id [6]byte
	rand.Read(id[:]) // never fails
	begin, end := partOf(d.name)
	d.tmp = filepath.Join(filepath.Dir(d.name), begin+hex.EncodeToString(id[:])+end)
	if err := os.Mkdir(d.tmp, 0o777); err != nil {
		return nil, fmt.Errorf("cannot write %s: %w", d.name, cause(err))
	}
	return d, nil
}

// look refuses a name under which something else stands.
func (d *Folder) look() error {
	if disk.IsDevice(d.name) {
		return &Refused{Path: d.name, Why: "is the name of a device on Windows, where no file can have it", Do: "name another folder"}
	}
	if why := besideBook(d.name); why != "" {
		return &Refused{Path: d.name, Why: why, Do: "name another folder"}
	}
	list, err := os.ReadDir(d.name)
	switch {
	case errors.Is(err, fs.ErrNotExist) || err == nil && len(list) == 0:
		return nil
	case err != nil:
		return &Refused{Path: d.name, Why: "is no folder", Do: "name another"}
	}
	_, err = os.Stat(filepath.Join(d.name, d.marker))
	switch {
	case err != nil:
		return &Refused{Path: d.name, Why: "holds other files", Do: "name another folder"}
	case !d.replace:
		return &Refused{Path: d.name, Why: "is there already", Do: "name another folder, or --replace"}
	}
	return nil
}

// Create begins a file in the folder.
func (d *Folder) Create(name string) (io.WriteCloser, error) {
	return os.OpenFile(filepath.Join(d.tmp, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
}

// Commit gives the folder its name, in place of one that stood there.
func (d *Folder) Commit() error {
	if err := d.look(); err != nil {
		return err
	}
	old := d.tmp + "-old"
	err := os.Rename(d.name, old)
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	if err == nil {
		err = os.Rename(d.tmp, d.name)
	}
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", d.name, cause(err))
	}
	d.tmp = ""
	return os.RemoveAll(old)
}

// Abandon removes what was written; after Commit it does nothing.
func (d *Folder) Abandon() {
	if d.tmp != "" {
		os.RemoveAll(d.tmp)
	}
}
