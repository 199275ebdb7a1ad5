package store

import (
	"crypto/rand"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// Create makes a new book and opens it. It never opens one that is there and
// never writes over a file: the book is built under another name, committed,
// and then given its own. Errors: ErrExists, ErrJournalLeft, ErrNoDirectory,
// ErrNotAllowed, ErrNoSpace.
func Create(path string, o Options) (*Book, error) {
	if err := mayCreate(path); err != nil {
		return nil, err
	}
	var id [32]byte
	if _, err := rand.Read(id[:]); err != nil {
		return nil, fmt.Errorf("choose an identity for the book: %w", err)
	}
	if err := build(path, func(tx *bolt.Tx) error { return writeMeta(tx, id) }, nil); err != nil {
		return nil, err
	}
	return Open(path, o)
}

// mayCreate says why no book may be made at path.
func mayCreate(path string) error {
	if _, err := os.Lstat(path); err == nil {
		return &Error{Path: path, What: ErrExists, Do: "Open it, or choose another name"}
	} else if !errors.Is(err, os.ErrNotExist) {
		return openError(path, err)
	}
	if _, err := os.Stat(filepath.Dir(path)); errors.Is(err, os.ErrNotExist) {
		return &Error{Path: path, What: ErrNoDirectory, Detail: filepath.Dir(path), Do: "Make it first, or put the card in that holds it"}
	}
	if info, err := os.Stat(JournalPath(path)); err == nil && info.Size() > 0 {
		return &Error{Path: path, What: ErrJournalLeft, Detail: JournalPath(path), Do: restoreAdvice(path) + ", or choose another name"}
	}
	return nil
}

// build makes a bbolt file beside path, lets begin write its first transaction
// and fill do more work on it, syncs it and renames it to path. Nothing is
// left behind when it fails.
func build(path string, begin func(*bolt.Tx) error, fill func(*bolt.DB) error) (err error) {
	dir := filepath.Dir(path)
	f, err := os.CreateTemp(dir, "."+filepath.Base(path)+".new-*")
	if err != nil {
		return openError(path, err)
	}
	tmp := f.Name()
	defer func() {
		if err != nil {
			_ = os.Remove(tmp)
		}
	}()
	if err := f.Close(); err != nil {
		return openError(path, err)
	}
	err = guarded(func() error { return buildFile(tmp, begin, fill) })
	if err != nil {
		return openError(path, err)
	}
	if err := os.Chmod(tmp, 0o600); err != nil {
		return openError(path, err)
	}
	if err := giveName(tmp, path); err != nil {
		return err
	}
	return syncDir(dir)
}

// buildFile writes the file tmp and syncs it.
func buildFile(tmp string, begin func(*bolt.Tx) error, fill func(*bolt.DB) error) error {
	opt := *bolt.DefaultOptions
	opt.Timeout, opt.NoSync = defaultLockWait, true // one sync at the end makes all of it durable
	db, err := bolt.Open(tmp, 0o600, &opt)
	if err != nil {
		return err
	}
	db.AllocSize = growStep
	err = db.Update(begin)
	if err == nil && fill != nil {
		err = fill(db)
	}
	if err == nil {
		err = db.Sync()
	}
	if cerr := db.Close(); err == nil {
		err = cerr
	}
	return err
}

// giveName moves tmp to path without ever writing over a file.
func giveName(tmp, path string) error {
	err := os.Link(tmp, path)
	if err == nil {
		return os.Remove(tmp)
	}
	if errors.Is(err, os.ErrExist) {
		return &Error{Path: path, What: ErrExists, Do: "Open it, or choose another name"}
	}
	if err := os.Rename(tmp, path); err != nil { // a card without links
		return openError(path, err)
	}
	return nil
}
