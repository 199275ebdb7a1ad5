package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// joinJournal opens the journal beside the book and brings the two together:
// the one that is behind catches up; when they differ the book is refused.
func (b *Book) joinJournal() error {
	if b.opt.ReadOnly {
		return b.lookAtJournal()
	}
	path := JournalPath(b.path)
	fresh := false
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		fresh = true
	}
	j, err := openJournal(b.opt.files, path, os.O_RDWR|os.O_CREATE)
	if errors.Is(err, ErrBadLine) {
		if j, err = b.renewJournal(path, err); err != nil {
			return err
		}
	}
	if err != nil {
		return openError(path, err)
	}
	b.journal = j
	if fresh {
		if err := syncDir(filepath.Dir(path)); err != nil {
			return openError(path, err)
		}
		if b.last.Seq > 0 {
			b.remark("The journal %s was missing; it is written anew from the book.", filepath.Base(path))
		}
	}
	taken, caught, err := b.join(j)
	b.opening.TakenOver, b.opening.JournalCaughtUp = taken, caught
	return err
}

// renewJournal keeps a journal whose end cannot be read under another name and
// begins a new one; the book then writes all its events into it.
func (b *Book) renewJournal(path string, why error) (*journal, error) {
	aside, err := setAside(path)
	if err != nil {
		return nil, openError(path, err)
	}
	b.remark("The end of the journal could not be read (%v). It is kept as %s, and a new one is written from the book; "+
		"if the book had lost its last events, they could not be seen in it.", why, filepath.Base(aside))
	return openJournal(b.opt.files, path, os.O_RDWR|os.O_CREATE)
}

// remark adds a sentence to what the booker is told on opening.
func (b *Book) remark(format string, args ...any) {
	b.opening.Notes = append(b.opening.Notes, printable(fmt.Sprintf(format, args...)))
}

// join brings the book and the journal j together.
func (b *Book) join(j *journal) (taken []Record, caught int, err error) {
	if len(j.torn) > 0 {
		b.remark("The last line of %s broke off (%d bytes behind event %d); it is dropped.", filepath.Base(j.path), len(j.torn), j.head.seq)
	}
	if err := j.mend(); err != nil {
		return nil, 0, openError(j.path, err)
	}
	taken, err = b.ahead(j)
	if err != nil {
		return nil, 0, err
	}
	if len(taken) > 0 {
		if err := b.takeOver(taken); err != nil {
			return nil, 0, asDamage(b.path, err)
		}
		b.remark("%s holds %s, which the book file did not have yet or had lost: taken over.",
			filepath.Base(j.path), eventsFromTo(taken[0].Seq, taken[len(taken)-1].Seq))
	}
	caught, err = b.feed(j)
	if err != nil {
		return taken, caught, openError(j.path, err)
	}
	return taken, caught, nil
}

// ahead compares book and journal where both reach and lists the events that
// only the journal has. ErrDiffer shows both sides.
func (b *Book) ahead(j *journal) ([]Record, error) {
	if j.head.seq <= b.last.Seq {
		hash := b.last.Hash
		if j.head.seq == 0 {
			return nil, nil
		} else if j.head.seq < b.last.Seq {
			r, err := b.Record(j.head.seq)
			if err != nil {
				return nil, err
			}
			hash = r.Hash
		}
		if hash != j.head.hash {
			return nil, b.differ(j, j.head.seq, hash, j.head.hash)
		}
		return nil, nil
	}
	list, at, known, err := j.since(b.last.Seq)
	if err != nil {
		return nil, &Error{Path: j.path, What: ErrDiffer, Detail: fmt.Sprintf("the journal is ahead (event %d, the book ends at %d), and its lines between cannot be read",
			j.head.seq, b.last.Seq), Cause: err, Do: "Look at both with: readback audit " + quoted(b.path)}
	}
	if known && at != b.last.Hash {
		return nil, b.differ(j, b.last.Seq, b.last.Hash, at)
	}
	if err := list[0].follows(b.last.Seq, b.last.Hash); err != nil {
		return nil, &Error{Path: b.path, What: ErrDiffer, Detail: "journal " + j.path, Cause: err, Do: differAdvice(b.path)}
	}
	return list, nil
}

// differ words that event seq is not the same in the book and in the journal.
func (b *Book) differ(j *journal, seq uint64, book, journal [32]byte) error {
	return &Error{Path: b.path, What: ErrDiffer, Detail: fmt.Sprintf("event %d has hash %x in the book and %x in %s", seq, book[:6], journal[:6], j.path),
		Do: differAdvice(b.path)}
}

func differAdvice(book string) string {
	return "Do not book in it. Look at both with: readback audit " + quoted(book) +
		"; then move the wrong one away and open again, or restore from the journal under another name"
}

// takeOver writes events that the journal proved into the book.
func (b *Book) takeOver(list []Record) error {
	for from := 0; from < len(list); from += batch {
		part := list[from:min(from+batch, len(list))]
		err := b.h.update(func(tx *bolt.Tx) error {
			c, err := b.in(tx)
			if err != nil {
				return err
			}
			for i := range part {
				if err := c.put(&part[i], encodeRecord(&part[i]), nil); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
		b.setLast(part[len(part)-1])
	}
	return nil
}

// feedChunk is how many bytes of lines are written and synced at once while a
// journal catches up.
const feedChunk = 256 << 10

// feed appends the events that the journal lacks and says how many they were.
func (b *Book) feed(j *journal) (int, error) {
	if j.head.seq >= b.last.Seq {
		return 0, nil
	}
	n := 0
	var lines []byte
	var last Record
	for r, err := range b.RecordsFrom(j.head.seq + 1) {
		if err != nil {
			return n, err
		}
		if r.Seq > b.last.Seq {
			break
		}
		lines, last = AppendLine(lines, r), r
		n++
		if len(lines) >= feedChunk {
			if err := j.write(lines, &last); err != nil {
				return n, err
			}
			lines = lines[:0]
		}
	}
	if len(lines) == 0 {
		return n, nil
	}
	return n, j.write(lines, &last)
}

// lookAtJournal compares without writing, for a book opened to look at.
func (b *Book) lookAtJournal() error {
	j, err := openJournal(b.opt.files, JournalPath(b.path), os.O_RDONLY)
	if err != nil {
		b.remark("The journal was not compared: %v.", err)
		return nil
	}
	defer j.close()
	list, err := b.ahead(j)
	if err != nil {
		return err
	}
	if n := len(list); n > 0 {
		b.opening.Pending = n
		b.remark("The journal holds %d events that are not in the book; open it for booking to take them over.", n)
	}
	return nil
}

// readAll reads the whole journal through the open file, even if its name is gone.
func (j *journal) readAll() *io.SectionReader { return io.NewSectionReader(j.f, 0, j.end) }

// eventsFromTo names events by their numbers.
func eventsFromTo(first, last uint64) string {
	if first == last {
		return fmt.Sprintf("event %d", first)
	}
	return fmt.Sprintf("events %d to %d", first, last)
}
