package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"maps"
	"slices"

	bolt "go.etcd.io/bbolt"
)

// Group reads the events of group n in order, each proven by its hash. A group
// without events gives none and no error.
func (s *Source) Group(n uint32) ([]Record, error) {
	var list []Record
	err := s.view(func(c chain) error {
		if c.groups == nil { // a file of format 1, open for reading only
			return s.scanGroup(c, n, &list)
		}
		cur := c.groups.Cursor()
		for k, _ := cur.Seek(digestKey(n)); len(k) == 12 && binary.BigEndian.Uint32(k) == n; k, _ = cur.Next() {
			r, err := s.get(c, binary.BigEndian.Uint64(k[4:]))
			if err != nil {
				return err
			}
			if r.Group != n {
				return s.damaged(r.Seq, fmt.Errorf("the index puts it into setup %d, it belongs to %d", n, r.Group))
			}
			list = append(list, r)
		}
		return nil
	})
	return list, err
}

// scanGroup finds the events of a group without the index.
func (s *Source) scanGroup(c chain, n uint32, list *[]Record) error {
	return c.records.ForEach(func(k, v []byte) error {
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
	err := s.view(func(c chain) error {
		if c.groups == nil {
			return s.scanGroups(c, &list)
		}
		cur := c.groups.Cursor()
		for k, _ := cur.First(); len(k) == 12; {
			n := binary.BigEndian.Uint32(k)
			list = append(list, n)
			if n == ^uint32(0) {
				return nil
			}
			k, _ = cur.Seek(digestKey(n + 1))
		}
		return nil
	})
	return list, err
}

// scanGroups finds the group numbers without the index.
func (s *Source) scanGroups(c chain, list *[]uint32) error {
	seen := map[uint32]bool{}
	err := c.records.ForEach(func(k, v []byte) error {
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
	err := s.view(func(c chain) error {
		if c.groups == nil {
			var list []uint32
			err := s.scanGroups(c, &list)
			if len(list) > 0 {
				n = list[len(list)-1]
			}
			return err
		}
		if k, _ := c.groups.Cursor().Last(); len(k) == 12 {
			n = binary.BigEndian.Uint32(k)
		}
		return nil
	})
	return n, err
}

// A GroupDigest is the summary of a group that was kept with its last event.
type GroupDigest struct {
	Group  uint32
	Digest []byte
}

// Digest gives the summary of group n; nil when none is kept (after restoring,
// migrating or taking over from the journal there is none: make it anew from
// Group, and keep it with SetDigest).
func (s *Source) Digest(n uint32) ([]byte, error) {
	var d []byte
	err := s.view(func(c chain) error {
		if c.digests != nil {
			d = bytes.Clone(c.digests.Get(digestKey(n)))
		}
		return nil
	})
	return d, err
}

// Digests gives up to count summaries of groups from number from on, in order.
// Groups without one are left out.
func (s *Source) Digests(from uint32, count int) ([]GroupDigest, error) {
	var list []GroupDigest
	err := s.view(func(c chain) error {
		if c.digests == nil {
			return nil
		}
		cur := c.digests.Cursor()
		for k, v := cur.Seek(digestKey(from)); len(k) == 4 && len(list) < count; k, v = cur.Next() {
			list = append(list, GroupDigest{binary.BigEndian.Uint32(k), bytes.Clone(v)})
		}
		return nil
	})
	return list, err
}

// setDigests keeps summaries that were made anew.
func (s *Source) setDigests(list []GroupDigest) error {
	return s.h.update(func(tx *bolt.Tx) error {
		c, err := s.in(tx)
		if err != nil {
			return err
		}
		for _, d := range list {
			if err := c.setDigest(d.Group, d.Digest); err != nil {
				return err
			}
		}
		return nil
	})
}
