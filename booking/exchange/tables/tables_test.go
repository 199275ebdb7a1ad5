package tables

import (
	"bytes"
	"encoding/csv"
	"io"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/network"
	"example.org/readback/booking/observer"
)

// closer lets a buffer stand for a file.
type closer struct{ bytes.Buffer }

func (*closer) Close() error { return nil }

// Each row has as many cells as its table has columns, every key is there once, and
// a text comes back as it was, whatever is in it (RFC 4180).
func TestFiles_RowsFitTheirTables(t *testing.T) {
	files := map[string]*closer{}
	w, f, err := NewFiles(func(name string) (io.WriteCloser, error) {
		files[name] = &closer{}
		return files[name], nil
	}, "test")
	if err != nil {
		t.Fatal(err)
	}
	b := Book{ID: "ab12", Name: "dam", LastEvent: 200, LastHash: "cd34", State: booking.Book{Job: "a \"b\",\n\\. c"}}
	readings := 0
	for n := 1; n <= 2; n++ {
		s, err := observer.New(observer.Options{Seed: uint64(n), Targets: 5, CloseHalves: true, Distances: true}).Book()
		if err != nil {
			t.Fatal(err)
		}
		s.Number = n
		for i := range s.Readings {
			s.Readings[i].Seq += uint64(100 * n)
		}
		readings += len(s.Readings)
		if err := w.Setup(b, s, "ef56"); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Book(b, nil, network.Report{}); err != nil {
		t.Fatal(err)
	}
	text, err := f.Close("test", []Book{b})
	if err != nil || !strings.Contains(string(text), `"last_hash": "cd34"`) {
		t.Fatalf("%v\n%s", err, text)
	}
	for i, table := range tables {
		rows, err := csv.NewReader(&files[table.Name+".csv"].Buffer).ReadAll()
		if err != nil || len(rows[0]) != len(table.Columns) {
			t.Errorf("%s: %v, %d cells for %d columns", table.Name, err, len(rows[0]), len(table.Columns))
			continue
		}
		seen := map[string]bool{}
		for _, row := range rows[1:] {
			key := strings.Join(row[:table.Key], "|")
			if seen[key] {
				t.Errorf("%s: %s stands twice", table.Name, key)
			}
			seen[key] = true
		}
		if i == books && rows[1][2] != b.State.Job {
			t.Errorf("title %q", rows[1][2])
		}
		if want := map[int]int{books: 1, setups: 2}[i]; want > 0 && len(rows)-1 != want || len(rows)-1 != readings && table.Name == "readings" {
			t.Errorf("%s: %d rows", table.Name, len(rows)-1)
		}
	}
}
