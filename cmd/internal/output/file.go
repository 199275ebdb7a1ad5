// Package output writes what a command hands over: whole files or none, never over
// a book or an input, nothing that a terminal takes for a command, and how far a
// long job is.
package output

import (
	"bufio"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// Flags are the options of every command that hands something over.
type Flags struct {
	Out     string `short:"o" help:"File to write; standard output when it is not given or -." placeholder:"FILE"`
	Replace bool   `help:"Write over a file that stands there already. Never over a book, a journal or an input."`
}

// create begins the output: the file, or stdout where none is named. inputs are the
// files that the command reads.
func (f Flags) create(stdout io.Writer, inputs ...string) (*file, error) {
	if f.ToStdout() {
		return &file{Writer: stdout}, nil
	}
	return create(f.Out, f.Replace, inputs)
}

// Check looks early whether Write would be refused, before a long work is done.
func (f Flags) Check(inputs ...string) error {
	if f.ToStdout() {
		return nil
	}
	_, err := look(f.Out, f.Replace, inputs)
	return err
}

// Write lets write make the output, and gives the file its name when write has come
// to its end without an error.
func (f Flags) Write(stdout io.Writer, inputs []string, write func(io.Writer) error) error {
	out, err := f.create(stdout, inputs...)
	if err != nil {
		return err
	}
	defer out.abandon()
	buf := bufio.NewWriterSize(out, 1<<16)
	if err := write(buf); err != nil {
		return err
	}
	if err := buf.Flush(); err != nil {
		return fmt.Errorf("cannot write the output: %w", cause(err))
	}
	return out.commit()
}

// ToStdout tells whether no file is named.
func (f Flags) ToStdout() bool { return f.Out == "" || f.Out == "-" }

// A file is written beside its name and gets the name when it is whole, so that an
// interrupted command leaves no half file. A pipe or a device is written to.
type file struct {
	io.Writer
	tmp     *os.File // nil: stdout, or written out
	direct  bool     // a pipe or a device: there is no second name
	name    string   // as the user has it
	path    string   // the file itself, where name is a link
	replace bool
	give    func() // gives the signals back
}

func create(name string, replace bool, inputs []string) (*file, error) {
	s, err := look(name, replace, inputs)
	if err != nil {
		return nil, err
	}
	f := &file{name: name, path: s.path, replace: replace}
	if s.direct {
		f.direct = true
		if f.tmp, err = os.OpenFile(s.path, os.O_WRONLY, 0); err != nil {
			return nil, fmt.Errorf("cannot write %s: %w", name, err)
		}
		f.Writer = f.tmp
		return f, nil
	}
	clearLeft(s.path)
	if f.tmp, err = newPart(s.path); err != nil {
		return nil, fmt.Errorf("cannot write %s: %w", name, cause(err))
	}
	if s.mode != 0 {
		_ = f.tmp.Chmod(s.mode) // a file that is replaced keeps who may read it
	}
	f.Writer, f.give = untilSignal(f.tmp)
	return f, nil
}

// cause leaves out the name of the part file, which the user never gave.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// partOf begins and ends the names of the part files of path.
func partOf(path string) (begin, end string) { return "." + filepath.Base(path) + ".", ".part" }

// newPart makes a part file beside path with the user's ordinary mode. It is locked
// while its writer lives.
func newPart(path string) (*os.File, error) {
	begin, end := partOf(path)
	var id [6]byte
	rand.Read(id[:]) // never fails
	return Hold(filepath.Join(filepath.Dir(path), begin+hex.EncodeToString(id[:])+end))
}

// Hold makes a file and holds it until it is closed or the program dies: Release
// removes it only then.
func Hold(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
	if err == nil {
		lock(f)
	}
	return f, err
}

// clearLeft removes the part files of path that killed runs have left.
func clearLeft(path string) {
	list, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return
	}
	begin, end := partOf(path)
	for _, e := range list {
		name, ok := strings.CutPrefix(e.Name(), begin)
		name, also := strings.CutSuffix(name, end)
		if !ok || !also || len(name) != 12 || !e.Type().IsRegular() {
			continue
		}
		Release(filepath.Join(filepath.Dir(path), e.Name()))
	}
}

// commit makes the file durable and gives it its name.
func (f *file) commit() error {
	if f.tmp == nil {
		return nil
	}
	if f.give != nil {
		f.give()
	}
	tmp := f.tmp
	f.tmp = nil
	var err error
	if f.direct {
		err = tmp.Close()
	} else {
		err = f.finish(tmp)
	}
	var r *Refused
	if err == nil || errors.As(err, &r) {
		return err
	}
	return fmt.Errorf("cannot write %s: %w", f.name, cause(err))
}

// finish makes the part file durable and gives it its name. Windows renames no file
// that is open; elsewhere it stays locked until it has its name.
func (f *file) finish(tmp *os.File) error {
	defer os.Remove(tmp.Name())
	defer tmp.Close()
	err := tmp.Sync()
	if err == nil && runtime.GOOS == "windows" {
		err = tmp.Close()
	}
	if err != nil {
		return err
	}
	return f.giveName(tmp.Name())
}

// giveName gives the whole part file the name that was asked for. A file that came
// there meanwhile is not written over.
func (f *file) giveName(part string) error {
	if f.replace {
		return os.Rename(part, f.path)
	}
	err := os.Link(part, f.path)
	if errors.Is(err, fs.ErrExist) {
		return &Refused{Path: f.name, Why: "is there already", Do: "name another file, or --replace"}
	}
	if err == nil {
		return nil
	}
	if _, serr := os.Lstat(f.path); serr == nil { // a disk without second names
		return &Refused{Path: f.name, Why: "is there already", Do: "name another file, or --replace"}
	}
	return os.Rename(part, f.path)
}

// abandon removes what was written; after commit it does nothing.
func (f *file) abandon() {
	if f.tmp == nil {
		return
	}
	if f.give != nil {
		f.give()
	}
	f.tmp.Close()
	if !f.direct {
		os.Remove(f.tmp.Name())
	}
	f.tmp = nil
}
