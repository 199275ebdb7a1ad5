package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.org/readback/cmd/internal/filekind"
	"example.org/readback/store/disk"
)

// Refused says that an output may not go where it was to go. Nothing was touched.
type Refused struct {
	Path, Why, Do string
}

func (r *Refused) Error() string {
	return fmt.Sprintf("%s %s: nothing was written; %s", r.Path, r.Why, r.Do)
}

// A standing is what an output finds at its name.
type standing struct {
	path   string      // the file itself: a link is followed
	direct bool        // a pipe or a device
	mode   fs.FileMode // of the file that is replaced; 0: there is none
}

// elsewhere is what to do about most refusals.
const elsewhere = "name another file"

// look decides whether an output may go to name. A book, a journal, a reserve, a file
// that the command reads and a folder are never written over; another file only
// with replace.
func look(name string, replace bool, inputs []string) (standing, error) {
	s := standing{path: name}
	path, err := target(name)
	if err != nil {
		return s, fmt.Errorf("cannot write %s: %w", name, err)
	}
	s.path = path
	if disk.IsDevice(path) {
		return s, &Refused{name, "is the name of a device on Windows, where no file can have it", elsewhere}
	}
	if path != name {
		name += ", a link to " + path + ","
	}
	beside := besideBook(path)
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && beside == "":
		return s, nil
	case errors.Is(err, fs.ErrNotExist):
		return s, &Refused{name, beside, elsewhere}
	}
	if err != nil {
		return s, fmt.Errorf("cannot write %s: %w", name, cause(err))
	}
	for _, in := range inputs {
		if other, err := os.Stat(in); err == nil && os.SameFile(info, other) {
			return s, &Refused{name, "is what is read", elsewhere}
		}
	}
	switch {
	case info.IsDir():
		return s, &Refused{name, "is a folder", "name a file in it"}
	case beside != "" && !info.Mode().IsRegular():
		return s, &Refused{name, beside, elsewhere}
	case !info.Mode().IsRegular():
		s.direct = true
		return s, nil
	}
	kind, err := filekind.Of(path)
	switch {
	case err != nil:
		return s, &Refused{name, "cannot be looked at", elsewhere}
	case kind == filekind.Book || kind == filekind.Journal || kind == filekind.Reserve:
		return s, &Refused{name, kind.String(), elsewhere}
	case beside != "":
		return s, &Refused{name, beside, elsewhere}
	case !replace:
		return s, &Refused{name, "is there already", "name another file, or --replace"}
	}
	s.mode = info.Mode().Perm()
	return s, nil
}

// target follows a link, also one to a file that is not there yet.
func target(name string) (string, error) {
	const mostLinks = 40
	path := name
	for range mostLinks {
		to, err := os.Readlink(path)
		if err != nil {
			return path, nil // no link, or not there
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return "", errors.New("too many links")
}

// besideBook says why a name belongs to a book although no book stands there: it is
// the place of one whose journal is left, or a name that a book keeps beside it.
func besideBook(path string) string {
	if kind, err := filekind.Of(path + ".jsonl"); err == nil && kind == filekind.Journal {
		return "has its journal beside it: it is the place of a book"
	}
	for _, end := range []string{".jsonl", ".reserve", ".holder"} {
		book, ok := strings.CutSuffix(path, end)
		if !ok {
			continue
		}
		if kind, err := filekind.Of(book); err == nil && kind == filekind.Book {
			return "is the name of a file that " + filepath.Base(book) + " keeps beside it"
		}
	}
	return ""
}
