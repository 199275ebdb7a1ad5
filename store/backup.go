package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	bolt "go.etcd.io/bbolt"
)

// DailyCopy leaves a copy of the book in dir (beside the book when dir is
// empty) under a name with today's date, and returns the name. The copy is
// checked in full before it replaces an earlier one of the same day. Booking
// may go on meanwhile.
func (b *Book) DailyCopy(dir string) (string, error) {
	if dir == "" {
		dir = filepath.Dir(b.path)
	}
	ext := filepath.Ext(b.path)
	path := filepath.Join(dir, strings.TrimSuffix(b.base(), ext)+"."+b.opt.Clock().Format("2006-01-02")+ext)
	if _, err := os.Stat(dir); err != nil {
		return "", openError(dir, err)
	}
	tmp, err := freePath(path+".new-", "")
	if err != nil {
		return "", err
	}
	defer os.Remove(tmp)
	if err := b.copyTo(tmp); err != nil {
		return "", openCopyError(path, err)
	}
	r := Verify(tmp)
	if err := r.fileErr(); err != nil {
		return "", &Error{Path: path, What: ErrDamaged, Detail: "the copy was not kept", Cause: err, Do: "Look at the book with: readback audit " + quoted(b.path)}
	}
	if old := Verify(path); old.Unread == nil && (old.Office != b.Office() || len(old.Chains) > 0 && old.Chains[0].ID != r.Chains[0].ID) {
		return "", &Error{Path: path, What: ErrExists, Detail: "it is the copy of another book", Do: "Name another directory"}
	}
	if err := os.Rename(tmp, path); err != nil {
		return "", openCopyError(path, err)
	}
	return path, syncDir(dir)
}

// fileErr gives what is wrong with the file itself, leaving its journal aside.
func (r *Report) fileErr() error {
	err := r.Unread
	for i := range r.Chains {
		err = errors.Join(err, r.Chains[i].Fault)
	}
	return err
}

// openCopyError words that the copy could not be written.
func openCopyError(path string, err error) error {
	what := ErrWrite
	if isNoSpace(err) {
		what = ErrNoSpace
	}
	return &Error{Path: path, What: what, Detail: "the dated copy was not made, the book itself is not touched", Cause: err}
}

// copyTo writes a consistent picture of the file to a new one and syncs it.
func (b *Book) copyTo(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	err = b.h.view(func(tx *bolt.Tx) error {
		n, err := tx.WriteTo(onlyWriter{f})
		if err == nil && n != tx.Size() {
			err = fmt.Errorf("%d of %d bytes were copied", n, tx.Size())
		}
		return err
	})
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	return err
}

// onlyWriter hides everything of a file but Write: the copy reads through
// plain reads.
type onlyWriter struct{ io.Writer }
