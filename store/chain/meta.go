package chain

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/fault"
)

// The format of the book file. A number is used once and never again; every
// released one keeps a small book in testdata/books. See migrate.go.
const (
	FormatRecords = 1 // records only
	formatIndexed = 2 // with the index by group, see index.go
	FormatCurrent = formatIndexed
)

// Keys of the bucket "meta".
var (
	KeyFormat = []byte("format") // three digits
	keyID     = []byte("id")     // identity of the book's own chain; missing in an office book
)

// Meta is what a file says about itself.
type Meta struct {
	Format int
	Id     [32]byte
	Office bool
}

// Meta reads the bucket "meta".
func (h *File) Meta() (Meta, error) {
	var m Meta
	err := h.view(func(tx *bolt.Tx) error {
		b := tx.Bucket(BucketMeta)
		if b == nil {
			return &fault.Error{Path: h.path, What: fault.ErrNotABook, Detail: "the file is of the right kind but holds no book"}
		}
		format := b.Get(KeyFormat)
		n, err := strconv.Atoi(string(format))
		if err != nil || n < 1 {
			return &fault.Error{Path: h.path, What: fault.ErrDamaged, Detail: fmt.Sprintf("its format number reads %q", format), Do: fault.RestoreAdvice(h.path)}
		}
		m.Format = n
		id := b.Get(keyID)
		m.Office = id == nil
		if !m.Office && copy(m.Id[:], id) != len(m.Id) {
			return &fault.Error{Path: h.path, What: fault.ErrDamaged, Detail: "its identity is incomplete", Do: fault.RestoreAdvice(h.path)}
		}
		return nil
	})
	if err == nil && m.Format > FormatCurrent {
		err = &fault.Error{Path: h.path, What: fault.ErrNewer, Detail: fmt.Sprintf("its format is %03d, this program knows up to %03d", m.Format, FormatCurrent),
			Do: "Open it with a newer readback; nothing in it was changed"}
	}
	return m, err
}

// WriteMeta makes the buckets of a new field book with identity id; a zero id
// makes an office book, which begins without sources.
func WriteMeta(tx *bolt.Tx, id [32]byte) error {
	b, err := tx.CreateBucketIfNotExists(BucketMeta)
	if err != nil {
		return err
	}
	if err := b.Put(KeyFormat, FormatText(FormatCurrent)); err != nil {
		return err
	}
	if id == ([32]byte{}) {
		_, err := tx.CreateBucketIfNotExists(BucketSources)
		return err
	}
	if err := b.Put(keyID, id[:]); err != nil {
		return err
	}
	return MakeChain(tx, id)
}

// MakeChain makes the buckets of one source.
func MakeChain(tx *bolt.Tx, id [32]byte) error {
	for _, what := range []string{"records", "groups", "heads"} {
		if _, err := tx.CreateBucketIfNotExists(BucketOf(what, id)); err != nil {
			return err
		}
	}
	return nil
}

func FormatText(n int) []byte { return fmt.Appendf(nil, "%03d", n) }

// Sources lists the chains in the file: the book's own, or those gathered, by name.
func (h *File) Sources(m Meta, name string) ([]*Source, error) {
	if !m.Office {
		return []*Source{{id: m.Id, name: name, h: h}}, nil
	}
	var list []*Source
	err := h.view(func(tx *bolt.Tx) error {
		b := tx.Bucket(BucketSources)
		if b == nil {
			return &fault.Error{Path: h.path, What: fault.ErrDamaged, Detail: "its list of sources is missing"}
		}
		err := b.ForEach(func(k, v []byte) error {
			s := &Source{name: string(bytes.Clone(v)), h: h}
			if copy(s.id[:], k) != len(s.id) {
				return &fault.Error{Path: h.path, What: fault.ErrDamaged, Detail: "its list of sources is unreadable"}
			}
			list = append(list, s)
			return nil
		})
		if n := countChains(tx); err == nil && n != len(list) {
			err = &fault.Error{Path: h.path, What: fault.ErrDamaged, Detail: fmt.Sprintf("it names %d sources and holds events of %d", len(list), n)}
		}
		return err
	})
	slices.SortStableFunc(list, func(a, b *Source) int { return strings.Compare(a.name, b.name) })
	return list, err
}

// countChains counts the chains that have events in the file, named or not.
func countChains(tx *bolt.Tx) (n int) {
	prefix := []byte("records:")
	cur := tx.Cursor()
	for k, _ := cur.Seek(prefix); bytes.HasPrefix(k, prefix); k, _ = cur.Next() {
		n++
	}
	return n
}
