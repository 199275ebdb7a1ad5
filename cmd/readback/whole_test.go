package main

import (
	"bytes"
	native "encoding/binary"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/readback/store"
	"example.org/readback/testdata"
)

// reading are the commands that read a book.
var reading = [][]string{
	{"export", "B"}, {"export", "B", "--as", "directions"}, {"export", "B", "--as", "json"}, {"export", "B", "--as", "jsonl"},
	{"export", "B", "--as", "landxml"}, {"sheet", "B", "--text", "--utc"}, {"sheet", "B", "--utc"}, {"figure", "B"}, {"health", "B"}, {"known", "B"},
	{"export", "B", "--as", "sql"}, {"season", "B"}, {"limits", "B"}, {"describe", "B"}, {"plan", "B"},
}

// madeAt is the time of making in an output, which differs from run to run.
var madeAt = regexp.MustCompile(`made 2[^<]{0,40}? by|Sheet made [^<]* by|\d{4}-\d\d-\d\d \d\d:\d\d (?:UTC )?by|(?i)<(?:Landxml|application) [^>]*>|(?:date|time|timeStamp)="[^"]*"`)

// answerOf runs a reading command on book and gives what it printed, without times
// of printing.
func answerOf(args []string, book string) (code int, out, errs string) {
	args = append([]string{}, args...)
	args[1] = book
	code, out, errs = said(args...)
	return code, madeAt.ReplaceAllString(strings.Join(strings.Fields(out), " "), ""), errs
}

// gathered gathers book into a new office book and gives the events that it has then.
func gathered(book string) (code int, out, errs string) {
	office := book + ".office"
	defer os.Remove(office)
	if code, out, errs = said("gather", office, book); code != exitFine {
		return code, out, errs
	}
	return said("export", office, "--as", "jsonl")
}

// dayBook imports a day's readings into a new book and gives its path.
func dayBook(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "B")
	if code, out, errs := said("import", file, example("brackenfold-day.csv"), "--booker", "Tam Okoro"); code != exitFine {
		t.Fatalf("%s%s", out, errs)
	}
	return file
}

// structural lists the offsets of the page heads and of the element heads in a
// book file: 16 bytes for each, as bbolt lays them out.
func structural(book []byte) (list []int) {
	for at := 0; at+4096 <= len(book); at += 4096 {
		if native.NativeEndian.Uint64(book[at:]) != uint64(at/4096) {
			continue
		}
		count := int(native.NativeEndian.Uint16(book[at+10:]))
		if native.NativeEndian.Uint16(book[at+8:])&3 == 0 {
			count = 0
		}
		for i := range 16 * (1 + min(count, 255)) {
			list = append(list, at+i)
		}
	}
	return list
}

// No turned bit in a page head or an element head makes a reading command print
// part of the book, or nothing, as if it were all.
func TestWhole_EveryStructuralBit(t *testing.T) {
	book := dayBook(t)
	sound, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	all := append(slices.Clip(reading), []string{"audit", "B"}, []string{"gather", "B"})
	answer := func(args []string) (int, string) {
		of := answerOf
		if args[0] == "gather" {
			of = func(_ []string, book string) (int, string, string) { return gathered(book) }
		}
		code, out, _ := of(args, book)
		return code, out
	}
	want := map[int]string{}
	for i, args := range all {
		code, out := answer(args)
		if code != exitFine || out == "" {
			t.Fatalf("%v: exit %d, %s", args, code, out)
		}
		want[i] = out
	}
	bits := structural(sound)
	step := 3001
	if *testdata.Long {
		step = 1
	}
	same, refused := 0, 0
	for n := rand.New(rand.NewPCG(7, 7)).IntN(step); n < 8*len(bits); n += step {
		bad := bytes.Clone(sound)
		bad[bits[n/8]] ^= 1 << (n % 8)
		if err := os.WriteFile(book, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		for i, args := range all {
			switch code, out := answer(args); {
			case code != exitFine:
				refused++
			case out == want[i]:
				same++
			default:
				t.Errorf("%v: page %d byte %d bit %d: another answer, exit 0", args, bits[n/8]/4096, bits[n/8]%4096, n%8)
			}
		}
	}
	t.Logf("%d readings of a book with one of %d structural bits turned, by %d commands: %d refused, %d the same", same+refused, 8*len(bits), len(all), refused, same)
}

// A book that is behind its journal, because an older copy was put back, is read
// with what the journal has, and says so.
func TestWhole_JournalAhead(t *testing.T) {
	book := dayBook(t)
	early, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	if code, _, errs := said("known", book, "--bearing", "Weir,Spire,45 10 20", "--by", "Tam Okoro"); code != exitFine {
		t.Fatal(errs)
	}
	var want []string
	for _, args := range reading {
		_, out, _ := answerOf(args, book)
		want = append(want, out)
	}
	if err := os.WriteFile(book, early, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, args := range reading {
		code, out, errs := answerOf(args, book)
		if code != exitFine || out != want[i] || !strings.Contains(errs, "which the book file does not have") {
			t.Errorf("%v: exit %d, same answer %v, %s", args, code, out == want[i], errs)
		}
	}
}

// While another window books, reading commands read the book as it stands and
// say up to which event; booking is refused.
func TestWhole_WhileAnotherBooks(t *testing.T) {
	book := dayBook(t)
	var want []string
	for _, args := range reading {
		_, out, _ := answerOf(args, book)
		want = append(want, out)
	}
	st, err := store.Open(book, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	for i, args := range reading {
		code, out, errs := answerOf(args, book)
		if code != exitFine || out != want[i] || !strings.Contains(errs, "open in another window. It is read as it stands, up to event") {
			t.Errorf("%v: exit %d, same answer %v, %s", args, code, out == want[i], errs)
		}
	}
	if code, _, errs := said("known", book, "--bearing", "Weir,Spire,45 10 20", "--by", "Tam Okoro"); code == exitFine || !strings.Contains(errs, "open") {
		t.Errorf("exit %d, %s", code, errs)
	}
}
