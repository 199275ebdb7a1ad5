package store

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"example.org/readback/testdata"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/pages"
	"example.org/readback/store/repair"
)

// damageEvents is how many events the books have that are damaged.
const damageEvents = 300

// A damage changes the bytes of a book; live is how far its pages are in use.
type damage struct {
	name string
	do   func(b []byte, live int, rng *rand.Rand) []byte
}

// at picks a place in the pages in use, behind the heads when the file has them intact.
func at(live, size int, rng *rand.Rand) int { return rng.IntN(live - size) }

var damages = []damage{
	{"one bit flipped", func(b []byte, live int, rng *rand.Rand) []byte {
		b[at(live, 1, rng)] ^= 1 << rng.IntN(8)
		return b
	}},
	{"16 bytes overwritten", func(b []byte, live int, rng *rand.Rand) []byte {
		noise(b[at(live, 16, rng):][:16], rng)
		return b
	}},
	{"sector zeroed", func(b []byte, live int, rng *rand.Rand) []byte {
		clear(b[at(live, 512, rng)&^511:][:512])
		return b
	}},
	{"page zeroed", func(b []byte, live int, rng *rand.Rand) []byte {
		clear(b[at(live, 4096, rng)&^4095:][:4096])
		return b
	}},
	{"page random", func(b []byte, live int, rng *rand.Rand) []byte {
		noise(b[at(live, 4096, rng)&^4095:][:4096], rng)
		return b
	}},
	{"page head overwritten", func(b []byte, live int, rng *rand.Rand) []byte {
		noise(b[at(live, 4096, rng)&^4095:][:16], rng)
		return b
	}},
	{"page in the wrong place", func(b []byte, live int, rng *rand.Rand) []byte {
		copy(b[at(live, 4096, rng)&^4095:][:4096], b[at(live, 4096, rng)&^4095:])
		return b
	}},
	{"page in the wrong place with its number", func(b []byte, live int, rng *rand.Rand) []byte {
		to := at(live, 4096, rng) &^ 4095
		copy(b[to:][:4096], b[at(live, 4096, rng)&^4095:])
		binary.NativeEndian.PutUint64(b[to:], uint64(to/4096))
		return b
	}},
	{"page points to another", func(b []byte, live int, rng *rand.Rand) []byte {
		p := at(live, 4096, rng) &^ 4095
		binary.NativeEndian.PutUint64(b[p+16+16*rng.IntN(4)+8:], uint64(rng.IntN(live/4096)))
		return b
	}},
	{"one head zeroed", func(b []byte, live int, rng *rand.Rand) []byte {
		clear(b[4096*rng.IntN(2):][:4096])
		return b
	}},
	{"one head random", func(b []byte, live int, rng *rand.Rand) []byte {
		noise(b[4096*rng.IntN(2):][:4096], rng)
		return b
	}},
	{"both heads random", func(b []byte, live int, rng *rand.Rand) []byte { noise(b[:8192], rng); return b }},
	{"cut at a page", func(b []byte, live int, rng *rand.Rand) []byte { return b[:4096*rng.IntN(len(b)/4096)] }},
	{"cut anywhere", func(b []byte, live int, rng *rand.Rand) []byte { return b[:rng.IntN(len(b))] }},
	{"last quarter zeroed", func(b []byte, live int, rng *rand.Rand) []byte { clear(b[live*3/4 : live]); return b }},
	{"all random", func(b []byte, live int, rng *rand.Rand) []byte { noise(b, rng); return b }},
}

func noise(b []byte, rng *rand.Rand) {
	for i := range b {
		b[i] = byte(rng.Uint32())
	}
}

// damageChild is the child of TestDamage: DIR SEED FROM TO runs the cases and
// prints what became of each.
func damageChild(args []string) int {
	dir := args[0]
	var seed uint64
	var from, to int
	fmt.Sscan(strings.Join(args[1:], " "), &seed, &from, &to)
	book, err := os.ReadFile(filepath.Join(dir, "sound.readback"))
	if err != nil {
		return 3
	}
	journal, err := os.ReadFile(filepath.Join(dir, "sound.readback.jsonl"))
	if err != nil {
		return 3
	}
	head, err := pages.Look(filepath.Join(dir, "sound.readback"), true)
	if err != nil {
		return 3
	}
	for i := from; i < to; i++ {
		d := damages[i%len(damages)]
		rng := rand.New(rand.NewPCG(seed, uint64(i)))
		bad := d.do(bytes.Clone(book), int(head.HighWater)*4096, rng)
		fmt.Printf("%d begin\n", i)
		fmt.Printf("%d %s\n", i, damageCase(filepath.Join(dir, fmt.Sprint(i)), bad, journal))
	}
	return 0
}

// damageCase puts a damaged book and its sound journal on the disk and says
// what became of opening, reading, auditing, booking and restoring it.
func damageCase(dir string, book, journal []byte) string {
	if err := os.Mkdir(dir, 0o700); err != nil {
		return "test failed: " + err.Error()
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "b.readback")
	alone := filepath.Join(dir, "alone.readback") // the same file, its journal lost
	for p, data := range map[string][]byte{path: book, disk.JournalPath(path): journal, alone: book} {
		if err := os.WriteFile(p, data, 0o600); err != nil {
			return "test failed: " + err.Error()
		}
	}
	audit := repair.Verify(path)
	result := damageOpen(path)
	if result != "whole" && result != "index made anew" && audit.Err() == nil {
		return result + ", BUT THE AUDIT FOUND NOTHING"
	}
	if lost := damageRestore(path, dir); lost != "" {
		return lost
	}
	if _, err := repair.Restore(alone, filepath.Join(dir, "salvaged.readback"), nil); err != nil && !errors.Is(err, fault.ErrNothing) {
		return "SALVAGE FAILED: " + err.Error()
	}
	return result
}

// damageOpen opens and reads a damaged book, books in it, and says what came of it.
func damageOpen(path string) string {
	b, err := Open(path, testOptions())
	if err != nil {
		if !isSentinel(err) {
			return "ERROR WITHOUT ADVICE: " + err.Error()
		}
		return "refused on opening"
	}
	defer b.Close()
	n := 0
	for r, err := range b.Records() {
		if err != nil && b.Opening().Fault == nil {
			return "NOT NAMED ON OPENING: " + err.Error()
		} else if err != nil {
			return "named on opening"
		}
		n++
		if d := draft(n); r.ID != d.ID || !bytes.Equal(r.Body, d.Body) {
			return fmt.Sprintf("SILENT CHANGE of event %d", n)
		}
	}
	if n != damageEvents {
		return fmt.Sprintf("SILENT LOSS: %d events", n)
	}
	if bad := damageGroups(b); bad != "" {
		return bad
	}
	for i := range 3 {
		if _, err := b.Append(draft(damageEvents + 1 + i)); err != nil {
			return "refused on booking (" + strings.ToLower(fmt.Sprintf("%.160s", err.Error()[len(b.path):])) + ")"
		}
	}
	if r := audited(b); r.Err() != nil {
		return "BOOKED INTO DAMAGE: " + r.Err().Error()
	}
	switch o := b.Opening(); {
	case len(o.TakenOver) > 0:
		return "whole, last events from the journal"
	case strings.Contains(fmt.Sprint(o.Notes), "index"):
		return "index made anew"
	}
	return "whole"
}

// damageGroups reads the setups of a book whose events are whole.
func damageGroups(b *Book) string {
	for g := range uint32(damageEvents/10 + 1) {
		list, err := b.Group(g)
		want := 10
		if g == 0 {
			want = 9
		} else if g == damageEvents/10 {
			want = 1
		}
		if err != nil {
			return "named on reading"
		}
		if d, err := b.Digest(g); err == nil && d != nil && string(d) != fmt.Sprintf("digest %d", min(10*g+9, damageEvents)) {
			return fmt.Sprintf("SILENT CHANGE of the digest of setup %d: %q", g, d)
		}
		if len(list) != want {
			return fmt.Sprintf("SILENT LOSS: %d events in setup %d", len(list), g)
		}
	}
	return ""
}

// damageRestore demands that the journal brings everything back: under another
// name, and in place where the book is not sound.
func damageRestore(path, dir string) string {
	out := filepath.Join(dir, "again.readback")
	rep, err := repair.Restore(disk.JournalPath(path), out, nil)
	if err != nil || rep.Fault != nil || rep.Events < damageEvents {
		return fmt.Sprintf("RESTORE FAILED: %+v %v", rep, err)
	}
	rep, err = repair.Restore(disk.JournalPath(path), path, nil)
	if err != nil && !errors.Is(err, fault.ErrSound) {
		return fmt.Sprintf("RESTORE IN PLACE FAILED: %+v %v", rep, err)
	}
	b, err := Open(path, testOptions())
	if err != nil {
		return fmt.Sprintf("RESTORED AND NOT OPENED: %v", err)
	}
	defer b.Close()
	if seq, _ := b.Head(); seq < damageEvents {
		return fmt.Sprintf("RESTORED SHORT: %d", seq)
	}
	if r := audited(b); r.Err() != nil {
		return fmt.Sprintf("RESTORED UNSOUND: %v", r.Err())
	}
	return ""
}

// Ensure that no damage of the book file kills the program, hangs it, or loses
// or changes an event without a word, and that the journal brings all back.
// The table of outcomes is printed with -v; -long runs 4,000 cases.
func TestDamage(t *testing.T) {
	cases := len(damages) / share // each damage once
	if *testdata.Long {
		cases = longDamages
	}
	dir := t.TempDir()
	b, err := Create(filepath.Join(dir, "sound.readback"), testOptions())
	must(t, err)
	appendTo(t, b, 1, damageEvents)
	must(t, b.Close())
	t.Logf("seed %d, %d cases", *seedFlag, cases)
	results := make([]string, cases)
	for from := 0; from < cases; {
		from = runDamage(t, dir, from, results)
	}
	table := map[string]map[string]int{}
	for i, r := range results {
		kind := damages[i%len(damages)].name
		if table[kind] == nil {
			table[kind] = map[string]int{}
		}
		table[kind][r]++
		if r != strings.ToLower(r) || r == "" {
			t.Errorf("case %d, %s: %s", i, kind, r)
		}
	}
	for _, d := range damages {
		t.Logf("%-40s %s", d.name, counts(table[d.name]))
	}
}

// runDamage runs the cases from number from on in one child and returns the
// number of the next case; a child that dies or hangs costs the case it was at.
func runDamage(t *testing.T, dir string, from int, results []string) int {
	c := child(t, "damage", dir, *seedFlag, from, len(results))
	out, err := c.StdoutPipe()
	must(t, err)
	var stderr bytes.Buffer
	c.Stderr = &stderr
	must(t, c.Start())
	watch := time.AfterFunc(30*time.Second, func() { c.Process.Kill() })
	next := from
	for s := bufio.NewScanner(out); s.Scan(); {
		watch.Reset(30 * time.Second)
		number, text, _ := strings.Cut(s.Text(), " ")
		i, err := strconv.Atoi(number)
		if err != nil || i >= len(results) {
			continue
		}
		if next = i + 1; text != "begin" {
			results[i] = text
		}
	}
	hung := !watch.Stop()
	if err := c.Wait(); err != nil {
		if results[next-1] == "" {
			results[next-1] = fmt.Sprintf("DIED (hung: %v): %v %.300s", hung, err, stderr.String())
		}
		return next
	}
	return len(results)
}

// counts writes a small table in the order of frequency.
func counts(m map[string]int) string {
	var list []string
	for k, n := range m {
		list = append(list, fmt.Sprintf("%4d %s", n, k))
	}
	sort.Sort(sort.Reverse(sort.StringSlice(list)))
	return strings.Join(list, ", ")
}

// Ensure that no damage of a journal is handed on as an event, that a restored
// book holds what stands before it, and that the book itself still opens or
// says why not.
func TestDamage_Journal(t *testing.T) {
	cases := len(damages) // each damage once
	if *testdata.Long {
		cases = longJournals
	}
	b := newBook(t, 60)
	must(t, b.Close())
	book, err := os.ReadFile(b.path)
	must(t, err)
	lines, err := os.ReadFile(disk.JournalPath(b.path))
	must(t, err)
	dir := t.TempDir()
	table := map[string]int{}
	for i := range cases {
		rng := newRand(t, uint64(1000+i))
		bad := damages[i%len(damages)].do(append(bytes.Clone(lines), make([]byte, max(0, 8192-len(lines)))...), len(lines), rng)
		path := filepath.Join(dir, fmt.Sprint(i))
		must(t, os.WriteFile(path, book, 0o600))
		must(t, os.WriteFile(disk.JournalPath(path), bad, 0o600))
		n := 0
		for r, err := range journal.Read(bytes.NewReader(bad)) {
			if err != nil {
				break
			}
			if n++; r.ID != draft(n).ID || !bytes.Equal(r.Body, draft(n).Body) {
				t.Fatalf("case %d: event %d is not what was booked", i, n)
			}
		}
		rep, err := repair.Restore(disk.JournalPath(path), filepath.Join(dir, fmt.Sprint(i, "-again")), nil)
		whole := rep.Events == 60 && rep.Fault == nil // what it lacks was in the book
		if int(rep.Events) != n && !whole && !errors.Is(err, fault.ErrNothing) {
			t.Fatalf("case %d: %d events read, %+v, %v", i, n, rep, err)
		}
		table[journalCase(t, i, path)]++
	}
	t.Log(table)
}

// journalCase opens a sound book whose journal is damaged.
func journalCase(t *testing.T, i int, path string) string {
	audit := repair.Verify(path)
	b, err := Open(path, testOptions())
	if err != nil {
		if !errors.Is(err, fault.ErrDiffer) || audit.Err() == nil {
			t.Fatalf("case %d: %v, audit %v", i, err, audit.Err())
		}
		return "refused"
	}
	defer b.Close()
	wantEvents(t, b, 60)
	appendTo(t, b, 61, 62)
	switch r := audited(b); {
	case r.Chains[0].Fault != nil:
		t.Fatalf("case %d: %v", i, r.Err())
	case r.Err() != nil:
		return "named by the audit"
	case audit.Err() != nil || len(b.Opening().Notes) > 0:
		return "mended on opening"
	}
	return "harmless"
}
