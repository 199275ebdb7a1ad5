package store

import (
	"bytes"
	"fmt"
	"strconv"

	bolt "go.etcd.io/bbolt"
)

// The format of the book file. A number is used once and never again; every
// released one keeps a small book in testdata/books. See migrate.go.
const (
	formatRecords = 1 // records only
	formatIndexed = 2 // with the index by group, see index.go
	formatCurrent = formatIndexed
)

// Keys of the bucket "meta".
var (
	keyFormat = []byte("format") // three digits
	keyID     = []byte("id")     // identity of the book's own chain; missing in an office book
)

// meta is what a file says about itself.
type meta struct {
	format int
	id     [32]byte
	office bool
}

// readMetaBucket reads the bucket "meta".
func (h *handle) readMetaBucket() (meta, error) {
	var m meta
	err := h.view(func(tx *bolt.Tx) error {
		b := tx.Bucket(bucketMeta)
		if b == nil {
			return &Error{Path: h.path, What: ErrNotABook, Detail: "the file is of the right kind but holds no book"}
		}
		format := b.Get(keyFormat)
		n, err := strconv.Atoi(string(format))
		if err != nil || n < 1 {
			return &Error{Path: h.path, What: ErrDamaged, Detail: fmt.Sprintf("its format number reads %q", format), Do: restoreAdvice(h.path)}
		}
		m.format = n
		id := b.Get(keyID)
		m.office = id == nil
		if !m.office && copy(m.id[:], id) != len(m.id) {
			return &Error{Path: h.path, What: ErrDamaged, Detail: "its identity is incomplete", Do: restoreAdvice(h.path)}
		}
		return nil
	})
	if err == nil && m.format > formatCurrent {
		err = &Error{Path: h.path, What: ErrNewer, Detail: fmt.Sprintf("its format is %03d, this program knows up to %03d", m.format, formatCurrent),
			Do: "Open it with a newer readback; nothing in it was changed"}
	}
	return m, err
}

// writeMeta makes the buckets of a new field book with identity id; a zero id
// makes an office book, which begins without sources.
func writeMeta(tx *bolt.Tx, id [32]byte) error {
	b, err := tx.CreateBucketIfNotExists(bucketMeta)
	if err != nil {
		return err
	}
	if err := b.Put(keyFormat, formatText(formatCurrent)); err != nil {
		return err
	}
	if id == ([32]byte{}) {
		_, err := tx.CreateBucketIfNotExists(bucketSources)
		return err
	}
	if err := b.Put(keyID, id[:]); err != nil {
		return err
	}
	return makeChain(tx, id)
}

// makeChain makes the buckets of one source.
func makeChain(tx *bolt.Tx, id [32]byte) error {
	for _, what := range []string{"records", "groups", "heads"} {
		if _, err := tx.CreateBucketIfNotExists(bucketOf(what, id)); err != nil {
			return err
		}
	}
	return nil
}

func formatText(n int) []byte { return fmt.Appendf(nil, "%03d", n) }

// sources lists the chains in the file: the book's own, or those gathered.
func (h *handle) sources(m meta, name string) ([]*Source, error) {
	if !m.office {
		return []*Source{{id: m.id, name: name, h: h}}, nil
	}
	var list []*Source
	err := h.view(func(tx *bolt.Tx) error {
		b := tx.Bucket(bucketSources)
		if b == nil {
			return &Error{Path: h.path, What: ErrDamaged, Detail: "its list of sources is missing"}
		}
		return b.ForEach(func(k, v []byte) error {
			s := &Source{name: string(bytes.Clone(v)), h: h}
			if copy(s.id[:], k) != len(s.id) {
				return &Error{Path: h.path, What: ErrDamaged, Detail: "its list of sources is unreadable"}
			}
			list = append(list, s)
			return nil
		})
	})
	return list, err
}
