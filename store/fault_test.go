package store

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// faulty is a file under a journal that fails or tears on demand.
type faulty struct {
	journal.Raw
	plan *faultPlan
}

// faultPlan says what goes wrong next, for all files of one book.
type faultPlan struct {
	writes, syncs int   // how many of each still go well; negative: all
	torn          int   // bytes of the failing write that still reach the file
	err           error // what is reported
	match         string
}

func (p *faultPlan) open(path string, flag int, perm os.FileMode) (journal.Raw, error) {
	f, err := journal.OpenOS(path, flag, perm)
	if err != nil || !strings.Contains(path, p.match) {
		return f, err
	}
	return &faulty{f, p}, nil
}

func (f *faulty) WriteAt(b []byte, off int64) (int, error) {
	if f.plan.writes == 0 {
		n, _ := f.Raw.WriteAt(b[:min(f.plan.torn, len(b))], off)
		return n, f.plan.err
	}
	f.plan.writes--
	return f.Raw.WriteAt(b, off)
}

func (f *faulty) Sync() error {
	if f.plan.syncs == 0 {
		return f.plan.err
	}
	f.plan.syncs--
	return f.Raw.Sync()
}

// wantLatched demands that b answers every Append with the first failure and
// still lets what was acknowledged be read.
func wantLatched(t *testing.T, b *Book, cause error, acked int) {
	t.Helper()
	if _, err := b.Append(draft(acked + 1)); !errors.Is(err, fault.ErrLatched) || !errors.Is(err, cause) {
		t.Errorf("after a failed write: %v", err)
	}
	if s := b.Status(); !errors.Is(s.Failed, cause) || s.Events != uint64(acked) {
		t.Errorf("status after a failed write: %+v", s)
	}
}

// Ensure that a write or sync of the journal which fails, whole or torn, stops
// the booking, and that the reopened book tells truly whether the event is in
// it and holds everything that was acknowledged.
func TestAppend_JournalFails(t *testing.T) {
	const acked = 12
	for _, cause := range []error{syscall.EIO, syscall.ENOSPC} {
		for name, plan := range map[string]faultPlan{
			"write fails":        {writes: 0, syncs: -1},
			"write torn at 1":    {writes: 0, syncs: -1, torn: 1},
			"write torn at 100":  {writes: 0, syncs: -1, torn: 100},
			"write whole, error": {writes: 0, syncs: -1, torn: 1 << 20},
			"sync fails":         {writes: -1, syncs: 0},
		} {
			t.Run(fmt.Sprint(name, " ", cause), func(t *testing.T) {
				now := faultPlan{writes: -1, syncs: -1}
				b := newBook(t, acked-2)
				b.Close()
				o := testOptions()
				o.files = now.open
				b, err := Open(b.path, o)
				if err != nil {
					t.Fatal(err)
				}
				appendTo(t, b, acked-1, acked)
				now = plan
				now.err = cause
				d := draft(acked + 1)
				if _, err := b.Append(d); !errors.Is(err, cause) || !errors.Is(err, fault.ErrWrite) && !errors.Is(err, fault.ErrNoSpace) {
					t.Fatalf("%v", err)
				}
				wantLatched(t, b, cause, acked)
				now = faultPlan{writes: -1, syncs: -1}
				again, booked, err := b.Reopen(d.ID)
				if err != nil {
					t.Fatal(err)
				}
				defer again.Close()
				if !booked { // the book was written
					t.Error("the event is in the book; Reopen says it is not")
				}
				wantEvents(t, again, acked+1)
				if r, err := again.Append(d); err != nil || r.Seq != acked+1 { // booking it again is no second event
					t.Errorf("%v, %v", r.Seq, err)
				}
				appendTo(t, again, acked+2, acked+4)
				if r := audited(again); r.Err() != nil {
					t.Error(r.Err())
				}
			})
		}
	}
}

// Ensure that a failing copy is seen at once, stops nothing and catches up.
func TestCopy_Fails(t *testing.T) {
	for _, plan := range []faultPlan{{writes: 0, syncs: -1, torn: 70}, {writes: -1, syncs: 0}} {
		card := t.TempDir()
		now := faultPlan{writes: -1, syncs: -1, match: card}
		b := newBook(t, 5)
		b.Close()
		o := testOptions()
		o.files, o.Copy = now.open, card
		b, err := Open(b.path, o)
		if err != nil {
			t.Fatal(err)
		}
		defer b.Close()
		appendTo(t, b, 6, 7)
		now.writes, now.syncs, now.torn, now.err = plan.writes, plan.syncs, plan.torn, syscall.EIO
		for n := 8; n <= 10; n++ {
			appendTo(t, b, n, n)
			if s := b.Status(); s.Copy != CopyBehind || !strings.Contains(s.CopyError, "input/output error") || s.CopyBehind == 0 {
				t.Errorf("%+v", s)
			}
		}
		now.writes, now.syncs = -1, -1
		appendTo(t, b, 11, 11)
		if s := b.Status(); s.Copy != CopyWritten {
			t.Errorf("%+v", s)
		}
		if r := audited(b); r.Err() != nil || r.Copy.Events != 11 {
			t.Error(r.Err())
		}
	}
}

// Ensure that bbolt's own refusal (here: no room to grow) is treated as any
// failed write: nothing more is booked until reopened, and then the event is
// there once, out of the journal, which was written meanwhile.
func TestAppend_BookFails(t *testing.T) {
	b := newBook(t, 0)
	b.Close()
	o := testOptions()
	o.maxSize = 128 << 10
	b, err := Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for ; n < 5000; n++ {
		if _, err = b.Append(draft(n + 1)); err != nil {
			break
		}
	}
	if !errors.Is(err, fault.ErrWrite) || n < 50 {
		t.Fatalf("after %d: %v", n, err)
	}
	wantLatched(t, b, fault.ErrWrite, n)
	b.opt.maxSize = 0
	again, booked, err := b.Reopen(draft(n + 1).ID)
	if err != nil || !booked {
		t.Fatalf("%v, %v", booked, err)
	}
	defer again.Close()
	wantEvents(t, again, n+1)
	appendTo(t, again, n+1, n+3)
}

func TestReserve_IsGivenBackWhenTheDiskIsFull(t *testing.T) {
	now := faultPlan{writes: -1, syncs: -1}
	b := newBook(t, 3)
	b.Close()
	o := testOptions()
	o.files, o.Reserve = now.open, 64<<10
	b, err := Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(disk.ReservePath(b.path)); err != nil || info.Size() != 64<<10 || !b.Status().Reserve {
		t.Fatalf("no reserve is held: %v", err)
	}
	now.writes, now.err = 0, syscall.ENOSPC
	if _, err := b.Append(draft(4)); !errors.Is(err, fault.ErrNoSpace) || !strings.Contains(err.Error(), "reserve") {
		t.Fatalf("%v", err)
	}
	if _, err := os.Stat(disk.ReservePath(b.path)); !errors.Is(err, os.ErrNotExist) || b.Status().Reserve {
		t.Error("the reserve is still held")
	}
	now.writes = -1
	again, _, err := b.Reopen(draft(4).ID)
	if err != nil {
		t.Fatal(err)
	}
	appendTo(t, again, 5, 6)
	if _, err := os.Stat(disk.ReservePath(b.path)); !errors.Is(err, os.ErrNotExist) {
		t.Error("the space just given back was taken again")
	}
	again.Close()
	again, err = Open(b.path, o) // the next day
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if !again.Status().Reserve {
		t.Error("no reserve is held the next day")
	}
}

// hanging is a file under a journal whose writes wait until they are let go.
type hanging struct {
	journal.Raw
	hang *atomic.Bool
	free chan struct{}
}

func (h *hanging) WriteAt(b []byte, off int64) (int, error) {
	if h.hang.Load() {
		<-h.free
	}
	return h.Raw.WriteAt(b, off)
}

// Ensure that a card which hangs is waited for once and not again, that booking
// goes on without it, and that it catches up when it answers.
func TestCopy_Hangs(t *testing.T) {
	card := t.TempDir()
	var hang atomic.Bool
	free := make(chan struct{})
	b := newBook(t, 5)
	b.Close()
	o := testOptions()
	o.Copy, o.copyPatience = card, 50*time.Millisecond
	o.files = func(path string, flag int, perm os.FileMode) (journal.Raw, error) {
		f, err := journal.OpenOS(path, flag, perm)
		if err != nil || !strings.Contains(path, card) {
			return f, err
		}
		return &hanging{f, &hang, free}, nil
	}
	b, err := Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	appendTo(t, b, 6, 7)
	hang.Store(true)
	begin := time.Now()
	appendTo(t, b, 8, 40)
	if took := time.Since(begin); took > 5*time.Second {
		t.Errorf("33 events took %v: the card is waited for again and again", took)
	}
	if s := b.Status(); s.Copy != CopyBehind || s.CopyBehind != 33 || !strings.Contains(s.CopyError, "not answered") {
		t.Errorf("%+v", s)
	}
	hang.Store(false)
	close(free)
	for n := 41; b.Status().Copy != CopyWritten; n++ {
		if n > 400 {
			t.Fatalf("it does not catch up: %+v", b.Status())
		}
		time.Sleep(5 * time.Millisecond)
		appendTo(t, b, n, n)
	}
	if r := audited(b); r.Err() != nil {
		t.Error(r.Err())
	}
}

// Ensure that a book with a hanging card can be closed.
func TestCopy_HangsOnClosing(t *testing.T) {
	onlyWhereOpenFilesGo(t) // the card that hangs has its file open
	card := t.TempDir()
	var hang atomic.Bool
	free := make(chan struct{})
	defer close(free)
	b := newBook(t, 5)
	b.Close()
	o := testOptions()
	o.Copy, o.copyPatience = card, 20*time.Millisecond
	o.files = func(path string, flag int, perm os.FileMode) (journal.Raw, error) {
		f, err := journal.OpenOS(path, flag, perm)
		return &hanging{f, &hang, free}, err
	}
	b, err := Open(b.path, o)
	if err != nil {
		t.Fatal(err)
	}
	b.second.j.F.(*hanging).hang = &atomic.Bool{}
	b.second.j.F.(*hanging).hang.Store(true)
	appendTo(t, b, 6, 7)
	if err := b.Close(); err != nil {
		t.Error(err)
	}
	again, err := Open(b.path, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	wantEvents(t, again, 7)
}
