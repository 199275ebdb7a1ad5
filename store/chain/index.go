package chain

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/journal"
)

// The index by group is derived from the events and can be made anew. The
// bucket "groups" has a key without value for each event: its group, its
// number. The bucket "heads" has for each group how many events it has (4
// bytes), the number of the last one (8), a check sum of these and what follows
// (4, CRC-32), and the digest that the caller handed in with that event. By
// the first two a reading of the group notices an index that lost a page.
const (
	headSize     = 16
	groupKeySize = 12
)

// groupHead is the fixed part of a value in "heads".
type groupHead struct {
	count uint32
	last  uint64
}

func groupKey(group uint32, seq uint64) []byte {
	return binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint32(nil, group), seq)
}

func headKey(group uint32) []byte { return binary.BigEndian.AppendUint32(nil, group) }

// head reads the head of a group and its digest; the digest is memory of the
// file. A group without events has a zero head, and so has one whose head does
// not match its check sum.
func (c Buckets) head(group uint32) (groupHead, []byte) {
	return parseHead(c.heads.Get(headKey(group)))
}

func parseHead(v []byte) (groupHead, []byte) {
	if len(v) < headSize || binary.BigEndian.Uint32(v[12:]) != headSum(v) {
		return groupHead{}, nil
	}
	return groupHead{binary.BigEndian.Uint32(v), binary.BigEndian.Uint64(v[4:])}, v[headSize:]
}

func headSum(v []byte) uint32 {
	return crc32.Update(crc32.ChecksumIEEE(v[:12]), crc32.IEEETable, v[headSize:])
}

func (c Buckets) putHead(group uint32, h groupHead, digest []byte) error {
	v := binary.BigEndian.AppendUint32(make([]byte, 0, headSize+len(digest)), h.count)
	v = binary.BigEndian.AppendUint64(v, h.last)
	v = append(append(v, 0, 0, 0, 0), digest...)
	binary.BigEndian.PutUint32(v[12:], headSum(v))
	return c.heads.Put(headKey(group), v)
}

// Put writes a sealed record and its entry in the index, and binds the last
// number to the parent page. The digest is kept when there is one; an old one
// is dropped otherwise, for it would describe the group as it was.
func (c Buckets) Put(r *journal.Record, value, digest []byte) error {
	c.Records.FillPercent, c.groups.FillPercent = 0.95, 0.95
	if err := c.Records.Put(SeqKey(r.Seq), value); err != nil {
		return err
	}
	if err := c.index(r, digest); err != nil {
		return err
	}
	return c.Records.SetSequence(r.Seq)
}

// index enters the event r, which must be the newest one of its group.
func (c Buckets) index(r *journal.Record, digest []byte) error {
	if err := c.groups.Put(groupKey(r.Group, r.Seq), nil); err != nil {
		return err
	}
	h, _ := c.head(r.Group)
	return c.putHead(r.Group, groupHead{h.count + 1, r.Seq}, digest)
}

// SetDigest puts another digest to a group that has events.
func (c Buckets) SetDigest(d Digest) error {
	h, old := c.head(d.Group)
	if h.count == 0 {
		return fmt.Errorf("setup %d has no events to keep a digest for", d.Group)
	}
	if bytes.Equal(old, d.Digest) {
		return nil
	}
	return c.putHead(d.Group, h, d.Digest)
}

// IndexHolds says whether the index knows the event r as the newest of its
// group, and the last group of all as one that has events.
func (c Buckets) IndexHolds(r *journal.Record) bool {
	if c.groups == nil || c.heads == nil {
		return false
	}
	k, _ := c.heads.Cursor().Last()
	g, _ := c.groups.Cursor().Last()
	if r.Seq == 0 {
		return k == nil && g == nil
	}
	h, _ := c.head(r.Group)
	if len(k) != 4 || len(g) != groupKeySize || !bytes.Equal(k, g[:4]) {
		return false
	}
	own, _ := c.groups.Cursor().Seek(groupKey(r.Group, r.Seq))
	return h.last == r.Seq && bytes.Equal(own, groupKey(r.Group, r.Seq)) &&
		groupOf(c.Records.Get(g[4:])) == binary.BigEndian.Uint32(g)
}

// groupOf reads the group out of a record as it is kept; the greatest number
// there is for what is no record.
func groupOf(v []byte) uint32 {
	if len(v) < journal.HeaderSize {
		return ^uint32(0)
	}
	return binary.BigEndian.Uint32(v[43:])
}

// CheckIndex proves the index of a chain of events events: each entry names an
// event of that group, there are as many as events, and the heads agree.
func (s *Source) CheckIndex(events uint64) error {
	return s.View(func(c Buckets) error {
		if c.groups == nil || c.heads == nil {
			return nil // a file of format 1
		}
		var n uint64
		var group uint32
		var at groupHead
		heads := 0
		check := func() error {
			if at.count == 0 {
				return nil
			}
			heads++
			if h, _ := c.head(group); h != at {
				return fmt.Errorf("setup %d has %d events up to %d, its head says %d up to %d", group, at.count, at.last, h.count, h.last)
			}
			return nil
		}
		cur := c.groups.Cursor()
		for k, _ := cur.First(); k != nil; k, _ = cur.Next() {
			if len(k) != groupKeySize || groupOf(c.Records.Get(k[4:])) != binary.BigEndian.Uint32(k) {
				return fmt.Errorf("entry %x names no event of its setup", k)
			}
			if g := binary.BigEndian.Uint32(k); g != group {
				if err := check(); err != nil {
					return err
				}
				group, at = g, groupHead{}
			}
			n, at = n+1, groupHead{at.count + 1, binary.BigEndian.Uint64(k[4:])}
			if n%Batch == 0 {
				s.h.letGo(c.Records.Tx())
			}
		}
		if err := check(); err != nil {
			return err
		}
		if n != events {
			return fmt.Errorf("%d events are listed of %d", n, events)
		}
		if k := countKeys(c.heads); k != heads {
			return fmt.Errorf("%d setups have heads, %d have events", k, heads)
		}
		return nil
	})
}

func countKeys(b *bolt.Bucket) (n int) {
	cur := b.Cursor()
	for k, _ := cur.First(); k != nil; k, _ = cur.Next() {
		n++
	}
	return n
}

// RebuildIndex makes the index by group anew from the events.
func (s *Source) RebuildIndex() error {
	return s.h.Update(func(tx *bolt.Tx) error {
		for _, what := range []string{"groups", "heads"} {
			if tx.Bucket(BucketOf(what, s.id)) == nil {
				continue
			}
			if err := tx.DeleteBucket(BucketOf(what, s.id)); err != nil {
				return err
			}
		}
		return IndexRecords(tx, Meta{Id: s.id})
	})
}

// IndexRecords makes the index of a chain anew from its events; format 1 to 2.
func IndexRecords(tx *bolt.Tx, m Meta) error {
	if err := MakeChain(tx, m.Id); err != nil {
		return err
	}
	c, err := (&Source{id: m.Id}).In(tx)
	if err != nil {
		return err
	}
	return c.Records.ForEach(func(k, v []byte) error {
		r, err := journal.Decode(v)
		if err != nil {
			return fmt.Errorf("event %d: %w", seqOf(k), err)
		}
		return c.index(&r, nil)
	})
}
