package store

import (
	"bufio"
	"errors"
	"example.org/readback/testdata"
	"fmt"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

const blockSize = 50

// block makes the drafts from to from+blockSize-1.
func block(from int) (list []journal.Draft) {
	for n := from; n < from+blockSize; n++ {
		list = append(list, draft(n))
	}
	return list
}

// Ensure that several events go in together, chained, and that a bad one among
// them keeps all of them out and stops nothing.
func TestAppendAll(t *testing.T) {
	b := newBook(t, 3)
	r, err := b.AppendAll(block(4))
	if err != nil || r.Seq != 3+blockSize {
		t.Fatalf("event %d: %v", r.Seq, err)
	}
	wantEvents(t, b, 3+blockSize)
	bad := block(4 + blockSize)
	bad[7].Body = []byte("{ no compact JSON }")
	if _, err := b.AppendAll(bad); !errors.Is(err, fault.ErrBadRecord) {
		t.Errorf("%v", err)
	}
	if r, err := b.AppendAll(nil); err != nil || r.Seq != 3+blockSize {
		t.Errorf("nothing to book: event %d, %v", r.Seq, err)
	}
	b = reopen(t, b)
	wantEvents(t, b, 3+blockSize)
	if r := audited(b); r.Err() != nil {
		t.Error(r.Err())
	}
}

// Ensure that a failing journal or a full book leaves all of them or none, and
// that Reopen tells which.
func TestAppendAll_Fails(t *testing.T) {
	for _, plan := range []faultPlan{{writes: 0, syncs: -1}, {writes: 0, syncs: -1, torn: 5000}, {writes: -1, syncs: 0}} {
		now := faultPlan{writes: -1, syncs: -1}
		b := newBook(t, 3)
		must(t, b.Close())
		o := testOptions()
		o.files = now.open
		b, err := Open(b.path, o)
		must(t, err)
		now = plan
		now.err = syscall.EIO
		if _, err := b.AppendAll(block(4)); !errors.Is(err, syscall.EIO) {
			t.Fatalf("%v", err)
		}
		wantLatched(t, b, syscall.EIO, 3)
		now = faultPlan{writes: -1, syncs: -1}
		again, booked, err := b.Reopen(testID(3 + blockSize))
		must(t, err)
		if !booked {
			t.Error("they are in the book; Reopen says they are not")
		}
		wantEvents(t, again, 3+blockSize)
		must(t, again.Close())
	}
	b := newBook(t, 3)
	must(t, b.Close())
	o := testOptions()
	o.maxSize = 160 << 10
	b, err := Open(b.path, o)
	must(t, err)
	n := 4
	for ; err == nil; n += blockSize {
		_, err = b.AppendAll(block(n))
	}
	n -= blockSize
	again, booked, err := b.Reopen(testID(n + blockSize - 1))
	must(t, err)
	defer again.Close()
	if booked {
		t.Error("they did not fit; Reopen says they are there")
	}
	wantEvents(t, again, n-1)
}

// appendAllChild books blocks as fast as it can and prints the last number of
// each after it was acknowledged.
func appendAllChild(args []string) int {
	b, err := Open(args[0], Options{Reserve: -1})
	if err != nil {
		fmt.Println("open:", err)
		return 3
	}
	seq, _ := b.Head()
	for n := int(seq) + 1; ; n += blockSize {
		if _, err := b.AppendAll(block(n)); err != nil {
			fmt.Println("append:", err)
			return 3
		}
		fmt.Println("ack", n+blockSize-1)
	}
}

// Ensure that a kill leaves whole blocks only. The -long form kills it 300 times.
func TestAppendAll_Kill(t *testing.T) {
	kills := 3
	if *testdata.Long {
		kills = longBlockKills
	}
	rng := newRand(t, 12)
	path := newClosed(t, 0)
	for range kills {
		c := child(t, "appendall", path)
		out, err := c.StdoutPipe()
		must(t, err)
		must(t, c.Start())
		acked := 0
		after := time.Duration(rng.IntN(30_000)) * time.Microsecond
		for s := bufio.NewScanner(out); s.Scan(); {
			if text, ok := strings.CutPrefix(s.Text(), "ack "); !ok {
				t.Fatal(s.Text())
			} else if _, err := fmt.Sscan(text, &acked); err != nil {
				t.Fatal(err)
			}
			time.AfterFunc(after, func() { c.Process.Kill() })
		}
		_ = c.Wait()
		b, err := Open(path, testOptions())
		must(t, err)
		seq, _ := b.Head()
		if seq%blockSize != 0 || int(seq) < acked {
			t.Errorf("%d events are there, %d were acknowledged in blocks of %d", seq, acked, blockSize)
		}
		wantEvents(t, b, int(seq))
		must(t, b.Close())
	}
}
