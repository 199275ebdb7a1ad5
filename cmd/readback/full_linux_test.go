package main

import (
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// smallDisk mounts a disk of some kilobytes, or skips where that is not allowed.
func smallDisk(t *testing.T, kilobytes int) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+strconv.Itoa(kilobytes)+"k"); err != nil {
		t.Skipf("no small disk can be mounted here: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

// fill writes a file until the disk is full.
func fill(t *testing.T, name string) {
	t.Helper()
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	block := make([]byte, 4096)
	for {
		if _, err := f.Write(block); err != nil {
			return
		}
	}
}

// On a full disk booking stops with a clear sentence, what was shown as saved
// stays, and with the reserve that was held, or after room was made, it goes on.
func TestFullDisk(t *testing.T) {
	dir := smallDisk(t, 3<<10)
	file, other := filepath.Join(dir, "weir.book"), filepath.Join(dir, "holiday.mov")
	b := bookerAt(open(t, 100, 30, "book", file)).firstSetup()
	station := append(append(append([]string{}, round1...), round2...), verticals...)
	fill(t, other)
	n := b.booksUntilRefused(station)
	b.sees("the disk is full", "The space held in reserve is given back now")
	n += b.reopens()
	b.books(station[n : n+2]...) // into the reserve
	n += 2

	fill(t, other+".2") // and that is full too
	n += b.booksUntilRefused(station[n:])
	b.sees("the disk is full")
	os.Remove(other)
	n += b.reopens()
	b.books(station[n:]...).sees("The verdict is Lift.").leaves()
	if got, want := readingsIn(t, file), append([]string{"1.475"}, station...); !reflect.DeepEqual(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// reopens has the book opened again after a failed write and goes back to
// booking. It returns 1 where the reading that failed is found in the file and 0
// where it is not: both are lawful, and the screen says which.
func (b *booker) reopens() int {
	b.t.Helper()
	found := 0
	b.presses("o").sees("The book is open again").until("what was found", func(screen string) bool {
		if strings.Contains(screen, "Booked after all:") {
			found = 1
		}
		return found == 1 || strings.Contains(screen, "Not booked:")
	})
	b.presses("b").sees("Enter book", "○ empty")
	return found
}

// booksUntilRefused books until the disk refuses and returns how many readings
// were shown as saved.
func (b *booker) booksUntilRefused(readings []string) int {
	b.t.Helper()
	for n, r := range readings {
		refused := false
		b.calls(r).until("the reading booked or refused", func(screen string) bool {
			refused = strings.Contains(screen, "NOT SAVED")
			return refused || noted(screen, figureOf(b.t, r)) && strings.Contains(screen, "✓ saved")
		})
		if refused {
			return n
		}
	}
	b.t.Fatal("the full disk took every reading")
	return 0
}

// A book on a disk that may only be read is refused for booking with a sentence
// and can be audited and exported.
func TestReadOnlyDisk(t *testing.T) {
	dir := smallDisk(t, 3<<10)
	file := filepath.Join(dir, "weir.book")
	bookerAt(open(t, 100, 30, "book", file)).firstSetup().books(round1...).leaves()
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	p := open(t, 100, 30, "book", file)
	if code := p.exit(); code != exitNo || !strings.Contains(p.written(), "the book may not be written here") {
		t.Errorf("exit code %d: %s", code, p.written())
	}
	for _, verb := range []string{"audit", "export", "sheet"} {
		if o := runs(t, verb, file); o.code != exitFine {
			t.Errorf("%s: exit code %d: %s", verb, o.code, o.errs)
		}
	}
}
