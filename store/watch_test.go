package store

import (
	"path/filepath"
	"testing"

	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
)

// a watcher demands that what is done only grows, and never past the whole.
type watcher struct {
	t                  *testing.T
	calls, done, total uint64
}

func (w *watcher) watch(done, total uint64) {
	if w.calls++; done < w.done || done > total {
		w.t.Fatalf("%d of %d after %d of %d", done, total, w.done, w.total)
	}
	w.done, w.total = done, total
}

// Who watches a long reading is told how far it is up to its end.
func TestWatch_IsToldUpToTheEnd(t *testing.T) {
	a, b := newBook(t, 30), newBook(t, 300)
	a.Close()
	b.Close()
	out := filepath.Join(t.TempDir(), "office.readback")
	w := watcher{t: t}
	if _, err := repair.Gather(out, w.watch, a.path, b.path); err != nil || w.calls < 660 || w.done == 0 {
		t.Errorf("gather: %d calls, %d of %d, %v", w.calls, w.done, w.total, err)
	}
	w = watcher{t: t}
	open, err := proof.OpenWatched(out, w.watch)
	if err != nil || w.done != 330 || w.total != 330 {
		t.Errorf("opening: %d of %d, %v", w.done, w.total, err)
	}
	open.Close()
	w = watcher{t: t}
	if r := repair.Audit(out, repair.Checks{Watch: w.watch}); r.Err() != nil || w.done != 330 || w.total != 330 {
		t.Errorf("audit: %d of %d, %v", w.done, w.total, r.Err())
	}
}
