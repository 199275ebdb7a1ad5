package repair

import (
	"io"
	"iter"

	"example.org/readback/store/journal"
)

// A Stage is told how far each stage of a restoring is: what is counted, how many
// are done, of how many.
type Stage func(what string, done, total uint64)

// unwatched is a stage that nobody looks at.
func unwatched(string, uint64, uint64) {}

// A metered reader tells how many megabytes of a file were read.
type metered struct {
	io.Reader
	what       string
	done, size int64
	stage      Stage
}

func (m *metered) Read(p []byte) (int, error) {
	n, err := m.Reader.Read(p)
	m.done += int64(n)
	m.stage(m.what, uint64(m.done>>20), uint64(m.size>>20))
	return n, err
}

// told are records, whose reading is told event by event.
func (s Stage) told(records iter.Seq2[journal.Record, error], total uint64) iter.Seq2[journal.Record, error] {
	return func(yield func(journal.Record, error) bool) {
		for r, err := range records {
			s("events", r.Seq, total)
			if !yield(r, err) {
				return
			}
		}
	}
}
