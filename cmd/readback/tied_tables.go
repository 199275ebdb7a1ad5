package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"example.org/readback/booking/exchange/tables"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/program"
)

// checkTables holds a folder of tables against the book: every file must be what the
// manifest says, the manifest must name the book and one of its events, and where
// the book has not gone on since, its tables must come out the same again.
func (c *Context) checkTables(folder string, picked book.Chosen) error {
	m, err := manifestIn(folder)
	if err != nil {
		return badInput(fmt.Errorf("%s is no folder of tables: %w", folder, err))
	}
	for _, t := range m.Tables {
		if filepath.Base(t.File) != t.File || t.File == "" {
			return fmt.Errorf("%w: the manifest in %s names the file %q", errNotOfBook, folder, t.File)
		}
		sum, err := sumOf(filepath.Join(folder, t.File))
		if err != nil {
			return badInput(fmt.Errorf("cannot read what was handed over: %w", err))
		}
		if sum != t.SHA256 {
			return fmt.Errorf("%w: %s is not the file that its manifest names: it was changed since", errNotOfBook, filepath.Join(folder, t.File))
		}
	}
	at := map[string]uint64{} // last event of each book, by its hash
	for _, b := range m.Books {
		if !picked.Has(b.Book) {
			return fmt.Errorf("%w: %s is also of the book %s (%.12s), which is not read here", errNotOfBook, folder, b.Name, b.Book)
		}
		at[b.LastHash] = b.LastEvent
	}
	if len(m.Books) != len(picked.Chapters) || len(m.Tables) == 0 {
		return fmt.Errorf("%w: %s holds %d books, here are %d", errNotOfBook, folder, len(m.Books), len(picked.Chapters))
	}
	onward, err := eventsAfter(picked, at)
	switch {
	case err != nil:
		return err
	case len(at) > 0:
		return fmt.Errorf("%w: %s was made from an event that is not in it", errNotOfBook, folder)
	case onward > 0:
		fmt.Fprintf(c.Out, "  %s is whole, and was made from this book as it stood %s ago; its rows were not compared.\n", folder, book.Events(onward))
		return nil
	case m.Program != program.Version():
		fmt.Fprintf(c.Out, "  %s is whole, and was made from this book as it stands, by version %s; its rows were not compared.\n", folder, m.Program)
		return nil
	}
	return c.sameTables(folder, m, picked)
}

// eventsAfter takes the events that are found out of at, and counts those that came
// after them.
func eventsAfter(picked book.Chosen, at map[string]uint64) (n int, err error) {
	for _, ch := range picked.Chapters {
		for r, err := range ch.Records() {
			if err != nil {
				return 0, err
			}
			n++
			if h := hex.EncodeToString(r.Hash[:]); at[h] == r.Seq {
				delete(at, h)
				n -= int(r.Seq)
			}
		}
	}
	return n, nil
}

// sameTables makes the tables once more and compares their hashes.
func (c *Context) sameTables(folder string, m tables.Manifest, picked book.Chosen) error {
	out, files, err := tables.NewFiles(func(string) (io.WriteCloser, error) { return nowhere{io.Discard}, nil }, program.Version())
	if err != nil {
		return err
	}
	list, err := picked.Tables(out, nil)
	if err != nil {
		return errors.Join(err, files.Abandon())
	}
	text, err := files.Close(program.Version(), list)
	if err != nil {
		return err
	}
	var again tables.Manifest
	if err := json.Unmarshal(text, &again); err != nil {
		return err
	}
	was := map[string]string{}
	for _, t := range m.Tables {
		was[t.Table] = t.SHA256
	}
	for _, t := range again.Tables {
		if was[t.Table] != t.SHA256 {
			return fmt.Errorf("%w: the table %s in %s is not that of the book", errNotOfBook, t.Table, folder)
		}
	}
	fmt.Fprintf(c.Out, "  %s is the whole export of this book (--as tables), %d files.\n", folder, len(again.Tables))
	return nil
}

// nowhere is a file that keeps nothing.
type nowhere struct{ io.Writer }

// Close has nothing to do.
func (nowhere) Close() error { return nil }

func manifestIn(folder string) (m tables.Manifest, err error) {
	f, err := os.Open(filepath.Join(folder, manifest))
	if err != nil {
		return m, err
	}
	defer f.Close()
	const most = 16 << 20
	text, err := io.ReadAll(io.LimitReader(f, most))
	if err == nil {
		err = json.Unmarshal(text, &m)
	}
	if err == nil && m.Format != tables.Format {
		err = fmt.Errorf("its %s is of the format %q: expected %q", manifest, m.Format, tables.Format)
	}
	return m, err
}

// sumOf is the SHA-256 of a file, in hexadecimal.
func sumOf(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
