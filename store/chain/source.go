package chain

import (
	"encoding/binary"
	"errors"
	"fmt"
	"iter"
	"sync/atomic"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/pages"
)

// A Source is one chain of events in a file. A field book holds one, its own;
// an office book holds one for each book gathered into it.
type Source struct {
	id   [32]byte
	name string
	h    *File
	deep atomic.Bool // the ways to all of its events were proven
}

// ID is the identity of the chain: the random link that its first event has.
// It stays the same through copies, restoring and gathering.
func (s *Source) ID() [32]byte { return s.id }

// NewSource is the chain of identity id in the file h, called name.
func NewSource(id [32]byte, name string, h *File) *Source { return &Source{id: id, name: name, h: h} }

// SourceAt is a chain in a file that is being filled and will be called path.
func SourceAt(id [32]byte, name, path string) *Source { return NewSource(id, name, &File{path: path}) }

// Path is the file that the source lies in.
func (s *Source) Path() string { return s.h.path }

// Name is what the source is called: the file name of the book it came from.
func (s *Source) Name() string { return s.name }

// Names of the buckets. Those of a source carry its identity behind the colon.
var (
	BucketMeta    = []byte("meta")
	BucketSources = []byte("sources")
)

func BucketOf(what string, id [32]byte) []byte { return append([]byte(what+":"), id[:]...) }

// Buckets are a source seen through one transaction.
type Buckets struct {
	Records, groups, heads *bolt.Bucket
}

// In finds the source's buckets. Records must be there; the derived ones may
// be missing in a file of an older format.
func (s *Source) In(tx *bolt.Tx) (Buckets, error) {
	c := Buckets{
		Records: tx.Bucket(BucketOf("records", s.id)),
		groups:  tx.Bucket(BucketOf("groups", s.id)),
		heads:   tx.Bucket(BucketOf("heads", s.id)),
	}
	if c.Records == nil {
		if s.id == ([32]byte{}) {
			return c, &fault.Error{Path: s.h.path, What: fault.ErrOffice, Do: "Ask each of its sources"}
		}
		return c, fmt.Errorf("the events of book %x are not in the file", s.id[:4])
	}
	return c, nil
}

// View runs fn on the source.
func (s *Source) View(fn func(Buckets) error) error {
	return s.h.view(func(tx *bolt.Tx) error {
		c, err := s.In(tx)
		if err != nil {
			return err
		}
		return fn(c)
	})
}

// viewAll is view for reading anywhere in the source. In a large book, of which
// only the end was looked at on opening, the branches of the tree are proven
// before the first such reading: bbolt would follow a damaged one for ever.
func (s *Source) viewAll(fn func(Buckets) error) error {
	return s.h.view(func(tx *bolt.Tx) error {
		c, err := s.In(tx)
		if err == nil && !s.deep.Load() {
			err = s.checkBranches(tx, c)
		}
		if err != nil {
			return err
		}
		return fn(c)
	})
}

// checkBranches proves the branches of the source's buckets as tx sees them.
func (s *Source) checkBranches(tx *bolt.Tx, c Buckets) error {
	file, err := s.h.open()
	if err != nil {
		return err
	}
	size := uint32(tx.DB().Info().PageSize)
	t := pages.NewTree(file, pages.Head{PageSize: size, HighWater: uint64(tx.Size()) / uint64(size)})
	for _, b := range []*bolt.Bucket{c.Records, c.groups, c.heads} {
		if b == nil || b.Root() == 0 || t.Head.HighWater <= pages.FullCheckPages {
			continue // missing, whole in the page above, or proven on opening
		}
		if err := t.CheckBranches(uint64(b.Root())); err != nil {
			return &fault.Error{Path: s.h.path, What: fault.ErrDamaged, Cause: err, Do: fault.RestoreAdvice(s.h.path)}
		}
	}
	s.deep.Store(true)
	return nil
}

// damaged words what is wrong with event seq.
func (s *Source) damaged(seq uint64, err error) error {
	return &fault.Error{Path: s.h.path, What: fault.ErrDamaged, Detail: fmt.Sprintf("event %d", seq), Cause: err, Do: fault.RestoreAdvice(s.h.path)}
}

// Get reads event seq and proves its hash.
func (s *Source) Get(c Buckets, seq uint64) (journal.Record, error) {
	v := c.Records.Get(SeqKey(seq))
	if v == nil {
		return journal.Record{}, s.damaged(seq, errors.New("it is missing"))
	}
	return s.decode(seq, v)
}

func (s *Source) decode(seq uint64, v []byte) (journal.Record, error) {
	s.h.read.Add(int64(len(v)))
	r, err := journal.Decode(v)
	if err != nil {
		return journal.Record{}, s.damaged(seq, err)
	}
	if r.Seq != seq {
		return journal.Record{}, s.damaged(seq, fmt.Errorf("event %d stands in its place", r.Seq))
	}
	return r, nil
}

// Record reads event seq. A missing one is ErrDamaged.
func (s *Source) Record(seq uint64) (journal.Record, error) {
	var r journal.Record
	err := s.viewAll(func(c Buckets) error {
		var err error
		r, err = s.Get(c, seq)
		return err
	})
	return r, err
}

// Sequence is how many events were written, as the page above them says.
func (s *Source) Sequence() (n uint64, err error) {
	err = s.View(func(c Buckets) error { n = c.Records.Sequence(); return nil })
	return n, err
}

// Last reads the newest event; ok is false when there is none.
func (s *Source) Last() (r journal.Record, ok bool, err error) {
	err = s.View(func(c Buckets) error {
		k, v := c.Records.Cursor().Last()
		if k == nil {
			return nil
		}
		ok = true
		r, err = s.decode(seqOf(k), v)
		return err
	})
	return r, ok, err
}

// Batch is how many events one read transaction hands out. No transaction is
// held while the caller looks at them: one that is would keep the file from
// growing.
const Batch = 256

// Records walks all events in order, each proven by its hash and linked to the
// one before. Memory stays flat. The walk ends with the first error.
func (s *Source) Records() iter.Seq2[journal.Record, error] { return s.RecordsFrom(1) }

// RecordsFrom walks the events from number from on.
func (s *Source) RecordsFrom(from uint64) iter.Seq2[journal.Record, error] {
	return func(yield func(journal.Record, error) bool) {
		from = max(from, 1)
		prev, err := s.hashAt(from - 1)
		if err != nil {
			yield(journal.Record{}, err)
			return
		}
		list := make([]journal.Record, 0, Batch)
		for next := from; ; {
			var bad error
			list, bad = s.readBatch(list[:0], next, prev)
			for _, r := range list {
				if !yield(r, nil) {
					return
				}
				next, prev = r.Seq+1, r.Hash
			}
			if bad != nil {
				yield(journal.Record{}, bad)
				return
			}
			if len(list) == 0 {
				return
			}
		}
	}
}

// hashAt gives the hash of event seq; of event 0 it is the identity.
func (s *Source) hashAt(seq uint64) ([32]byte, error) {
	if seq == 0 {
		return s.id, nil
	}
	r, err := s.Record(seq)
	return r.Hash, err
}

// readBatch reads up to batch events from number next on. What is sound before
// a fault is returned with the fault.
func (s *Source) readBatch(list []journal.Record, next uint64, prev [32]byte) ([]journal.Record, error) {
	err := s.viewAll(func(c Buckets) error {
		cur := c.Records.Cursor()
		for k, v := cur.Seek(SeqKey(next)); k != nil && len(list) < Batch; k, v = cur.Next() {
			r, err := s.decode(seqOf(k), v)
			if err == nil {
				if lerr := r.Follows(next-1, prev); lerr != nil {
					err = s.damaged(next, fmt.Errorf("%w: %w", fault.ErrChain, lerr))
				}
			}
			if err != nil {
				return err
			}
			list, next, prev = append(list, r), next+1, r.Hash
		}
		return nil
	})
	return list, err
}

func SeqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

// seqOf reads a record's key; a key of another length gives 0, which no event has.
func seqOf(k []byte) uint64 {
	if len(k) != 8 {
		return 0
	}
	return binary.BigEndian.Uint64(k)
}

// LastOf walks to the end and gives the last number, and why the walk ended.
func LastOf(records iter.Seq2[journal.Record, error]) (uint64, error) {
	var last uint64
	for r, err := range records {
		if err != nil {
			return last, err
		}
		last = r.Seq
	}
	return last, nil
}

// headLinks is how many of the last events are proven and linked on opening.
const headLinks = 8

// CheckHead reads the newest event and proves the last few links, and that the
// number kept in the parent page agrees: bbolt alone would show an older leaf
// without a word when a page was lost. For an empty book the record returned
// has number 0 and the identity as its hash.
func (s *Source) CheckHead() (journal.Record, error) {
	last := journal.Record{Hash: s.id}
	err := s.View(func(c Buckets) error {
		k, _ := c.Records.Cursor().Last()
		seq := seqOf(k)
		if n := c.Records.Sequence(); n != seq {
			return &fault.Error{Path: s.h.path, What: fault.ErrDamaged, Detail: fmt.Sprintf("%d events were written, %d are found", n, seq), Do: fault.RestoreAdvice(s.h.path)}
		}
		from := uint64(1)
		if seq > headLinks {
			from = seq - headLinks
			r, err := s.Get(c, from)
			if err != nil {
				return err
			}
			last, from = r, from+1
		}
		for n := from; n <= seq; n++ {
			r, err := s.Get(c, n)
			if err != nil {
				return err
			}
			if err := r.Follows(last.Seq, last.Hash); err != nil {
				return s.damaged(n, fmt.Errorf("%w: %w", fault.ErrChain, err))
			}
			last = r
		}
		return nil
	})
	return last, err
}
