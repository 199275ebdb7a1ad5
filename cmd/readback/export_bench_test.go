package main

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/booking/observer"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/store"
	"example.org/readback/store/journal"
	"example.org/readback/store/repair"
	"example.org/readback/testdata"
)

// seasonReadings is how many readings the book of the benchmarks holds; give
// READBACK_READINGS=1000000 for a firm's season.
func seasonReadings(b *testing.B) int {
	n, err := strconv.Atoi(os.Getenv("READBACK_READINGS"))
	if err != nil {
		n = 50_000
	}
	b.ReportMetric(float64(n), "readings")
	return n
}

// seasonBook makes a book of n readings, 80 a setup, by way of its journal.
func seasonBook(b testing.TB, n int) string {
	b.Helper()
	dir := b.TempDir()
	f, err := os.Create(filepath.Join(dir, "season.jsonl"))
	if err != nil {
		b.Fatal(err)
	}
	w := bufio.NewWriter(f)
	var prev store.Record
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	var line []byte
	put := func(setup int, e event.Event) {
		kind, version, body, err := event.Encode(e)
		if err != nil {
			b.Fatal(err)
		}
		at = at.Add(20 * time.Second)
		r := store.Record{Seq: prev.Seq + 1, At: at, Kind: uint16(kind), Version: version, Group: uint32(setup), Body: body, Prev: prev.Hash}
		r.ID[0], r.ID[1], r.ID[2], r.ID[3] = byte(r.Seq>>24), byte(r.Seq>>16), byte(r.Seq>>8), byte(r.Seq)
		r.Hash = r.Sum()
		line = journal.AppendLine(line[:0], r)
		if _, err := w.Write(line); err != nil {
			b.Fatal(err)
		}
		prev = r
	}
	prev.Hash[0] = 1 // the identity of the book
	put(0, event.BookOpened{Program: "bench"})
	for i, setup := 0, 1; i < n; setup++ {
		o := observer.New(observer.Options{Seed: uint64(setup), Targets: 9, Rounds: 3})
		o.Spec.Station = fmt.Sprintf("Pillar %d", setup)
		s, err := o.Book()
		if err != nil {
			b.Fatal(err)
		}
		put(setup, event.SetupOpened{Spec: o.Spec})
		for _, r := range s.Readings {
			i++
			put(setup, event.ReadingBooked{Slot: r.Slot, Text: r.Text, Value: r.Value, By: r.By})
		}
	}
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	if err := f.Close(); err != nil {
		b.Fatal(err)
	}
	book := filepath.Join(dir, "season")
	if _, err := repair.Restore(f.Name(), book, nil); err != nil {
		b.Fatal(err)
	}
	return book
}

// BenchmarkExport writes the CSV of a season beside a bare walk: every record
// read from the same book, its body decoded into a struct, one row written with
// encoding/csv. The ratio of the two is the figure that counts; B/op over the
// readings tells that memory is flat.
func BenchmarkExport(b *testing.B) {
	n := seasonReadings(b)
	file := seasonBook(b, n)
	b.Run("walk", func(b *testing.B) {
		for range b.N {
			bareWalk(b, file, io.Discard)
		}
	})
	b.Run("csv", func(b *testing.B) {
		for range b.N {
			all, done, err := book.Choose(file, nil, nil)
			if err != nil {
				b.Fatal(err)
			}
			if err := exportCSV(io.Discard, all.Folded()); err != nil {
				b.Fatal(err)
			}
			done()
		}
	})
}

// bareWalk is the yardstick: read, decode, write, nothing else.
func bareWalk(b *testing.B, file string, w io.Writer) {
	all, done, err := book.Choose(file, nil, nil)
	if err != nil {
		b.Fatal(err)
	}
	defer done()
	out := csv.NewWriter(w)
	for r, err := range all.Chapters[0].Records() {
		if err != nil {
			b.Fatal(err)
		}
		if event.Kind(r.Kind) != readingBooked {
			continue
		}
		var e event.ReadingBooked
		if err := json.Unmarshal(r.Body, &e); err != nil {
			b.Fatal(err)
		}
		s := e.Slot
		if err := out.Write([]string{strconv.Itoa(int(r.Group)), "", strconv.Itoa(s.Round), s.Face.String(), s.Target, s.Quantity.String(),
			e.Text, "dms", r.At.Format(time.RFC3339), "", e.Remark}); err != nil {
			b.Fatal(err)
		}
	}
	out.Flush()
}

// BenchmarkExportForms writes a season, and a tenth of it, in every form in one run:
// what a reading costs may not grow with the book, nor the memory beyond its bound.
func BenchmarkExportForms(b *testing.B) {
	n := seasonReadings(b)
	tenth, whole := seasonBook(b, n/10), seasonBook(b, n)
	for _, as := range []string{"csv", "directions", "json", "jsonl", "landxml", "sql"} {
		b.Run(as, func(b *testing.B) {
			var took, worked [2]time.Duration
			peak := watchHeap(b)
			for b.Loop() {
				for i, file := range []string{tenth, whole} {
					start, before := time.Now(), testdata.Processor()
					c := &Context{Out: io.Discard, Err: io.Discard, Getenv: os.Getenv}
					if code := run([]string{"export", file, "--as", as}, c); code != exitFine {
						b.Fatal("export failed")
					}
					took[i] += time.Since(start)
					worked[i] += testdata.Processor() - before
				}
			}
			b.ReportMetric(float64(took[1].Nanoseconds())/float64(b.N)/float64(n), "ns/reading")
			b.ReportMetric(float64(took[1])/float64(took[0])/10, "grows")
			b.ReportMetric(float64(worked[1])/float64(took[1]), "processors")
			b.ReportMetric(float64(peak.Load())/1e6, "peak-MB")
		})
	}
}
