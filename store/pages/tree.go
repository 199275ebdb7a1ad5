package pages

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
)

// The pages of a bbolt file, as far as they are looked at with plain reads
// before bbolt may follow them: a page header of 16 bytes (its own number,
// flags, count of elements, number of pages that continue it), then elements
// of 16 bytes. A branch element holds where its key lies from the element on,
// the length of the key, and the page below, which begins with that key; a leaf
// element holds flags, where the key lies, and the lengths of key and value.
const (
	PageHead     = 16
	pageElement  = 16
	FlagBranch   = 0x01
	flagLeaf     = 0x02
	flagFreelist = 0x10
	flagBucket   = 0x01 // of a leaf element: the value is the head of a bucket
	bucketHead   = 16   // root page and sequence
)

var Order = binary.NativeEndian

// A tree walks the pages of a book file.
type tree struct {
	f    io.ReaderAt
	Head Head
	Used []uint64 // one bit a page: it is on the list of free pages, or was met
}

// FullCheckPages is up to how many pages a book is looked at whole whenever it
// is opened: 4 MiB, some weeks of booking, in a few milliseconds.
const FullCheckPages = 1024

// CheckTree proves the list of free pages and the pages from the root down:
// each is what it says it is, lies in the file, stands under its key, is met
// once and is not free. With full every page is looked at. Otherwise that is
// done for a small book; of a large one, whose opening must not take longer
// the more it holds, only the last ways down are looked at, which lead to what
// the last bookings wrote. The rest of it waits for checkBranches.
func CheckTree(f io.ReaderAt, head Head, full bool) error {
	t := NewTree(f, head)
	if err := t.checkFree(); err != nil {
		return err
	}
	ways := 2
	if full || head.HighWater <= FullCheckPages {
		ways = int(head.HighWater)
	}
	buckets, err := t.Walk(head.Root, int(head.HighWater))
	for err == nil && len(buckets) > 0 {
		var below []uint64
		below, err = t.Walk(buckets[0], ways)
		buckets = append(buckets[1:], below...)
	}
	return err
}

func NewTree(f io.ReaderAt, head Head) *tree {
	return &tree{f: f, Head: head, Used: make([]uint64, head.HighWater/64+1)}
}

// mark notes that count pages from id on are in use.
func (t *tree) mark(id, count uint64) error {
	for ; count > 0; id, count = id+1, count-1 {
		if id < 2 || id >= t.Head.HighWater {
			return fmt.Errorf("page %d lies outside of the file", id)
		}
		if t.Used[id/64]&(1<<(id%64)) != 0 {
			return fmt.Errorf("page %d is used twice or is listed as free", id)
		}
		t.Used[id/64] |= 1 << (id % 64)
	}
	return nil
}

// page reads page id with all that continues it.
func (t *tree) page(id uint64) ([]byte, uint16, error) {
	return t.pageInto(make([]byte, t.Head.PageSize), id)
}

// pageInto is page in memory that is there: b holds one page.
func (t *tree) pageInto(b []byte, id uint64) ([]byte, uint16, error) {
	if id < 2 || id >= t.Head.HighWater {
		return nil, 0, fmt.Errorf("page %d lies outside of the file", id)
	}
	at := int64(id) * int64(t.Head.PageSize)
	if _, err := t.f.ReadAt(b, at); err != nil {
		return nil, 0, fmt.Errorf("read page %d: %w", id, err)
	}
	if own := Order.Uint64(b); own != id {
		return nil, 0, fmt.Errorf("page %d says that it is page %d", id, own)
	}
	more := uint64(Order.Uint32(b[12:]))
	if id+more >= t.Head.HighWater {
		return nil, 0, fmt.Errorf("page %d claims %d pages", id, more+1)
	}
	if more > 0 {
		b = append(b, make([]byte, more*uint64(t.Head.PageSize))...)
		if _, err := t.f.ReadAt(b[t.Head.PageSize:], at+int64(t.Head.PageSize)); err != nil {
			return nil, 0, fmt.Errorf("read page %d: %w", id, err)
		}
	}
	return b, Order.Uint16(b[8:]), nil
}

// A step is a page to look at, and the key that it must begin with.
type step struct {
	id  uint64
	key []byte
}

// Walk goes down from page root by the last ways of each branch and returns
// the roots of the buckets found in the leaves.
func (t *tree) Walk(root uint64, ways int) (buckets []uint64, err error) {
	for todo := []step{{id: root}}; len(todo) > 0; {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		b, flags, err := t.page(at.id)
		if err != nil {
			return nil, err
		}
		if err := t.mark(at.id, uint64(len(b))/uint64(t.Head.PageSize)); err != nil {
			return nil, err
		}
		below, roots, err := elements(b, at, flags)
		if err != nil {
			return nil, err
		}
		todo = append(todo, below[max(0, len(below)-ways):]...)
		buckets = append(buckets, roots...)
	}
	return buckets, nil
}

// CheckBranches proves that the branches from page root down lead to each page
// once, so that no way through them has no end. Leaves are not read: the tree
// is equally deep everywhere, as its first way says.
func (t *tree) CheckBranches(root uint64) error {
	one := make([]byte, t.Head.PageSize)
	depth := 0
	for id := root; ; depth++ {
		b, flags, err := t.pageInto(one, id)
		if err != nil {
			return err
		}
		if flags == flagLeaf {
			break
		}
		if flags != FlagBranch || depth > 20 {
			return fmt.Errorf("page %d is neither branch nor leaf", id)
		}
		id = Order.Uint64(b[PageHead+8:])
	}
	level := []uint64{root}
	for ; depth > 0; depth-- {
		var below []uint64
		for _, id := range level {
			b, flags, err := t.pageInto(one, id)
			if err != nil {
				return err
			}
			count := int(Order.Uint16(b[10:]))
			if flags != FlagBranch || PageHead+count*pageElement > len(b) {
				return fmt.Errorf("page %d is no branch of %d", id, count)
			}
			for i := range count {
				child := Order.Uint64(b[PageHead+i*pageElement+8:])
				if err := t.mark(child, 1); err != nil {
					return err
				}
				if depth > 1 { // the last ones are leaves
					below = append(below, child)
				}
			}
		}
		level = below
	}
	return nil
}

// elements looks at the elements of a page: the pages below a branch, the
// roots of the buckets in a leaf.
func elements(b []byte, at step, flags uint16) (below []step, buckets []uint64, err error) {
	count := int(Order.Uint16(b[10:]))
	if PageHead+count*pageElement > len(b) {
		return nil, nil, fmt.Errorf("page %d claims %d elements", at.id, count)
	}
	switch {
	case flags == FlagBranch && count > 0:
		below, err = branchSteps(b, at, count)
	case flags == flagLeaf:
		buckets, err = leafBuckets(b, at, count)
	default:
		err = fmt.Errorf("page %d is neither branch nor leaf", at.id)
	}
	return below, buckets, err
}

// keyOf gives the key of element i of a page and what follows it. It demands
// that they lie right behind what the element before names, as bbolt writes
// them, so that no count and no length on a page can be wrong unseen; next is
// where the element behind must go on.
func keyOf(b []byte, at step, i int, pos, ksize, vsize uint32, last []byte, from uint64) (key, rest []byte, next uint64, err error) {
	start := uint64(PageHead + i*pageElement)
	next = start + uint64(pos) + uint64(ksize) + uint64(vsize)
	if next > uint64(len(b)) {
		return nil, nil, 0, fmt.Errorf("element %d of page %d lies outside of it", i, at.id)
	}
	if start+uint64(pos) != from {
		return nil, nil, 0, fmt.Errorf("element %d of page %d does not lie behind the one before", i, at.id)
	}
	key, rest = b[from:from+uint64(ksize)], b[from+uint64(ksize):next]
	if i > 0 && bytes.Compare(key, last) <= 0 {
		return nil, nil, 0, fmt.Errorf("the keys on page %d are out of order", at.id)
	}
	if i == 0 && at.key != nil && !bytes.Equal(key, at.key) {
		return nil, nil, 0, fmt.Errorf("page %d does not begin with the key it stands under", at.id)
	}
	return key, rest, next, nil
}

// checkRest demands that nothing stands behind the last element of a page.
func checkRest(b []byte, at step, from uint64) error {
	if len(bytes.Trim(b[from:], "\x00")) > 0 {
		return fmt.Errorf("something stands behind the last element of page %d", at.id)
	}
	return nil
}

// branchSteps gives the pages below a branch page.
func branchSteps(b []byte, at step, count int) ([]step, error) {
	list := make([]step, 0, count)
	var last []byte
	next := uint64(PageHead + count*pageElement)
	for i := range count {
		e := b[PageHead+i*pageElement:]
		var key []byte
		var err error
		key, _, next, err = keyOf(b, at, i, Order.Uint32(e), Order.Uint32(e[4:]), 0, last, next)
		if err != nil {
			return nil, err
		}
		list, last = append(list, step{Order.Uint64(e[8:]), key}), key
	}
	return list, checkRest(b, at, next)
}

// leafBuckets looks at the elements of a leaf page and gives the roots of the
// buckets among them. A bucket that lies whole in the leaf has none; its
// elements are looked at in their place.
func leafBuckets(b []byte, at step, count int) (roots []uint64, err error) {
	var last []byte
	next := uint64(PageHead + count*pageElement)
	for i := range count {
		e := b[PageHead+i*pageElement:]
		var key, value []byte
		key, value, next, err = keyOf(b, at, i, Order.Uint32(e[4:]), Order.Uint32(e[8:]), Order.Uint32(e[12:]), last, next)
		if err != nil {
			return nil, err
		}
		last = key
		switch flags := Order.Uint32(e); {
		case flags > flagBucket:
			return nil, fmt.Errorf("element %d of page %d has flags %x", i, at.id, flags)
		case flags == 0:
			continue
		case len(value) < bucketHead:
			return nil, fmt.Errorf("element %d of page %d is no bucket", i, at.id)
		}
		if root := Order.Uint64(value); root != 0 {
			roots = append(roots, root)
		} else if err := inlineBucket(value[bucketHead:], at); err != nil {
			return nil, err
		}
	}
	return roots, checkRest(b, at, next)
}

// inlineBucket looks at the page of a bucket that lies whole in a leaf.
func inlineBucket(b []byte, at step) error {
	if len(b) < PageHead || Order.Uint64(b) != 0 || Order.Uint32(b[12:]) != 0 || Order.Uint16(b[8:]) != flagLeaf {
		return fmt.Errorf("a bucket kept in page %d is no leaf", at.id)
	}
	at.key = nil
	_, roots, err := elements(b, at, flagLeaf)
	if err == nil && len(roots) > 0 {
		err = fmt.Errorf("a bucket kept in page %d has others below it", at.id)
	}
	return err
}

// checkFree proves the list of free pages. bbolt reads it only when the file
// is opened for writing, and panics when it is not one; and a stale one would
// let it write over pages that are in use.
func (t *tree) checkFree() error {
	id := t.Head.Freelist
	b, flags, err := t.page(id)
	if err != nil {
		return fmt.Errorf("the list of free pages: %w", err)
	}
	if flags != flagFreelist {
		return fmt.Errorf("page %d is not the list of free pages", id)
	}
	if err := t.mark(id, uint64(len(b))/uint64(t.Head.PageSize)); err != nil {
		return err
	}
	count, ids := uint64(Order.Uint16(b[10:])), b[PageHead:]
	if count == 0xFFFF { // the true count stands in the first place
		count, ids = Order.Uint64(ids), ids[8:]
	}
	if count > uint64(len(ids))/8 {
		return fmt.Errorf("the list of free pages claims %d entries", count)
	}
	for i := range count {
		if err := t.mark(Order.Uint64(ids[i*8:]), 1); err != nil {
			return fmt.Errorf("the list of free pages: %w", err)
		}
	}
	return nil
}
