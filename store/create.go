package store

import (
	"crypto/rand"
	"fmt"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/fault"
)

// Create makes a new book and opens it. It never opens one that is there and
// never writes over a file: the book is built under another name, committed,
// and then given its own. Errors: ErrExists, ErrJournalLeft, ErrNoDirectory,
// ErrNotAllowed, ErrNoSpace.
func Create(path string, o Options) (*Book, error) {
	if err := chain.MayCreate(path); err != nil {
		return nil, err
	}
	if o.Copy != "" && copyHere(o.Copy, path) {
		return nil, &fault.Error{Path: o.Copy, What: fault.ErrCopyHere, Do: "Name another one, on another disk or a card"}
	}
	var id [32]byte
	if _, err := rand.Read(id[:]); err != nil {
		return nil, fmt.Errorf("choose an identity for the book: %w", err)
	}
	if err := chain.Build(path, func(tx *bolt.Tx) error { return chain.WriteMeta(tx, id) }, nil); err != nil {
		return nil, err
	}
	return Open(path, o)
}
