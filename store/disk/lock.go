package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// errHeld says that another program holds a lock.
var errHeld = errors.New("another program holds it")

// Lock takes the lock that the file path stands for, waiting for another holder
// as long as wait, and returns what gives it back. The file is made and taken
// away again; one that a killed program left is no lock and is taken over.
func Lock(path string, wait time.Duration) (release func(), err error) {
	for until := time.Now().Add(wait); ; time.Sleep(5 * time.Millisecond) {
		f, err := lockFile(path)
		if err == nil {
			here, herr := os.Stat(path)
			own, oerr := f.Stat()
			if herr == nil && oerr == nil && os.SameFile(here, own) {
				return func() { dropLock(path, f) }, nil
			}
			_ = f.Close() // the holder before took the file away in between
			continue
		}
		if !errors.Is(err, errHeld) || time.Now().After(until) {
			return nil, fmt.Errorf("lock %s: %w", path, err)
		}
	}
}

// Held says whether err is the lock of another program.
func Held(err error) bool { return errors.Is(err, errHeld) }

// staleAfter is how old an unfinished file must be before it counts as left by a
// killed run: whoever makes one has it open and locked all the time, but for a
// moment at either end.
const staleAfter = time.Minute

// Sweep removes what killed runs left beside the book: unfinished files of its
// making, restoring, gathering, migrating, of its reserve and of its dated copies
// that nobody has locked and that are no longer new.
func Sweep(book string) {
	dir, base := filepath.Dir(book), filepath.Base(book)
	list, err := os.ReadDir(dir)
	if err != nil {
		return // whoever works there finds the right words
	}
	ext := filepath.Ext(base)
	left := regexp.MustCompile(`^\.?` + regexp.QuoteMeta(base) + `\.((restoring|gathering|new)-\d+|migrating|reserve\.new)(\.new-\d+)?$|^` +
		regexp.QuoteMeta(strings.TrimSuffix(base, ext)) + `\.\d{4}-\d\d-\d\d` + regexp.QuoteMeta(ext) + `\.new-\d+$`)
	for _, e := range list {
		if e.Type().IsRegular() && left.MatchString(e.Name()) {
			sweepFile(filepath.Join(dir, e.Name()))
		}
	}
}

func sweepFile(path string) {
	info, err := os.Stat(path)
	if err != nil || time.Since(info.ModTime()) < staleAfter {
		return
	}
	if f, err := lockFile(path); err == nil {
		dropLock(path, f)
	}
}
