package repair

import (
	"iter"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// feedChunk is how many bytes of lines are written and synced at once while a
// journal catches up.
const feedChunk = 256 << 10

// Feed appends the events up to last that the journal lacks and says how many
// they were.
func Feed(j *journal.File, src *chain.Source, last uint64) (int, error) {
	return feed(j, src.RecordsFrom(j.Head.Seq+1), last)
}

// feed appends the events of a list up to last.
func feed(j *journal.File, records iter.Seq2[journal.Record, error], last uint64) (int, error) {
	if j.Head.Seq >= last {
		return 0, nil
	}
	n := 0
	var lines []byte
	var at journal.Record
	for r, err := range records {
		if err != nil {
			return n, err
		}
		if r.Seq > last {
			break
		}
		lines, at = journal.AppendLine(lines, r), r
		n++
		if len(lines) >= feedChunk {
			if err := j.Write(lines, &at); err != nil {
				return n, err
			}
			lines = lines[:0]
		}
	}
	if len(lines) == 0 {
		return n, nil
	}
	return n, j.Write(lines, &at)
}

// WriteBook makes a new book of identity id with the given events, up to the
// first fault, and its journal. It returns the number of the last event.
func WriteBook(path string, id [32]byte, records iter.Seq2[journal.Record, error]) (last uint64, err error) {
	if err := chain.MayCreate(path); err != nil {
		return 0, err
	}
	begin := func(tx *bolt.Tx) error { return chain.WriteMeta(tx, id) }
	err = chain.Build(path, begin, func(db *bolt.DB) error {
		last, err = chain.FillChain(db, id, records)
		return err
	})
	if err != nil {
		return 0, err
	}
	return last, writeJournal(path, unwatched)
}

// writeJournal brings the journal beside the closed field book at path to the
// book's last event; it is made if it is not there. The book's head is proven
// on the way.
func writeJournal(path string, stage Stage) (err error) {
	h, m, err := chain.OpenToRead(path)
	if err != nil {
		return err
	}
	defer h.Close()
	src := chain.NewSource(m.Id, filepath.Base(path), h)
	last, err := src.CheckHead()
	if err != nil {
		return fault.AsDamage(path, err)
	}
	j, err := journal.Open(journal.OpenOS, disk.JournalPath(path), os.O_RDWR|os.O_CREATE)
	if err != nil {
		return fault.OpenError(disk.JournalPath(path), err)
	}
	defer j.Close()
	if err = j.Mend(); err == nil {
		_, err = feed(j, stage.told(src.RecordsFrom(j.Head.Seq+1), last.Seq), last.Seq)
	}
	if err != nil {
		return fault.OpenError(j.Path, err)
	}
	return disk.SyncDir(filepath.Dir(path))
}
