package tables

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"strings"
)

// Files are the tables as CSV files (RFC 4180 with a header, UTF-8, LF), being
// written.
type Files struct {
	files [numTables]*file
}

type file struct {
	to   io.WriteCloser
	buf  *bufio.Writer
	hash hash.Hash
	rows int64
}

// NewFiles begins a file for each table. create makes a file of a name.
func NewFiles(create func(name string) (io.WriteCloser, error), program string) (*Writer, *Files, error) {
	f := &Files{}
	for i, t := range tables {
		to, err := create(t.Name + ".csv")
		if err != nil {
			return nil, nil, errors.Join(err, f.closeAll())
		}
		h := sha256.New()
		f.files[i] = &file{to: to, hash: h, buf: bufio.NewWriterSize(io.MultiWriter(to, h), 1<<16)}
		if _, err := fmt.Fprintln(f.files[i].buf, strings.ReplaceAll(t.all(), " ", "")); err != nil {
			return nil, nil, errors.Join(err, f.closeAll())
		}
	}
	return &Writer{to: f, program: program}, f, nil
}

func (f *Files) line(table int, text []byte) error {
	x := f.files[table]
	x.rows++
	if _, err := x.buf.Write(text); err != nil {
		return err
	}
	return x.buf.WriteByte('\n')
}

func (f *Files) closeAll() (err error) {
	for _, x := range f.files {
		if x != nil {
			err = errors.Join(err, x.buf.Flush(), x.to.Close())
		}
	}
	return err
}

// Abandon ends the files as far as they are.
func (f *Files) Abandon() error { return f.closeAll() }

// Format names the form of a manifest.
const Format = "readback tables 1"

// A Manifest says what the files hold, and how they are loaded.
type Manifest struct {
	Format  string          `json:"format"`
	Program string          `json:"program"`
	Books   []manifestBook  `json:"books"`
	Tables  []manifestTable `json:"tables"`
	Load    load            `json:"load"`
}

// A manifestBook ties the files to the chain of events they were made from.
type manifestBook struct {
	Book      string `json:"book"`
	Name      string `json:"name"`
	LastEvent uint64 `json:"last_event"`
	LastHash  string `json:"last_hash"`
}

// A manifestTable is one file with its rows, the header not counted, and its hash.
type manifestTable struct {
	Table  string `json:"table"`
	File   string `json:"file"`
	Rows   int64  `json:"rows"`
	SHA256 string `json:"sha256"`
}

// load are the lines that load the files, run in their folder: one statement
// each, for psql, and for DuckDB which also writes Parquet.
type load struct {
	PostgreSQL []string `json:"postgresql"`
	DuckDB     []string `json:"duckdb"`
}

// Close ends the files and returns the manifest.
func (f *Files) Close(program string, list []Book) ([]byte, error) {
	if err := f.closeAll(); err != nil {
		return nil, err
	}
	m := Manifest{Format: Format, Program: program, Books: []manifestBook{}}
	for _, b := range list {
		m.Books = append(m.Books, manifestBook{b.ID, b.Name, b.LastEvent, b.LastHash})
	}
	for i, t := range tables {
		x := f.files[i]
		m.Tables = append(m.Tables, manifestTable{t.Name, t.Name + ".csv", x.rows, hex.EncodeToString(x.hash.Sum(nil))})
		m.Load.PostgreSQL = append(m.Load.PostgreSQL, t.plainCreate(), fmt.Sprintf("\\copy %s from '%s.csv' with (format csv, header)", t.Name, t.Name))
		m.Load.DuckDB = append(m.Load.DuckDB, fmt.Sprintf("create table %s as select * from read_csv('%s.csv', header = true, columns = {%s});", t.Name, t.Name, t.duckColumns()),
			fmt.Sprintf("copy %s to '%s.parquet' (format parquet);", t.Name, t.Name))
	}
	text, err := json.MarshalIndent(m, "", " ")
	return append(text, '\n'), err
}

// plainCreate is create on one line.
func (t table) plainCreate() string {
	return fmt.Sprintf("create table %s (%s, primary key (%s));", t.Name, t.typed(), t.names(t.Key))
}

func (t table) duckColumns() string {
	var cs []string
	for _, c := range t.Columns {
		cs = append(cs, fmt.Sprintf("'%s': '%s'", c.Name, c.Kind.sqlType()))
	}
	return strings.Join(cs, ", ")
}
