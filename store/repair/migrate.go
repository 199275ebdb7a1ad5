package repair

import (
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/pages"
)

// migrations[n] makes a file of format n into one of format n+1, in one
// transaction on a copy of the file.
var migrations = map[int]func(tx *bolt.Tx, m chain.Meta) error{
	chain.FormatRecords: chain.IndexRecords,
}

// Migrate brings the closed book at path to the current format: the file is
// copied, the copy is changed step by step and takes the name of the old file,
// which stays beside it as PATH.formatNNN-1; kept is its name.
func Migrate(path string, m chain.Meta) (kept string, err error) {
	kept, err = disk.FreePath(fmt.Sprintf("%s.format%03d-", path, m.Format), "")
	if err != nil {
		return "", err
	}
	tmp := path + ".migrating"
	_ = os.Remove(tmp)
	head, err := pages.Look(path, false)
	if err == nil {
		err = disk.CopyFile(path, tmp, head.Size())
	}
	if err != nil {
		return "", fault.OpenError(path, err)
	}
	err = fault.Guarded(func() error { return migrateFile(tmp, m) })
	if err == nil {
		err = os.Link(path, kept)
		if err != nil && !os.IsExist(err) { // a card without links
			err = disk.CopyFile(path, kept, head.Size())
		}
	}
	if err == nil {
		err = os.Rename(tmp, path)
	}
	if err != nil {
		_ = os.Remove(tmp)
		return "", &fault.Error{Path: path, What: fault.ErrWrite, Detail: fmt.Sprintf("bringing it from format %03d to %03d; the book is unchanged", m.Format, chain.FormatCurrent), Cause: err}
	}
	return kept, disk.SyncDir(filepath.Dir(path))
}

// migrateFile runs the steps on the file tmp.
func migrateFile(tmp string, m chain.Meta) error {
	opt := *bolt.DefaultOptions
	opt.Timeout = chain.LockWait
	db, err := bolt.Open(tmp, 0o600, &opt)
	if err != nil {
		return err
	}
	db.AllocSize = chain.GrowStep
	for n := m.Format; n < chain.FormatCurrent && err == nil; n++ {
		step := migrations[n]
		if step == nil {
			err = fmt.Errorf("no way from format %03d is known", n)
			break
		}
		err = db.Update(func(tx *bolt.Tx) error {
			if err := step(tx, m); err != nil {
				return err
			}
			return tx.Bucket(chain.BucketMeta).Put(chain.KeyFormat, chain.FormatText(n+1))
		})
	}
	if cerr := db.Close(); err == nil {
		err = cerr
	}
	return err
}
