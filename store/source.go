package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"iter"
	"sync/atomic"

	bolt "go.etcd.io/bbolt"
)

// A Source is one chain of events in a file. A field book holds one, its own;
// an office book holds one for each book gathered into it.
type Source struct {
	id   [32]byte
	name string
	h    *handle
	deep atomic.Bool // the ways to all of its events were proven
}

// ID is the identity of the chain: the random link that its first event has.
// It stays the same through copies, restoring and gathering.
func (s *Source) ID() [32]byte { return s.id }

// Name is what the source is called: the file name of the book it came from.
func (s *Source) Name() string { return s.name }

// Names of the buckets. Those of a source carry its identity behind the colon.
var (
	bucketMeta    = []byte("meta")
	bucketSources = []byte("sources")
)

func bucketOf(what string, id [32]byte) []byte { return append([]byte(what+":"), id[:]...) }

// chain is a source seen through one transaction.
type chain struct {
	records, groups, heads *bolt.Bucket
}

// in finds the source's buckets. Records must be there; the derived ones may
// be missing in a file of an older format.
func (s *Source) in(tx *bolt.Tx) (chain, error) {
	c := chain{
		records: tx.Bucket(bucketOf("records", s.id)),
		groups:  tx.Bucket(bucketOf("groups", s.id)),
		heads:   tx.Bucket(bucketOf("heads", s.id)),
	}
	if c.records == nil {
		if s.id == ([32]byte{}) {
			return c, &Error{Path: s.h.path, What: ErrOffice, Do: "Ask each of its sources"}
		}
		return c, fmt.Errorf("the events of book %x are not in the file", s.id[:4])
	}
	return c, nil
}

// view runs fn on the source.
func (s *Source) view(fn func(chain) error) error {
	return s.h.view(func(tx *bolt.Tx) error {
		c, err := s.in(tx)
		if err != nil {
			return err
		}
		return fn(c)
	})
}

// viewAll is view for reading anywhere in the source. In a large book, of which
// only the end was looked at on opening, the branches of the tree are proven
// before the first such reading: bbolt would follow a damaged one for ever.
func (s *Source) viewAll(fn func(chain) error) error {
	return s.h.view(func(tx *bolt.Tx) error {
		c, err := s.in(tx)
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
func (s *Source) checkBranches(tx *bolt.Tx, c chain) error {
	file, err := s.h.open()
	if err != nil {
		return err
	}
	size := uint32(tx.DB().Info().PageSize)
	t := newTree(file, fileHead{pageSize: size, highWater: uint64(tx.Size()) / uint64(size)})
	for _, b := range []*bolt.Bucket{c.records, c.groups, c.heads} {
		if b == nil || b.Root() == 0 || t.head.highWater <= fullCheckPages {
			continue // missing, whole in the page above, or proven on opening
		}
		if err := t.checkBranches(uint64(b.Root())); err != nil {
			return &Error{Path: s.h.path, What: ErrDamaged, Cause: err, Do: restoreAdvice(s.h.path)}
		}
	}
	s.deep.Store(true)
	return nil
}

// damaged words what is wrong with event seq.
func (s *Source) damaged(seq uint64, err error) error {
	return &Error{Path: s.h.path, What: ErrDamaged, Detail: fmt.Sprintf("event %d", seq), Cause: err, Do: restoreAdvice(s.h.path)}
}

// get reads event seq and proves its hash.
func (s *Source) get(c chain, seq uint64) (Record, error) {
	v := c.records.Get(seqKey(seq))
	if v == nil {
		return Record{}, s.damaged(seq, errors.New("it is missing"))
	}
	return s.decode(seq, v)
}

func (s *Source) decode(seq uint64, v []byte) (Record, error) {
	r, err := decodeRecord(v)
	if err != nil {
		return Record{}, s.damaged(seq, err)
	}
	if r.Seq != seq {
		return Record{}, s.damaged(seq, fmt.Errorf("event %d stands in its place", r.Seq))
	}
	return r, nil
}

// Record reads event seq. A missing one is ErrDamaged.
func (s *Source) Record(seq uint64) (Record, error) {
	var r Record
	err := s.viewAll(func(c chain) error {
		var err error
		r, err = s.get(c, seq)
		return err
	})
	return r, err
}

// Last reads the newest event; ok is false when there is none.
func (s *Source) Last() (r Record, ok bool, err error) {
	err = s.view(func(c chain) error {
		k, v := c.records.Cursor().Last()
		if k == nil {
			return nil
		}
		ok = true
		r, err = s.decode(seqOf(k), v)
		return err
	})
	return r, ok, err
}

// batch is how many events one read transaction hands out. No transaction is
// held while the caller looks at them: one that is would keep the file from
// growing.
const batch = 256

// Records walks all events in order, each proven by its hash and linked to the
// one before. Memory stays flat. The walk ends with the first error.
func (s *Source) Records() iter.Seq2[Record, error] { return s.RecordsFrom(1) }

// RecordsFrom walks the events from number from on.
func (s *Source) RecordsFrom(from uint64) iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		from = max(from, 1)
		prev, err := s.hashAt(from - 1)
		if err != nil {
			yield(Record{}, err)
			return
		}
		list := make([]Record, 0, batch)
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
				yield(Record{}, bad)
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
func (s *Source) readBatch(list []Record, next uint64, prev [32]byte) ([]Record, error) {
	err := s.viewAll(func(c chain) error {
		cur := c.records.Cursor()
		for k, v := cur.Seek(seqKey(next)); k != nil && len(list) < batch; k, v = cur.Next() {
			r, err := s.decode(seqOf(k), v)
			if err == nil {
				if lerr := r.follows(next-1, prev); lerr != nil {
					err = s.damaged(next, fmt.Errorf("%w: %w", ErrChain, lerr))
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

func seqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

// seqOf reads a record's key; a key of another length gives 0, which no event has.
func seqOf(k []byte) uint64 {
	if len(k) != 8 {
		return 0
	}
	return binary.BigEndian.Uint64(k)
}
