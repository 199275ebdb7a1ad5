package chain

import (
	"errors"
	"iter"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// MayCreate says why no book may be made at path.
func MayCreate(path string) error {
	if err := fault.Nameable(path); err != nil {
		return err
	}
	if _, err := os.Lstat(path); err == nil {
		return &fault.Error{Path: path, What: fault.ErrExists, Do: "Open it, or choose another name"}
	} else if !errors.Is(err, os.ErrNotExist) {
		return fault.OpenError(path, err)
	}
	if _, err := os.Stat(filepath.Dir(path)); errors.Is(err, os.ErrNotExist) {
		return &fault.Error{Path: path, What: fault.ErrNoDirectory, Detail: filepath.Dir(path), Do: "Make it first, or put the card in that holds it"}
	}
	if info, err := os.Stat(disk.JournalPath(path)); err == nil && info.Size() > 0 {
		return &fault.Error{Path: path, What: fault.ErrJournalLeft, Detail: disk.JournalPath(path), Do: fault.RestoreAdvice(path) + ", or choose another name"}
	}
	return nil
}

// Build makes a bbolt file beside path, lets begin write its first transaction
// and fill do more work on it, syncs it and renames it to path. Nothing is
// left behind when it fails.
func Build(path string, begin func(*bolt.Tx) error, fill func(*bolt.DB) error) (err error) {
	dir := filepath.Dir(path)
	disk.Sweep(path)
	f, err := os.CreateTemp(dir, "."+filepath.Base(path)+".new-*")
	if err != nil {
		return fault.OpenError(path, err)
	}
	tmp := f.Name()
	defer func() {
		if err != nil {
			_ = os.Remove(tmp)
		}
	}()
	if err := f.Close(); err != nil {
		return fault.OpenError(path, err)
	}
	err = fault.Guarded(func() error { return buildFile(tmp, begin, fill) })
	if err != nil {
		return fault.OpenError(path, err)
	}
	if err := os.Chmod(tmp, 0o600); err != nil {
		return fault.OpenError(path, err)
	}
	if err := GiveName(tmp, path); err != nil {
		return err
	}
	return disk.SyncDir(dir)
}

// buildFile writes the file tmp and syncs it.
func buildFile(tmp string, begin func(*bolt.Tx) error, fill func(*bolt.DB) error) error {
	opt := *bolt.DefaultOptions
	opt.Timeout, opt.NoSync = LockWait, true // one sync at the end makes all of it durable
	db, err := bolt.Open(tmp, 0o600, &opt)
	if err != nil {
		return err
	}
	db.AllocSize = GrowStep
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

// GiveName moves tmp to path without ever writing over a file.
func GiveName(tmp, path string) error {
	err := os.Link(tmp, path)
	if err == nil {
		return os.Remove(tmp)
	}
	if errors.Is(err, os.ErrExist) {
		return &fault.Error{Path: path, What: fault.ErrExists, Do: "Open it, or choose another name"}
	}
	if err := os.Rename(tmp, path); err != nil { // a card without links
		return fault.OpenError(path, err)
	}
	return nil
}

// FillBatch is how many events go into one transaction when a file is filled.
const FillBatch = 4096

// FillChain writes records behind each other into the chain id of db. A fault
// of the source ends it without an error: what stands before it is kept.
func FillChain(db *bolt.DB, id [32]byte, records iter.Seq2[journal.Record, error]) (last uint64, err error) {
	next, stop := iter.Pull2(records)
	defer stop()
	s := &Source{id: id}
	for more := true; more && err == nil; {
		err = db.Update(func(tx *bolt.Tx) error {
			c, err := s.In(tx)
			if err != nil {
				return err
			}
			for range FillBatch {
				r, rerr, ok := next()
				if more = ok && rerr == nil; !more {
					return nil
				}
				if err := c.Put(&r, journal.Encode(&r), nil); err != nil {
					return err
				}
				last = r.Seq
			}
			return nil
		})
	}
	return last, err
}
