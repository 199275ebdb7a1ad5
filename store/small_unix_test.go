//go:build unix

package store

import (
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/readback/store/disk"
	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
)

// Ensure that a journal that is a pipe or leads to a device without end hangs
// nothing: reading says that it was not compared, the audit that it is none.
func TestJournal_IsNoFile(t *testing.T) {
	for name, put := range map[string]func(path string) error{
		"pipe":      func(path string) error { return syscall.Mkfifo(path, 0o600) },
		"/dev/zero": func(path string) error { return os.Symlink("/dev/zero", path) },
	} {
		path := newClosed(t, 5)
		must(t, os.Remove(disk.JournalPath(path)))
		must(t, put(disk.JournalPath(path)))
		done := beside(t, func() {
			p, err := proof.Open(path)
			must(t, err)
			if p.Events() != 5 || len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "no regular file") {
				t.Errorf("%s: %d events, %q", name, p.Events(), p.Notes)
			}
			must(t, p.Close())
			if r := repair.Verify(path); r.Journal.Fault == nil || r.Chains[0].Events != 5 {
				t.Errorf("%s: %+v", name, r)
			}
			if _, err := repair.Restore(disk.JournalPath(path), path, nil); err == nil {
				t.Errorf("%s: restored from nothing", name)
			}
			if b, err := Open(path, testOptions()); err == nil {
				t.Errorf("%s: opened for booking", name)
				b.Close()
			}
		})
		select {
		case <-done:
		case <-time.After(30 * time.Second):
			t.Fatalf("%s: hangs", name)
		}
	}
}

// beside runs f beside the test and says when it has ended.
func beside(t *testing.T, f func()) <-chan struct{} {
	t.Helper()
	done := make(chan struct{})
	go func() { defer close(done); f() }()
	return done
}
