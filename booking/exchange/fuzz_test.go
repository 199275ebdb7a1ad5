package exchange

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/check"
)

// FuzzReadings reads anything: no panic, every fault is one of the file, what
// was read is the same when it is written and read again, and every setup that
// can be told from the rows can be booked.
func FuzzReadings(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "readings", "*.csv"))
	if err != nil || len(files) == 0 {
		f.Fatal(files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	const head = "setup,station,round,face,target,quantity,reading,unit,struck\n"
	f.Add([]byte("\xef\xbb\xbf" + head + "1,Weir,1,FL,Spire,horizontal,0°12′25″,dms,round left out: rain\r\n"))
	f.Add([]byte(head + "1,Weir,1,FR,Spire,horizontal,0d12m25.5s,dms,\n1,Weir,1,FR,Spire,horizontal,\"0 12 25\",dms,'=\n"))
	f.Add([]byte(head + "1,Weir,,,,instrument height,1.5,ft,\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		file, err := readAll(bytes.NewReader(text), "fuzz.csv")
		if err != nil {
			if !errors.Is(err, ErrFile) {
				t.Fatalf("not a fault of the file: %v", err)
			}
			return
		}
		rows := allRows(t, file)
		back, err := readAll(strings.NewReader(rowsWritten(t, rows)), "again.csv")
		if err != nil {
			t.Fatalf("what was written does not read: %v", err)
		}
		if !slices.EqualFunc(rows, allRows(t, back), func(a, b row) bool { a.Line, b.Line = 0, 0; return a == b }) {
			t.Fatalf("read %+v\nback %+v", rows, allRows(t, back))
		}
		ps, err := file.papers(Options{})
		if err != nil {
			if !errors.Is(err, ErrFile) {
				t.Fatalf("not a fault of the file: %v", err)
			}
			return
		}
		for _, p := range ps {
			s, err := p.Setup()
			if err != nil {
				t.Fatalf("cannot be booked: %v\n%s", err, text)
			}
			check.Judge(s)
			again := written(t, s)
			if f, err := readAll(strings.NewReader(again), "export.csv"); err != nil || len(allRows(t, f)) != len(s.Readings) {
				t.Fatalf("the export does not read: %v\n%s", err, again)
			}
		}
	})
}

// allRows are the rows of a file in their order.
func allRows(t *testing.T, f *File) (rows []row) {
	t.Helper()
	if f == nil {
		return nil
	}
	err := f.each(func(r row, faults faults) bool {
		rows = append(rows, r)
		return len(faults) == 0
	})
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func rowsWritten(t *testing.T, rows []row) string {
	t.Helper()
	var b strings.Builder
	w := NewWriter(&b)
	for _, r := range rows {
		if err := w.row(r); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
