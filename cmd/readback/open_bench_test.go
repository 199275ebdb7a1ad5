package main

import (
	"bufio"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/programme"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/store"
	"example.org/readback/store/journal"
)

// millionEvents writes the journal of a book of about so many events: drills
// booked one after the other.
func millionEvents(b *testing.B, events int) string {
	b.Helper()
	name := filepath.Join(b.TempDir(), "long.jsonl")
	f, err := os.Create(name)
	if err != nil {
		b.Fatal(err)
	}
	w := bufio.NewWriterSize(f, 1<<20)
	prev := [32]byte{1}
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	seq := uint64(0)
	write := func(setup int, e event.Event) {
		seq++
		at = at.Add(10 * time.Second)
		kind, version, body, err := event.Encode(e)
		if err != nil {
			b.Fatal(err)
		}
		r := store.Record{Seq: seq, At: at, Kind: uint16(kind), Version: version, Group: uint32(setup), Body: body, Prev: prev}
		copy(r.ID[:], strconv.FormatUint(seq, 10))
		r.Hash = r.Sum()
		prev = r.Hash
		if _, err := w.Write(journal.AppendLine(nil, r)); err != nil {
			b.Fatal(err)
		}
	}
	write(0, event.BookOpened{Program: "bench"})
	o := observer.New(observer.Options{Seed: 1, Targets: 7, Rounds: 4, Distances: true})
	for setup := 1; int(seq) < events; setup++ {
		bookWhole(b, setup, o, write)
	}
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	f.Close()
	return name
}

// bookWhole books a station as far as the programme calls.
func bookWhole(b *testing.B, n int, o *observer.Observer, write func(int, event.Event)) {
	var s booking.Setup
	seq := uint64(0)
	do := func(e event.Event, err error) {
		if err == nil {
			write(n, e)
			seq++
			s, err = s.Apply(event.Entry{Seq: seq, Setup: n, Event: e})
		}
		if err != nil {
			b.Fatal(err)
		}
	}
	open, err := booking.Open(o.Spec)
	do(open, err)
	for p := programme.Expect(s); p.Phase < programme.AtVerdict; p = programme.Expect(s) {
		call := o.Call(s, p.Slot, 0)
		do(event.ReadingBooked{Slot: p.Slot, Text: call.Text, Value: call.Value, By: o.Spec.Booker}, nil)
	}
}

// BenchmarkOpenLongBook opens a book of a million events as the screens do,
// in turn with one that holds a single setup: the first page of the work list,
// the latest setup, and what is known of its station.
func BenchmarkOpenLongBook(b *testing.B) {
	dir := b.TempDir()
	books := map[string]string{}
	for name, n := range map[string]int{"one setup": 100, "a million events": 1_000_000} {
		books[name] = filepath.Join(dir, name+".readback")
		c := &Context{Out: os.Stderr, Err: os.Stderr, Getenv: os.Getenv}
		if code := run([]string{"restore", millionEvents(b, n), books[name]}, c); code != exitFine {
			b.Fatal("restore failed")
		}
	}
	times := map[string][]time.Duration{}
	for b.Loop() {
		for name, path := range books {
			start := time.Now()
			openAsScreens(b, path)
			times[name] = append(times[name], time.Since(start))
		}
	}
	median := func(name string) float64 {
		slices.Sort(times[name])
		return float64(times[name][len(times[name])/2].Microseconds()) / 1000
	}
	one, long := median("one setup"), median("a million events")
	b.ReportMetric(one, "one-ms")
	b.ReportMetric(long, "million-ms")
	b.ReportMetric(long-one, "difference-ms")
}

func openAsScreens(b *testing.B, path string) {
	l, err := book.Open(path, false, event.BookOpened{}, store.Options{Reserve: -1})
	if err != nil {
		b.Fatal(err)
	}
	p := book.NewPort(l)
	list, _, err := p.Summaries(0, 25)
	if err != nil || len(list) == 0 {
		b.Fatal(err)
	}
	s, err := p.Setup(list[0].Setup)
	if err != nil {
		b.Fatal(err)
	}
	p.Known(s)
	if _, err := p.Close(false); err != nil {
		b.Fatal(err)
	}
}
