package store

import (
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// migrations[n] makes a file of format n into one of format n+1, in one
// transaction on a copy of the file.
var migrations = map[int]func(tx *bolt.Tx, m meta) error{
	formatRecords: indexRecords,
}

// migrate brings the closed book at path to the current format: the file is
// copied, the copy is changed step by step and takes the name of the old file,
// which stays beside it as PATH.formatNNN.
func migrate(path string, m meta, opening *Opening) error {
	kept, err := freePath(fmt.Sprintf("%s.format%03d-", path, m.format), "")
	if err != nil {
		return err
	}
	tmp := path + ".migrating"
	_ = os.Remove(tmp)
	if err := copyFile(path, tmp); err != nil {
		return openError(path, err)
	}
	err = guarded(func() error { return migrateFile(tmp, m) })
	if err == nil {
		err = os.Link(path, kept)
		if err != nil && !os.IsExist(err) { // a card without links
			err = copyFile(path, kept)
		}
	}
	if err == nil {
		err = os.Rename(tmp, path)
	}
	if err != nil {
		_ = os.Remove(tmp)
		return &Error{Path: path, What: ErrWrite, Detail: fmt.Sprintf("bringing it from format %03d to %03d; the book is unchanged", m.format, formatCurrent), Cause: err}
	}
	opening.MigratedFrom, opening.MigratedKept = m.format, kept
	opening.Notes = append(opening.Notes, fmt.Sprintf("The book had format %03d and has format %03d now; the file as it was is kept as %s.", m.format, formatCurrent, kept))
	return syncDir(filepath.Dir(path))
}

// migrateFile runs the steps on the file tmp.
func migrateFile(tmp string, m meta) error {
	opt := *bolt.DefaultOptions
	opt.Timeout = defaultLockWait
	db, err := bolt.Open(tmp, 0o600, &opt)
	if err != nil {
		return err
	}
	db.AllocSize = growStep
	for n := m.format; n < formatCurrent && err == nil; n++ {
		step := migrations[n]
		if step == nil {
			err = fmt.Errorf("no way from format %03d is known", n)
			break
		}
		err = db.Update(func(tx *bolt.Tx) error {
			if err := step(tx, m); err != nil {
				return err
			}
			return tx.Bucket(bucketMeta).Put(keyFormat, formatText(n+1))
		})
	}
	if cerr := db.Close(); err == nil {
		err = cerr
	}
	return err
}

// indexRecords makes the index of a chain anew from its events; format 1 to 2.
func indexRecords(tx *bolt.Tx, m meta) error {
	if err := makeChain(tx, m.id); err != nil {
		return err
	}
	c, err := (&Source{id: m.id}).in(tx)
	if err != nil {
		return err
	}
	return c.records.ForEach(func(k, v []byte) error {
		r, err := decodeRecord(v)
		if err != nil {
			return fmt.Errorf("event %d: %w", seqOf(k), err)
		}
		return c.index(&r, nil)
	})
}
