package chain

import (
	"bytes"
	"encoding/binary"
	"errors"
	"maps"
	"slices"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/journal"
)

// errIndex says that the index by group does not agree with itself.
var errIndex = errors.New("the index does not agree with itself")

// Group reads the events of group n in order, each proven by its hash. A group
// without events gives none and no error. Where the index is found wrong, the
// events are found by walking all of them.
func (s *Source) Group(n uint32) ([]journal.Record, error) {
	var list []journal.Record
	view := s.viewAll
	if last, err := s.LastGroup(); err == nil && n == last {
		view = s.View // the ways to the current setup are proven on opening
	}
	err := view(func(c Buckets) error {
		var err error
		list, err = s.indexedGroup(c, n)
		if errors.Is(err, errIndex) {
			list = list[:0]
			return s.scanGroup(c, n, &list)
		}
		return err
	})
	return list, err
}

// indexedGroup finds the events of a group by the index.
func (s *Source) indexedGroup(c Buckets, n uint32) ([]journal.Record, error) {
	if c.groups == nil || c.heads == nil { // a file of format 1, open for reading only
		return nil, errIndex
	}
	head, _ := c.head(n)
	list := make([]journal.Record, 0, min(head.count, Batch))
	cur := c.groups.Cursor()
	for k, _ := cur.Seek(headKey(n)); len(k) == groupKeySize && binary.BigEndian.Uint32(k) == n; k, _ = cur.Next() {
		v := c.Records.Get(k[4:])
		if groupOf(v) != n {
			return list, errIndex
		}
		r, err := s.decode(binary.BigEndian.Uint64(k[4:]), v)
		if err != nil {
			return list, err
		}
		list = append(list, r)
	}
	if len(list) != int(head.count) || len(list) > 0 && list[len(list)-1].Seq != head.last {
		return list, errIndex
	}
	return list, nil
}

// scanGroup finds the events of a group without the index.
func (s *Source) scanGroup(c Buckets, n uint32, list *[]journal.Record) error {
	return c.Records.ForEach(func(k, v []byte) error {
		r, err := s.decode(seqOf(k), v)
		if err == nil && r.Group == n {
			*list = append(*list, r)
		}
		return err
	})
}

// Groups lists the numbers of all groups that have events, in order.
func (s *Source) Groups() ([]uint32, error) {
	var list []uint32
	err := s.viewAll(func(c Buckets) error {
		if c.heads == nil {
			return s.scanGroups(c, &list)
		}
		cur := c.heads.Cursor()
		for k, _ := cur.First(); len(k) == 4; k, _ = cur.Next() {
			list = append(list, binary.BigEndian.Uint32(k))
		}
		return nil
	})
	return list, err
}

// scanGroups finds the group numbers without the index.
func (s *Source) scanGroups(c Buckets, list *[]uint32) error {
	seen := map[uint32]bool{}
	err := c.Records.ForEach(func(k, v []byte) error {
		r, err := s.decode(seqOf(k), v)
		seen[r.Group] = true
		return err
	})
	*list = slices.Sorted(maps.Keys(seen))
	return err
}

// LastGroup is the greatest group number that has events; 0 when there is none.
func (s *Source) LastGroup() (uint32, error) {
	var n uint32
	err := s.View(func(c Buckets) error {
		if c.heads == nil {
			var list []uint32
			err := s.scanGroups(c, &list)
			if len(list) > 0 {
				n = list[len(list)-1]
			}
			return err
		}
		if k, _ := c.heads.Cursor().Last(); len(k) == 4 {
			n = binary.BigEndian.Uint32(k)
		}
		return nil
	})
	return n, err
}

// A Digest is the summary of a group that was kept with its last event.
type Digest struct {
	Group  uint32
	Digest []byte
}

// Digest gives the summary of group n; nil when none is kept (after restoring,
// migrating or taking over from the journal there is none: make it anew from
// Group, and keep it with SetDigest).
func (s *Source) Digest(n uint32) ([]byte, error) {
	var d []byte
	err := s.viewAll(func(c Buckets) error {
		if c.heads != nil {
			_, kept := c.head(n)
			d = cloneDigest(kept)
		}
		return nil
	})
	return d, err
}

// Kept gives what the index says of group n: how many events it has, the number
// of the last one, and the summary.
func (s *Source) Kept(n uint32) (count int, last uint64, digest []byte, err error) {
	err = s.viewAll(func(c Buckets) error {
		if c.heads != nil {
			h, kept := c.head(n)
			count, last, digest = int(h.count), h.last, cloneDigest(kept)
		}
		return nil
	})
	return count, last, digest, err
}

// Digests gives up to count summaries of groups from number from on, in order.
// Groups without one are left out.
func (s *Source) Digests(from uint32, count int) ([]Digest, error) {
	var list []Digest
	err := s.viewAll(func(c Buckets) error {
		if c.heads == nil {
			return nil
		}
		cur := c.heads.Cursor()
		for k, v := cur.Seek(headKey(from)); len(k) == 4 && len(list) < count; k, v = cur.Next() {
			if _, kept := parseHead(v); len(kept) > 0 {
				list = append(list, Digest{binary.BigEndian.Uint32(k), bytes.Clone(kept)})
			}
		}
		return nil
	})
	return list, err
}

// cloneDigest copies a digest out of the file; an empty one is none.
func cloneDigest(d []byte) []byte {
	if len(d) == 0 {
		return nil
	}
	return bytes.Clone(d)
}

// SetDigests keeps summaries that were made anew.
func (s *Source) SetDigests(list []Digest) error {
	return s.h.Update(func(tx *bolt.Tx) error {
		c, err := s.In(tx)
		if err != nil {
			return err
		}
		for _, d := range list {
			if err := c.SetDigest(d); err != nil {
				return err
			}
		}
		return nil
	})
}
