package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"

	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/store"
	"example.org/readback/store/repair"
)

// errNotOfBook is the outcome of an audit that did not find in the book what was
// handed over or noted.
var errNotOfBook = errors.New("this does not belong to the book as it stands")

// ties holds hashes that were noted or stand in files against the events of a book.
type ties struct {
	want  map[string][]string // the first wantDigits of a hash, lower case: where it stands
	short []string            // those that were given by hand, perhaps in part
	found map[string]uint64   // number of the event that has it
}

// wantDigits is how much of a hash has to agree: 48 bits.
const wantDigits = 12

// hexHash is a hash in words.
var hexHash = regexp.MustCompile(`^[0-9a-fA-F]{64}$`)

// expect adds a hash that was noted, at least its first twelve digits.
func (t *ties) expect(hash string) error {
	b := bytes.ToLower([]byte(hash))
	if _, err := hex.DecodeString(string(b[:len(b)/2*2])); err != nil || len(b) < wantDigits {
		return badInput(fmt.Errorf("--expect %q: expected at least the first %d digits of a hash", hash, wantDigits))
	}
	t.add(string(b), "the hash "+hash)
	t.short = append(t.short, string(b))
	return nil
}

func (t *ties) add(hash, where string) { t.want[hash] = append(t.want[hash], where) }

// see takes the next event of the book.
func (t *ties) see(r *store.Record) {
	if len(t.want) == 0 {
		return
	}
	whole := hex.EncodeToString(r.Hash[:])
	if _, ok := t.want[whole]; ok {
		t.found[whole] = r.Seq
	}
	for _, hash := range t.short {
		if strings.HasPrefix(whole, hash) {
			t.found[hash] = r.Seq
		}
	}
}

// fold begins the check of a chain: its events are folded, and seen by t.
func (t *ties) fold(group func(uint32) ([]store.Record, error)) func(*store.Record) error {
	fold := book.Fold(group)
	return func(r *store.Record) error {
		t.see(r)
		return fold(r)
	}
}

// tell says of each hash that was noted which event has it.
func (t *ties) tell(w io.Writer) (err error) {
	for hash, where := range t.want {
		if seq, ok := t.found[hash]; ok {
			fmt.Fprintf(w, "  %s is that of event %d.\n", where[0], seq)
		} else {
			err = errors.Join(err, fmt.Errorf("%w: no event has %s", errNotOfBook, where[0]))
		}
	}
	return err
}

// checkFile holds a file that was handed over against the book: an export must be
// what the book gives today, or the beginning of it; a page or a drawing file, whose
// figures may be laid out in many ways, must name the hash of an event of the book.
func (c *Context) checkFile(path string, picked book.Chosen) error {
	w := c.Out
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return c.checkTables(path, picked)
	}
	content, done, err := c.handedOver(path)
	if err != nil {
		return badInput(fmt.Errorf("cannot read what was handed over: %w", err))
	}
	defer done()
	size, name := content.Size(), bookNameIn(content)
	for _, as := range []string{"csv", "directions", "json", "jsonl"} {
		m := &matcher{want: bufio.NewReader(whole(content))}
		out := bufio.NewWriter(m)
		err := exportAgain(out, as, picked, name)
		if err == nil {
			err = out.Flush()
		}
		switch {
		case m.broken != nil:
			return badInput(fmt.Errorf("cannot read what was handed over: %w", m.broken))
		case m.other || size == 0:
		case err != nil:
			return err
		case m.n == size:
			fmt.Fprintf(w, "  %s is the whole export of this book (--as %s).\n", path, as)
			return nil
		case m.n > size && !endsLine(content):
			return fmt.Errorf("%w: %s is the beginning of its export (--as %s), %d of %d bytes, and breaks off within a line: it is short", errNotOfBook, path, as, size, m.n)
		case m.n > size:
			fmt.Fprintf(w, "  %s is the beginning of the export of this book (--as %s), %d of %d bytes: the book went on since, or the file is short.\n", path, as, size, m.n)
			return nil
		}
	}
	return checkNamed(w, path, whole(content), picked)
}

// A readable file is read several times, a part at a time.
type readable interface {
	io.ReaderAt
	Size() int64
}

// endsLine tells whether a file ends with the end of a line.
func endsLine(f readable) bool {
	var last [1]byte
	_, err := f.ReadAt(last[:], f.Size()-1)
	return (err == nil || errors.Is(err, io.EOF)) && last[0] == '\n'
}

// whole reads a handed file from its beginning.
func whole(f readable) io.Reader { return io.NewSectionReader(f, 0, f.Size()) }

// handedOver opens a file that was handed over; what cannot be read twice is kept
// until it was.
func (c *Context) handedOver(path string) (readable, func() error, error) {
	from := c.In
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return nil, nil, err
		}
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() {
			return io.NewSectionReader(f, 0, info.Size()), f.Close, nil
		}
		defer f.Close()
		from = f
	}
	kept := &output.Spool{}
	if _, err := io.Copy(kept, from); err != nil {
		return nil, nil, errors.Join(err, kept.Close())
	}
	return kept, kept.Close, nil
}

// exportAgain writes what the book gives today, under the name that its file had
// then: a book may be called another name since.
func exportAgain(w io.Writer, as string, picked book.Chosen, name string) error {
	setups := picked.Folded()
	if name != "" && len(picked.Chapters) == 1 {
		setups = func(yield func(book.Outgoing, error) bool) {
			for s, err := range picked.Folded() {
				if s.Name = name; !yield(s, err) {
					return
				}
			}
		}
	}
	switch as {
	case "csv":
		return exportCSV(w, setups)
	case "directions":
		return exportDirections(w, setups)
	}
	return ExportCmd{As: as}.write(w, picked, &Context{errs: io.Discard})
}

// bookNameIn is the book that the first row of a file of readings or directions names.
func bookNameIn(content readable) string {
	const most = 1 << 20
	rows := csv.NewReader(io.LimitReader(whole(content), most))
	head, err := rows.Read()
	if err != nil {
		return ""
	}
	row, err := rows.Read()
	at := slices.Index(head, "book")
	if err != nil || at < 0 {
		return ""
	}
	return strings.TrimPrefix(row[at], "'")
}

// checkNamed looks for the hashes that a file names among the events of the book.
func checkNamed(w io.Writer, path string, content io.Reader, picked book.Chosen) error {
	t := &ties{want: map[string][]string{}, found: map[string]uint64{}}
	err := hashesIn(content, func(hash string) {
		if h := strings.ToLower(hash); t.want[h] == nil && !picked.Has(h) {
			t.add(h, path)
		}
	})
	if err != nil {
		return badInput(fmt.Errorf("cannot read what was handed over: %w", err))
	}
	if len(t.want) == 0 {
		return fmt.Errorf("%w: %s is no export of it, and names no hash of an event", errNotOfBook, path)
	}
	for _, ch := range picked.Chapters {
		for r, err := range ch.Records() {
			if err != nil {
				return err
			}
			t.see(&r)
		}
	}
	if len(t.found) < len(t.want) {
		return fmt.Errorf("%w: %s names %d hashes of events, %d of them are in the book", errNotOfBook, path, len(t.want), len(t.found))
	}
	fmt.Fprintf(w, "  %s names %d hashes of events, all of them in this book; its figures were not compared.\n", path, len(t.want))
	return nil
}

// hashesIn finds the hashes in a text: words of 64 hexadecimal digits.
func hashesIn(r io.Reader, found func(hash string)) error {
	in := bufio.NewReader(r)
	word := make([]byte, 0, 66) // one more than a hash: whatever is longer is none
	for {
		b, err := in.ReadByte()
		if err == nil && (b >= '0' && b <= '9' || b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b == '_') {
			word = append(word, b)[:min(len(word)+1, 65)]
			continue
		}
		if hexHash.Match(word) {
			found(string(word))
		}
		word = word[:0]
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

// errOther ends an export whose first other byte was seen.
var errOther = errors.New("this is another file")

// A matcher compares what is written to it with what is wanted.
type matcher struct {
	want   io.Reader
	n      int64
	other  bool
	broken error // why what is wanted could not be read
	part   []byte
}

// Write compares the next part.
func (m *matcher) Write(p []byte) (int, error) {
	m.part = append(m.part[:0], p...)
	k, err := io.ReadFull(m.want, m.part)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		m.broken = err
		return 0, err
	}
	if m.other = !bytes.Equal(m.part[:k], p[:k]); m.other {
		return 0, errOther
	}
	m.n += int64(len(p))
	return len(p), nil
}

// inUse says of a report that the book was read by its journal.
func inUse(r *repair.Report) string {
	if r.InUse {
		return "journal"
	}
	return "book"
}
