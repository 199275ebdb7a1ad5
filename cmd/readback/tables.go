package main

import (
	"errors"
	"fmt"
	"io"

	"example.org/readback/booking/exchange/tables"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/cmd/internal/program"
)

// manifest is the file that says what a folder of tables holds.
const manifest = "manifest.json"

// exportSQL writes the books as one stream of SQL.
func (x ExportCmd) exportSQL(c *Context) error {
	return x.Write(c.Out, x.Book, func(w io.Writer) error {
		out, sql, err := tables.NewSQL(w, program.Version())
		if err != nil {
			return err
		}
		if _, err := x.fill(c, out); err != nil {
			return err
		}
		return sql.Close()
	})
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
	list, err := x.fill(c, out)
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
func (x ExportCmd) fill(c *Context, out *tables.Writer) ([]tables.Book, error) {
	p := c.progress("readings", 0)
	defer p.End()
	var list []tables.Book
	from := map[string]string{}
	for _, path := range x.Book {
		more, err := x.fillFrom(c, path, out, p)
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

func (x ExportCmd) fillFrom(c *Context, path string, out *tables.Writer, p *output.Progress) ([]tables.Book, error) {
	picked, done, err := c.choose(path, nil)
	if err != nil {
		return nil, err
	}
	defer done()
	list, err := picked.Tables(out, p.At)
	if err == nil {
		err = c.tie(picked)
	}
	return list, err
}
