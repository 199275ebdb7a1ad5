package store

import (
	"errors"
	"os"
	"syscall"
	"testing"

	"example.org/readback/store/fault"
)

// swapFile puts another open file under the number of the book's file, so that
// every later write and sync of bbolt meets it, while the handle's own look at
// the size still sees the book. It returns what undoes it.
func swapFile(t *testing.T, b *Book, other string, flag int) func() {
	t.Helper()
	f, err := os.OpenFile(other, flag, 0)
	if err != nil {
		t.Fatal(err)
	}
	fd := int(b.h.File.Fd())
	kept, err := syscall.Dup(fd)
	if err != nil {
		t.Fatal(err)
	}
	if err := syscall.Dup3(int(f.Fd()), fd, 0); err != nil {
		t.Fatal(err)
	}
	f.Close()
	bolts := b.h.File
	if b.h.File, err = os.Open(b.path); err != nil {
		t.Fatal(err)
	}
	return func() {
		b.h.File.Close()
		b.h.File = bolts
		if err := syscall.Dup3(kept, fd, 0); err != nil {
			t.Fatal(err)
		}
		syscall.Close(kept)
	}
}

// Ensure that a failing write of a page, and a first sync that fails after the
// pages were lost, latch the book and lose nothing: the event is there once,
// out of the journal.
func TestAppend_PageWriteAndSyncFail(t *testing.T) {
	for name, c := range map[string]struct {
		other func(*Book) string
		flag  int
		cause error
	}{
		"write": {func(b *Book) string { return b.path }, os.O_RDONLY, syscall.EBADF},
		"sync":  {func(*Book) string { return "/dev/null" }, os.O_RDWR, syscall.EINVAL},
	} {
		b := newBook(t, 33)
		undo := swapFile(t, b, c.other(b), c.flag)
		_, err := b.Append(draft(34))
		if !errors.Is(err, fault.ErrWrite) || !errors.Is(err, c.cause) {
			t.Fatalf("%s: %v", name, err)
		}
		undo()
		wantLatched(t, b, c.cause, 33)
		again, booked, err := b.Reopen(draft(34).ID)
		if err != nil || !booked {
			t.Fatalf("%s: %v %v", name, booked, err)
		}
		defer again.Close()
		wantEvents(t, again, 34)
		appendTo(t, again, 34, 36)
		if r := audited(again); r.Err() != nil {
			t.Error(r.Err())
		}
	}
}
