package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"example.org/readback/booking/exchange"
	"example.org/readback/booking/observer"
	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// randomStations writes n made-up stations as a readings file: of every size, in dms
// and gon, coarse and fine, some with a slip in them.
func randomStations(t *testing.T, path string, seed uint64, n int) {
	t.Helper()
	var text bytes.Buffer
	w := exchange.NewWriter(&text)
	for i := range n {
		o := observer.Options{Seed: seed + uint64(i), Targets: 2 + i%7, Rounds: 2 + i%4, Distances: i%3 == 0, Hilly: i%2 == 0, Sigma: reduce.FromSeconds(1 + float64(i%5))}
		o.LeastCount = []reduce.Angle{1, 5, 10}[i%3] * reduce.Arcsecond
		if i%4 == 3 {
			o.SlipEvery = 12
		}
		s, err := observer.New(o).Book()
		if err != nil {
			t.Fatal(err)
		}
		s.Number = i + 1
		if err := w.Setup(s, exchange.Source{}); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	put(t, path, text.String())
}

// arm64Program is the program built for arm64 and what runs it here.
func arm64Program(t *testing.T) []string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "readback-arm64")
	build := exec.Command("go", "build", "-o", path, ".")
	build.Env = append(os.Environ(), "GOARCH=arm64", "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v %s", err, out)
	}
	if runtime.GOARCH == "arm64" {
		return []string{path}
	}
	emulator, err := exec.LookPath("qemu-aarch64")
	if err != nil {
		t.Fatal("this needs qemu-aarch64 (Debian: qemu-user)")
	}
	return []string{emulator, path}
}

// The same book gives the same bytes on another processor: arm64 fuses a product and
// a sum, amd64 does not.
func TestARM64_SameBytes(t *testing.T) {
	if !*testdata.Long {
		return // it takes a cross-build and an emulator; .ci/run asks for it
	}
	arm, own := arm64Program(t), []string{binary(t)}
	dir := t.TempDir()
	var compared atomic.Int32
	var all sync.WaitGroup
	defer all.Wait()
	room := make(chan bool, runtime.NumCPU()) // the emulator takes one processor each
	for file := range 8 {
		day, store := filepath.Join(dir, fmt.Sprintf("day-%d.csv", file)), filepath.Join(dir, fmt.Sprintf("day-%d.book", file))
		randomStations(t, day, 20261126+1000*uint64(file), 25)
		if out, err := exec.Command(own[0], "import", store, day, "--booker", "Tam Okoro").CombinedOutput(); err != nil {
			t.Fatalf("%v %s", err, out)
		}
		outputs := [][]string{
			{"reduce", day}, {"reduce", day, "--json"}, {"figure", store, "--json"}, {"export", store, "--as", "directions"}, {"sheet", store, "--text", "--utc"},
		}
		if file == 0 {
			outputs = append(outputs, []string{"sheet", store, "--utc"}, []string{"figure", store}, []string{"health", store}, []string{"export", store, "--as", "json"})
		}
		for _, args := range outputs {
			room <- true
			all.Go(func() {
				defer func() { <-room }()
				got, err := printed(arm, args)
				want, own := printed(own, args)
				if err != nil || own != nil {
					t.Errorf("%q: %v, %v", args, err, own)
				}
				compared.Add(1)
				if got != want {
					t.Errorf("%q differs: %s", args, firstDifference(got, want))
				}
			})
		}
	}
	all.Wait()
	if compared.Load() != 44 {
		t.Errorf("%d outputs of 200 stations were compared", compared.Load())
	}
}

// printed is what a program prints, without the line that tells when.
func printed(program, args []string) (string, error) {
	cmd := exec.Command(program[0], append(program[1:], args...)...)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%w: %s", err, errs.String())
	}
	var kept []string
	for line := range strings.Lines(madeAt.ReplaceAllString(string(out), "")) {
		if !strings.Contains(line, "Sheet made") && !strings.Contains(line, "made_at") {
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, ""), nil
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return fmt.Sprintf("line %d\n  arm64 %.200s\n  here  %.200s", i+1, g[i], w[i])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(g), len(w))
}
