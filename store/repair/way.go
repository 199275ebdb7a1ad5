package repair

import (
	"os"

	"example.org/readback/store/proof"
)

// A way is how far a gathering is, in bytes: each of its legs is read from end to
// end.
type way struct {
	watch     proof.Watch
	all, gone uint64 // bytes of all books; of the legs behind
}

// sizeOf is the size of a book's file; what cannot be looked at is found out later.
func sizeOf(path string) uint64 {
	info, err := os.Stat(path)
	if err != nil {
		return 0
	}
	return uint64(info.Size())
}

// add adds a book to the way.
func (w *way) add(path string) { w.all += sizeOf(path) }

// leg begins the next leg and returns who is told how far it is.
func (w *way) leg(size uint64) proof.Watch {
	from := w.gone
	w.gone += size
	return func(done, total uint64) {
		if w.watch != nil && total > 0 {
			w.watch(from+uint64(float64(size)*float64(done)/float64(total)), 3*w.all)
		}
	}
}
