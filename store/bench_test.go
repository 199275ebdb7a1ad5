package store

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/journal"
	"example.org/readback/store/repair"
)

// diskDir is a directory on the machine's own disk; the tests' own may lie in memory.
func diskDir(b *testing.B) string {
	b.Helper()
	dir, err := os.MkdirTemp(realDisk, "readback-bench-")
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// bare is what a booked reading is measured against: one bbolt Update of the
// same bytes and one append-and-sync of the same line, and nothing else.
type bare struct {
	db   *bolt.DB
	file *os.File
}

func openBare(b *testing.B, dir string) *bare {
	b.Helper()
	db, err := bolt.Open(filepath.Join(dir, "bare.db"), 0o600, nil)
	if err == nil {
		err = db.Update(func(tx *bolt.Tx) error { _, err := tx.CreateBucket([]byte("records")); return err })
	}
	f, ferr := os.OpenFile(filepath.Join(dir, "bare.jsonl"), os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600)
	if err != nil || ferr != nil {
		b.Fatal(err, ferr)
	}
	b.Cleanup(func() { db.Close(); f.Close() })
	return &bare{db, f}
}

func (x *bare) write(seq uint64, value, line []byte) error {
	err := x.db.Update(func(tx *bolt.Tx) error { return tx.Bucket([]byte("records")).Put(chain.SeqKey(seq), value) })
	if err == nil {
		_, err = x.file.Write(line)
	}
	if err == nil {
		err = x.file.Sync()
	}
	return err
}

// BenchmarkAppend books one reading and, in turn with it, does the bare work
// of the same bytes. The ratio of the medians is the price of index, chain,
// checks and the look at the file; the issue allows 1.15.
func BenchmarkAppend(b *testing.B) {
	dir := diskDir(b)
	book, err := Create(filepath.Join(dir, "bench.readback"), Options{Reserve: -1})
	if err != nil {
		b.Fatal(err)
	}
	defer book.Close()
	x := openBare(b, dir)
	var ours, bares []time.Duration
	for n := 1; b.Loop(); n++ {
		begin := time.Now()
		r, err := book.Append(draft(n))
		ours = append(ours, time.Since(begin))
		if err != nil {
			b.Fatal(err)
		}
		value, line := journal.Encode(&r), journal.AppendLine(nil, r)
		begin = time.Now()
		err = x.write(r.Seq, value, line)
		bares = append(bares, time.Since(begin))
		if err != nil {
			b.Fatal(err)
		}
	}
	slices.Sort(ours)
	slices.Sort(bares)
	mid, p99 := len(ours)/2, len(ours)*99/100
	b.ReportMetric(float64(ours[mid].Microseconds()), "µs-book-median")
	b.ReportMetric(float64(bares[mid].Microseconds()), "µs-bare-median")
	b.ReportMetric(float64(ours[p99].Microseconds()), "µs-book-p99")
	b.ReportMetric(float64(bares[p99].Microseconds()), "µs-bare-p99")
	b.ReportMetric(float64(ours[mid])/float64(bares[mid]), "ratio")
}

// largeBook fills a book with n events without syncing each.
func largeBook(b testing.TB, dir string, n int) string {
	b.Helper()
	path := filepath.Join(dir, fmt.Sprintf("%d.readback", n))
	id := [32]byte{byte(n), 1}
	last := journal.Record{Hash: id}
	_, err := repair.WriteBook(path, id, func(yield func(journal.Record, error) bool) {
		for i := 1; i <= n; i++ {
			d := draft(i)
			d.Group = uint32(1 + i/200)
			r := journal.Record{Seq: uint64(i), ID: d.ID, At: time.Unix(1_780_000_000+int64(i), 0).UTC(), Kind: d.Kind, Version: 1, Group: d.Group, Body: d.Body, Prev: last.Hash}
			journal.Encode(&r)
			if last = r; !yield(r, nil) {
				return
			}
		}
	})
	if err != nil {
		b.Fatal(err)
	}
	return path
}

// openAndShow opens the book and reads the setup that is being booked.
func openAndShow(b *testing.B, path string) (*Book, time.Duration) {
	b.Helper()
	begin := time.Now()
	book, err := Open(path, Options{Reserve: -1})
	if err != nil {
		b.Fatal(err)
	}
	n, err := book.LastGroup()
	if err == nil {
		_, err = book.Group(n)
	}
	if err != nil {
		b.Fatal(err)
	}
	return book, time.Since(begin)
}

// resident is how much memory the process has in its working set, in bytes;
// 0 where it cannot be told.
func resident() float64 {
	runtime.GC()
	data, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return 0
	}
	var total, pages int
	fmt.Sscan(string(data), &total, &pages)
	return float64(pages * os.Getpagesize())
}

// BenchmarkOpenMillion opens, in turn, an empty book and one of 1,000,000
// events and reads the current setup; the issue allows 5 ms and 16 MB between them.
func BenchmarkOpenMillion(b *testing.B) {
	dir := diskDir(b)
	large, empty := largeBook(b, dir, 1_000_000), largeBook(b, dir, 0)
	runtime.GC()
	var ms [2][]time.Duration
	var mem [2]float64
	for b.Loop() {
		for i, path := range []string{empty, large} {
			before := resident()
			book, took := openAndShow(b, path)
			mem[i] = max(mem[i], resident()-before)
			ms[i] = append(ms[i], took)
			book.Close()
		}
	}
	for i, name := range []string{"empty", "million"} {
		slices.Sort(ms[i])
		b.ReportMetric(float64(ms[i][len(ms[i])/2].Microseconds()), "µs-"+name)
		b.ReportMetric(mem[i]/(1<<20), "MB-"+name)
	}
}

// BenchmarkAudit checks books of 10,000 to 1,000,000 events in full: the time
// per event must not grow.
func BenchmarkAudit(b *testing.B) {
	dir := diskDir(b)
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		path := largeBook(b, dir, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if r := repair.Verify(path); r.Err() != nil || r.Chains[0].Events != uint64(n) {
					b.Fatal(r.Err())
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/event")
		})
	}
}

// BenchmarkRecords walks 100,000 events, each proven and linked.
func BenchmarkRecords(b *testing.B) {
	const n = 100_000
	book, _ := openAndShow(b, largeBook(b, diskDir(b), n))
	defer book.Close()
	b.ReportAllocs()
	for b.Loop() {
		if last, err := chain.LastOf(book.Records()); last != n || err != nil {
			b.Fatal(last, err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/event")
}
