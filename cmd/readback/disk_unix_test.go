//go:build unix

package main

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// slowly opens a new book on a disk that takes 50 ms for every writing.
func slowly(t testing.TB) (*booker, string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "weir.book")
	return bookerAt(open(t, 100, 30, "book", file, "--slow-write", "50ms")).firstSetup(), file
}

// On a slow disk no key is lost and none overtakes another; a reading is said to
// be saving until it is on the disk.
func TestSlowDisk_KeepsUpWithTheKeys(t *testing.T) {
	b, file := slowly(t)
	b.key(strings.Join(round1, "\r") + "\r")
	b.until("rows that are being saved", func(screen string) bool {
		return strings.Count(screen, "saving") > 3 && strings.Contains(screen, "saving 8")
	})
	b.sees("Set the circle between 90° and 91°.") // the screen is ahead of the disk
	b.standsBooked(round1...).sees("all saved").misses("saving")
	b.books(round2...)
	if code := b.signal(15).exit(); code != 128+15 {
		t.Errorf("exit code %d", code)
	}
	want := append(append([]string{"1.475"}, round1...), round2...)
	if got := readingsIn(t, file); !reflect.DeepEqual(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// Leaving right behind Enter does not outrun the disk.
func TestSlowDisk_LeavingLosesNothing(t *testing.T) {
	b, file := slowly(t)
	b.key(strings.Join(round1, "\r") + "\r\x03")
	if code := b.exit(); code != exitFine {
		t.Errorf("exit code %d", code)
	}
	if got, want := readingsIn(t, file), append([]string{"1.475"}, round1...); !reflect.DeepEqual(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
}
