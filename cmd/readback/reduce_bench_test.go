package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"example.org/readback/booking/exchange"
	"example.org/readback/booking/observer"
	"example.org/readback/testdata"
)

// readingsFile writes a readings file of about n readings, stations as o has them.
func readingsFile(tb testing.TB, n int, o observer.Options) (name string, readings int) {
	tb.Helper()
	name = filepath.Join(tb.TempDir(), "season.csv")
	f, err := os.Create(name)
	if err != nil {
		tb.Fatal(err)
	}
	buf := bufio.NewWriterSize(f, 1<<20)
	w := exchange.NewWriter(buf)
	for setup := 1; readings < n; setup++ {
		o.Seed = uint64(setup)
		s, err := observer.New(o).Book()
		if err == nil {
			s.Number = setup
			err = w.Setup(s, exchange.Source{})
		}
		if err != nil {
			tb.Fatal(err)
		}
		readings += len(s.Readings)
	}
	if err := errors.Join(w.Flush(), buf.Flush(), f.Close()); err != nil {
		tb.Fatal(err)
	}
	return name, readings
}

// BenchmarkReduce works readings files, small setups and large ones, in turn with two
// walks through their cells by encoding/csv, the bare one and the fastest one, and tells
// how many times longer it takes, by the clock and in processor time of both cores, and how much memory it
// holds. READBACK_READINGS=1000000 for a firm's season.
func BenchmarkReduce(b *testing.B) {
	for _, c := range []struct {
		name string
		observer.Options
	}{
		{"3x2", observer.Options{Targets: 3, NoVerticals: true}},
		{"3x2-distances", observer.Options{Targets: 3, Distances: true}},
		{"6x2-verticals", observer.Options{Targets: 6, CloseHalves: true}},
		{"6x3", observer.Options{Targets: 6, Rounds: 3, CloseHalves: true, NoVerticals: true}},
		{"6x3-distances", observer.Options{Targets: 6, Rounds: 3, CloseHalves: true, Distances: true}},
		{"12x4", observer.Options{Targets: 12, Rounds: 4, CloseHalves: true, NoVerticals: true}},
		{"12x4-distances", observer.Options{Targets: 12, Rounds: 4, CloseHalves: true, Distances: true}},
	} {
		b.Run(c.name, func(b *testing.B) {
			file, n := readingsFile(b, seasonReadings(b), c.Options)
			b.Run("text", func(b *testing.B) { besideWalks(b, n, file) })
			b.Run("json", func(b *testing.B) { besideWalks(b, n, file, "--json") })
		})
	}
}

// besideWalks reduces a file of n readings.
func besideWalks(b *testing.B, n int, file string, options ...string) {
	var bare, fastest, work, bareBusy, fastestBusy, workBusy time.Duration
	peak := watchHeap(b)
	for b.Loop() {
		timed(&bare, &bareBusy, func() { walkReadings(b, file, csvAsItComes) })
		timed(&fastest, &fastestBusy, func() { walkReadings(b, file, csvFastest) })
		timed(&work, &workBusy, func() {
			c := &Context{Out: io.Discard, Err: os.Stderr, Getenv: os.Getenv}
			if code := run(append([]string{"reduce", file}, options...), c); code != exitFine {
				b.Fatal("reduce failed")
			}
		})
	}
	b.ReportMetric(float64(work)/float64(bare), "times-bare")
	b.ReportMetric(float64(workBusy)/float64(bareBusy), "times-bare-processor")
	b.ReportMetric(float64(work)/float64(fastest), "times-fastest-walk")
	b.ReportMetric(float64(workBusy)/float64(fastestBusy), "times-fastest-walk-processor")
	b.ReportMetric(float64(workBusy.Nanoseconds())/float64(b.N)/float64(n), "processor-ns/reading")
	b.ReportMetric(float64(work.Nanoseconds())/float64(b.N)/float64(n), "ns/reading")
	b.ReportMetric(float64(peak.Load())/1e6, "MB-peak")
}

// timed adds what f takes, by the clock and in processor time.
func timed(clock, processor *time.Duration, f func()) {
	start, busy := time.Now(), testdata.Processor()
	f()
	*clock, *processor = *clock+time.Since(start), *processor+testdata.Processor()-busy
}

// csvAsItComes is encoding/csv with nothing set.
func csvAsItComes(r io.Reader) *csv.Reader { return csv.NewReader(r) }

// csvFastest is encoding/csv with all that makes it faster: the record is taken again,
// and the file is read by 64 KiB.
func csvFastest(r io.Reader) *csv.Reader {
	c := csv.NewReader(bufio.NewReaderSize(r, 1<<16))
	c.ReuseRecord = true
	return c
}

// walkReadings walks through the cells of a file and does nothing with them.
func walkReadings(b *testing.B, file string, reader func(io.Reader) *csv.Reader) {
	f, err := os.Open(file)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	for r := reader(f); err == nil; {
		_, err = r.Read()
	}
	if !errors.Is(err, io.EOF) {
		b.Fatal(err)
	}
}

// watchHeap notes the largest heap in use until the benchmark ends.
func watchHeap(b *testing.B) *atomic.Uint64 {
	var peak atomic.Uint64
	done := make(chan struct{})
	b.Cleanup(func() { close(done) })
	go func() {
		for {
			select {
			case <-done:
				return
			case <-time.After(20 * time.Millisecond):
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				if m.HeapInuse > peak.Load() {
					peak.Store(m.HeapInuse)
				}
			}
		}
	}()
	return &peak
}
