package tables

import (
	"bytes"
	"encoding/csv"
	"io"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/network"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/lengths"
)

// closer lets a buffer stand for a file.
type closer struct{ bytes.Buffer }

func (*closer) Close() error { return nil }

// inMemory is a writer of tables into buffers, by the names of the files.
func inMemory(t *testing.T) (*Writer, *Files, map[string]*closer) {
	t.Helper()
	files := map[string]*closer{}
	w, f, err := NewFiles(func(name string) (io.WriteCloser, error) {
		files[name] = &closer{}
		return files[name], nil
	}, "test")
	if err != nil {
		t.Fatal(err)
	}
	return w, f, files
}

// What was put right stands in the rows: a setup struck whole with its reason, a
// reading left out and one taken back, and the readings under the name they were
// given later.
func TestFiles_WhatWasPutRight(t *testing.T) {
	w, f, files := inMemory(t)
	s, err := observer.New(observer.Options{Seed: 1, Targets: 3}).Book()
	if err != nil {
		t.Fatal(err)
	}
	number, lifted := s.Number, s.Lift != nil
	do := func(e event.Event, err error) {
		t.Helper()
		if err == nil {
			s, err = s.Apply(event.Entry{Seq: s.LastSeq + 1, Setup: number, Event: e})
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	out, back, was := s.Readings[0].Seq, s.Readings[1].Seq, s.Spec.Targets[0]
	left, err := s.LeaveOutReading(out, "it was hurried")
	do(left, err)
	left, err = s.LeaveOutReading(back, "it was hurried too")
	do(left, err)
	taken, err := s.TakeBackReading(back, "it was not")
	do(taken, err)
	renamed := []spec.Rename{{From: was, To: "Steeple"}}
	amended, err := s.Amend(s.Spec.Rename(renamed), renamed, "misspelt")
	do(amended, err)
	opened, err := booking.Open(s.Spec)
	if err != nil {
		t.Fatal(err)
	}
	empty, err := booking.Fold([]event.Entry{{Seq: 900, Setup: 2, Event: opened}, {Seq: 901, Setup: 2, Event: event.SetupStruck{Reason: "opened by mistake"}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []booking.Setup{s, empty} {
		if err := w.Setup(Book{ID: "ab12"}, x, "ef56"); err != nil {
			t.Fatal(err)
		}
	}
	state := day.Book{Checks: []day.InstrumentCheck{{InstrumentChecked: event.InstrumentChecked{Bubble: day.InOrder, By: "Ines Holm"}}},
		Notes:  []day.HandOver{{HandedOver: event.HandedOver{Text: "The peg at Kiln is loose.", By: "Tam Okoro"}}},
		Plan:   []event.PlannedStation{{Station: "Weir", RO: "Spire", MoreROs: []string{"Mast"}, Targets: []string{"Alder", "Mast"}}},
		Levels: []event.LevelledRise{{From: "Weir", To: "Alder", Rise: 1234 * lengths.Millimetre, SD: lengths.Millimetre}}, Copy: "card"}
	if err := w.Book(Book{ID: "ab12", State: state}, nil, network.Report{}); err != nil {
		t.Fatal(err)
	}
	if _, err := f.Close("test", []Book{{ID: "ab12"}}); err != nil {
		t.Fatal(err)
	}
	rows := func(table, column string) (out []string) {
		for i, x := range tables {
			if x.Name != table {
				continue
			}
			cells, err := csv.NewReader(bytes.NewReader(files[table+".csv"].Bytes())).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for k, c := range tables[i].Columns {
				if c.Name == column {
					for _, r := range cells[1:] {
						out = append(out, r[k])
					}
				}
			}
		}
		return out
	}
	if got := rows("setups", "struck"); len(got) != 2 || got[0] != "" || got[1] != "opened by mistake" {
		t.Errorf("struck: %q", got)
	}
	if got := rows("readings", "left_out"); got[0] != "it was hurried" || got[1] != "" {
		t.Errorf("left out: %q", got[:2])
	}
	if kinds, texts := rows("notes", "kind"), rows("notes", "text"); len(kinds) == 0 || kinds[0] != "amended" || !strings.Contains(texts[0], was+" is now Steeple") || rows("notes", "reason")[0] != "misspelt" {
		t.Errorf("notes: %q %q", kinds, texts)
	}
	if kinds := rows("book_notes", "kind"); strings.Join(kinds, ", ") != "instrument checked, note to the next crew, planned, levelled, second journal" {
		t.Errorf("notes of the book: %q", kinds)
	}
	if texts := rows("book_notes", "text"); strings.Join(texts[2:], "; ") != "Weir, RO Spire; Mast, to Alder, Mast; Weir to Alder +1.2340 m, σ 1 mm; card" {
		t.Errorf("texts of them: %q", texts)
	}
	if got := rows("readings", "target"); !strings.Contains(strings.Join(got, " "), "Steeple") || strings.Contains(strings.Join(got, " "), was) {
		t.Errorf("targets: %q (lifted %v)", got, lifted)
	}
}

// Each row has as many cells as its table has columns, every key is there once, and
// a text comes back as it was, whatever is in it (RFC 4180).
func TestFiles_RowsFitTheirTables(t *testing.T) {
	w, f, files := inMemory(t)
	b := Book{ID: "ab12", Name: "dam", LastEvent: 200, LastHash: "cd34", State: day.Book{Job: "a \"b\",\n\\. c"}}
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
