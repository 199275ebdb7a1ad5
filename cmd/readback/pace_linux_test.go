package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// fullStation is a station in a window of 100 × 30 with two rounds and half of
// the verticals booked.
func fullStation(t testing.TB) *booker {
	t.Helper()
	b := bookerAt(open(t, 100, 30, "book", filepath.Join(t.TempDir(), "weir.book"))).firstSetup()
	return b.books(round1...).books(round2...).books(verticals[:4]...)
}

// answer sends one key and returns how long its frame took to arrive.
func (b *booker) answer(key string) time.Duration {
	b.t.Helper()
	select {
	case <-b.news:
	default:
	}
	sent := time.Now()
	b.key(key)
	select {
	case <-b.news:
	case <-time.After(patience):
		b.t.Fatalf("no frame follows the key %q:\n%s", key, b.screen())
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.last.Sub(sent)
}

// From one key to its frame on a pseudo-terminal: the median and how long the
// slowest of ten and of a hundred keys take.
func BenchmarkKeyToFrame(b *testing.B) {
	at := fullStation(b)
	var times []time.Duration
	for b.Loop() {
		for _, key := range []string{"2", "7", "2", "4", "5", erase, erase, erase, erase, erase} {
			times = append(times, at.answer(key))
			time.Sleep(2 * time.Millisecond) // a quick typist is far slower
		}
	}
	slices.Sort(times)
	for name, q := range map[string]int{"median-ms": 50, "p90-ms": 90, "p99-ms": 99} {
		b.ReportMetric(float64(times[(len(times)-1)*q/100].Microseconds())/1000, name)
	}
	b.ReportMetric(float64(len(times)), "keys")
}

// load is what a process has used so far: time of the processor in ticks, and how
// often its threads woke up.
func load(t testing.TB, pid int) (ticks, wakes int) {
	t.Helper()
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		t.Fatal(err)
	}
	f := strings.Fields(string(stat[strings.LastIndexByte(string(stat), ')')+2:]))
	var user, system int
	fmt.Sscan(f[11]+" "+f[12], &user, &system)
	tasks, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/status", pid))
	for _, name := range tasks {
		status, _ := os.ReadFile(name)
		for line := range strings.SplitSeq(string(status), "\n") {
			var n int
			if rest, ok := strings.CutPrefix(line, "voluntary_ctxt_switches:"); ok {
				fmt.Sscan(rest, &n)
				wakes += n
			}
		}
	}
	return user + system, wakes
}

// BenchmarkIdle tells what an idle screen costs: wake-ups and milliseconds of the
// processor in a second. One iteration is five seconds.
func BenchmarkIdle(b *testing.B) {
	at := fullStation(b)
	time.Sleep(500 * time.Millisecond)
	ticks, wakes := load(b, at.cmd.Process.Pid)
	seconds := 0.0
	for b.Loop() {
		time.Sleep(5 * time.Second)
		seconds += 5
	}
	ticks2, wakes2 := load(b, at.cmd.Process.Pid)
	b.ReportMetric(float64(wakes2-wakes)/seconds, "wakes/s")
	b.ReportMetric(float64(ticks2-ticks)*10/seconds, "cpu-ms/s")
}

// An idle screen is not painted again.
func TestIdle_NothingIsPainted(t *testing.T) {
	b := fullStation(t)
	time.Sleep(100 * time.Millisecond)
	n := b.amount()
	time.Sleep(600 * time.Millisecond)
	if m := b.amount(); m != n {
		t.Errorf("%d bytes were written to an idle screen", m-n)
	}
}

// From the start of the program to its first frame, on a book with a station half booked.
func BenchmarkFirstFrame(b *testing.B) {
	file := filepath.Join(b.TempDir(), "weir.book")
	bookerAt(open(b, 100, 30, "book", file)).firstSetup().books("00510").quits()
	var times []time.Duration
	for b.Loop() {
		began := time.Now()
		p := open(b, 100, 30, "book", file).sees("sight Alder.")
		p.mu.Lock()
		times = append(times, p.last.Sub(began))
		p.mu.Unlock()
		p.cmd.Process.Kill()
		p.exit()
	}
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "first-ms")
	b.ReportMetric(0, "ns/op")
}
