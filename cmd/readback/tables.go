package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/readback/booking/exchange/tables"
	"example.org/readback/cmd/internal/program"
)

// manifest is the file that says what a folder of tables holds.
const manifest = "manifest.json"

// exportSQL writes the books as one stream of SQL.
func (x ExportCmd) exportSQL(c *Context) error {
	held, err := x.held(c)
	if err != nil {
		return badInput(err)
	}
	return x.Write(c.Out, x.Book, func(w io.Writer) error {
		out, sql, err := tables.NewSQL(w, program.Version())
		if err != nil {
			return err
		}
		list, err := x.fill(c, out, held)
		if err != nil {
			return err
		}
		for _, b := range list {
			if b.Since > 0 {
				sql.GoesOn(b)
			}
		}
		return sql.Close()
	})
}

// held are the hashes of last events that the database holds.
func (x ExportCmd) held(c *Context) (map[string]bool, error) {
	if x.Since == "" {
		return nil, nil
	}
	text, err := c.read(x.Since)
	if err != nil {
		return nil, fmt.Errorf("cannot read what the database holds: %w", err)
	}
	held := map[string]bool{}
	for word := range strings.FieldsSeq(string(text)) {
		if !hexHash.MatchString(word) {
			return nil, fmt.Errorf("%s: %.80q is not the hash of an event: expected 64 hex digits a line, as select last_hash from readback.books gives them", x.Since, word)
		}
		held[strings.ToLower(word)] = true
	}
	return held, nil
}

// exportTables writes the books as a folder of CSV files with a manifest.
func (x ExportCmd) exportTables(c *Context) error {
	if x.ToStdout() {
		return badInput(errors.New("--as tables writes a folder: name it with -o FOLDER"))
	}
	folder, err := x.CreateFolder(manifest)
	if err != nil {
		return err
	}
	defer folder.Abandon()
	out, files, err := tables.NewFiles(folder.Create, program.Version())
	if err != nil {
		return err
	}
	list, err := x.fill(c, out, nil)
	if err != nil {
		return errors.Join(err, files.Abandon())
	}
	text, err := files.Close(program.Version(), list)
	if err != nil {
		return err
	}
	w, err := folder.Create(manifest)
	if err != nil {
		return err
	}
	if _, err := w.Write(text); err != nil {
		return errors.Join(err, w.Close())
	}
	if err := w.Close(); err != nil {
		return err
	}
	return folder.Commit()
}

// fill writes the rows of every book that is named.
func (x ExportCmd) fill(c *Context, out *tables.Writer, held map[string]bool) ([]tables.Book, error) {
	var list []tables.Book
	from := map[string]string{}
	for _, path := range x.Book {
		more, err := x.fillFrom(c, path, out, held)
		if err != nil {
			return nil, err
		}
		for _, b := range more {
			if other, twice := from[b.ID]; twice {
				return nil, badInput(fmt.Errorf("%s and %s hold the same book %s: name one of them", other, path, b.Name))
			}
			from[b.ID] = path
		}
		list = append(list, more...)
	}
	return list, nil
}

func (x ExportCmd) fillFrom(c *Context, path string, out *tables.Writer, held map[string]bool) ([]tables.Book, error) {
	picked, done, err := c.choose(path, nil)
	if err != nil {
		return nil, err
	}
	defer done()
	list, err := picked.Tables(out, held)
	if err == nil {
		err = c.tie(picked)
	}
	return list, err
}
