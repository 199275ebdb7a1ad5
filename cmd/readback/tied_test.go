package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/store"
	"example.org/readback/store/disk"
)

// The kinds that are forged here, as the wire has them (testdata/wire).
const (
	setupOpened   event.Kind = 2
	readingBooked event.Kind = 3
	copySet       event.Kind = 13
)

// forged books an event as it is, past every check of the program: its hash and
// its link are sound.
func forged(t *testing.T, file string, kind event.Kind, group uint32, body string) {
	t.Helper()
	st, err := store.Open(file, store.Options{Reserve: -1})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	if _, err := st.Append(store.Draft{Kind: uint16(kind), Version: 1, Group: group, Body: []byte(body)}); err != nil {
		t.Fatal(err)
	}
}

// An audit folds every event: one whose hash is sound and which cannot have
// happened, or whose text is not its value, is found and named.
func TestAudit_FoldsEveryEvent(t *testing.T) {
	day := dayBook(t)
	if code, out, errs := said("audit", day); code != exitFine {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	sound, lines := bytesOf(t, day), bytesOf(t, disk.JournalPath(day))
	var reading []byte
	for _, line := range bytes.Split(lines, []byte("\n")) {
		var l struct {
			Kind event.Kind      `json:"kind"`
			Body json.RawMessage `json:"body"`
		}
		if json.Unmarshal(line, &l) == nil && l.Kind == readingBooked {
			reading = l.Body
			break
		}
	}
	text := regexp.MustCompile(`"text":"([^"]*)"`).FindSubmatch(reading)
	if text == nil {
		t.Fatalf("no reading in %s", lines)
	}
	opened := regexp.MustCompile(`"body":(\{.*"station":.*\}),"prev"`).FindSubmatch(lines)
	if opened == nil {
		t.Fatal("no setup is opened")
	}
	for name, c := range map[string]struct {
		forge func(file string)
		says  string
	}{
		"a reading of no setup": {func(f string) { forged(t, f, readingBooked, 77, string(reading)) }, "never opened"},
		"after the lift":        {func(f string) { forged(t, f, readingBooked, 1, string(reading)) }, "event 54"},
		"no body of its kind":   {func(f string) { forged(t, f, readingBooked, 1, `[1]`) }, "event 54"},
		"another value": {func(f string) {
			forged(t, f, setupOpened, 3, string(opened[1]))
			value := regexp.MustCompile(`"value":\d+`).Find(reading)
			forged(t, f, readingBooked, 3, strings.Replace(string(reading), string(value), `"value":479266000000`, 1))
		}, "another value than its text"},
	} {
		for p, b := range map[string][]byte{day: sound, disk.JournalPath(day): lines} {
			if err := os.WriteFile(p, b, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		c.forge(day)
		code, out, errs := said("audit", day)
		if code != exitNo || !strings.Contains(out, c.says) || !strings.Contains(errs, "cannot have happened") {
			t.Errorf("%s: exit %d: %s%s", name, code, out, errs)
		}
	}
}

func bytesOf(t *testing.T, file string) []byte {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A hash that was noted is found among the events, and one of another book is not.
func TestAudit_Expect(t *testing.T) {
	day := dayBook(t)
	_, _, errs := said("export", day)
	hash := regexp.MustCompile(`[0-9a-f]{64}`).FindString(errs)
	for _, h := range []string{hash, hash[:12], strings.ToUpper(hash[:20])} {
		if code, out, errs := said("audit", day, "--expect", h); code != exitFine || !strings.Contains(out, "is that of event 53") {
			t.Errorf("%s: exit %d: %s%s", h, code, out, errs)
		}
	}
	forged(t, day, copySet, 0, `{"dir":""}`)
	if code, out, _ := said("audit", day, "--expect", hash); code != exitFine || !strings.Contains(out, "is that of event 53") {
		t.Errorf("the book went on: exit %d: %s", code, out)
	}
	for h, want := range map[string]int{strings.Repeat("0", 64): exitNo, "12345": exitUsage, "no hash at all": exitUsage} {
		if code, out, errs := said("audit", day, "--expect", h); code != want {
			t.Errorf("%s: exit %d: %s%s", h, code, out, errs)
		}
	}
}

// A book that is called another name since knows the files that were made of it.
func TestAudit_FileOfARenamedBook(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	call(t, "", "import", at("dam.readback"), example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	for _, as := range []string{"csv", "directions"} {
		call(t, "", "export", at("dam.readback"), "--as", as, "-o", at(as)).must(t, exitFine)
	}
	call(t, "", "restore", at("dam.readback.jsonl"), at("again.readback")).must(t, exitFine)
	for _, as := range []string{"csv", "directions"} {
		got := call(t, "", "audit", at("again.readback"), "--file", at(as)).must(t, exitFine)
		if !strings.Contains(got.out, "is the whole export of this book (--as "+as+")") {
			t.Errorf("%s: %s", as, got.out)
		}
	}
}

// A file that was handed over is held against the book: a changed one, and one of
// another book, are not of it.
func TestAudit_File(t *testing.T) {
	day, other := dayBook(t), filepath.Join(t.TempDir(), "other")
	if code, out, errs := said("import", other, example("two-rounds.csv"), "--booker", "Tam Okoro"); code != exitFine {
		t.Fatalf("%s%s", out, errs)
	}
	file := filepath.Join(t.TempDir(), "handed")
	for _, args := range [][]string{{"export", day}, {"export", day, "--as", "directions"}, {"export", day, "--as", "json"}, {"export", day, "--as", "jsonl"},
		{"export", day, "--as", "landxml"}, {"sheet", day}, {"sheet", day, "--text", "2"}} {
		code, out, errs := said(args...)
		if code != exitFine {
			t.Fatal(errs)
		}
		if err := os.WriteFile(file, []byte(out), 0o600); err != nil {
			t.Fatal(err)
		}
		if code, out, errs := said("audit", day, "--file", file); code != exitFine || !strings.Contains(out, "handed") {
			t.Errorf("%v: exit %d: %s%s", args, code, out, errs)
		}
		if code, out, errs := said("audit", other, "--file", file); code != exitNo || !strings.Contains(errs, "not belong to the book") {
			t.Errorf("%v held against another book: exit %d: %s%s", args, code, out, errs)
		}
		if args[0] == "sheet" || args[len(args)-1] == "landxml" {
			continue // its figures are not compared
		}
		i := strings.LastIndexAny(out, "12345678")
		bad := out[:i] + "9" + out[i+1:]
		if err := os.WriteFile(file, []byte(bad), 0o600); err != nil {
			t.Fatal(err)
		}
		if code, out, errs := said("audit", day, "--file", file); code != exitNo {
			t.Errorf("%v with a figure changed: exit %d: %s%s", args, code, out, errs)
		}
	}
}

// A folder of tables is held against the book as well: every file, and what the
// manifest says.
func TestAudit_FolderOfTables(t *testing.T) {
	day, other := dayBook(t), filepath.Join(t.TempDir(), "other")
	call(t, "", "import", other, example("two-rounds.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	folder := filepath.Join(t.TempDir(), "season")
	call(t, "", "export", day, "--as", "tables", "-o", folder).must(t, exitFine)
	if got := call(t, "", "audit", day, "--file", folder).must(t, exitFine); !strings.Contains(got.out, "is the whole export of this book (--as tables)") {
		t.Errorf("said %s", got.out)
	}
	if got := call(t, "", "audit", other, "--file", folder).must(t, exitNo); !strings.Contains(got.err, "not belong to the book") {
		t.Errorf("another book: said %s", got.err)
	}
	readings := filepath.Join(folder, "readings.csv")
	was := read(t, readings)
	put(t, readings, strings.Replace(was, "horizontal", "vertical", 1))
	if got := call(t, "", "audit", day, "--file", folder).must(t, exitNo); !strings.Contains(got.err, "readings.csv is not the file that its manifest names") {
		t.Errorf("a changed file: said %s", got.err)
	}
	// the file changed and the manifest made to fit it
	bad := strings.Replace(was, "horizontal", "vertical", 1)
	put(t, readings, bad)
	text := read(t, filepath.Join(folder, "manifest.json"))
	fit := strings.Replace(text, fmt.Sprintf("%x", sha256.Sum256([]byte(was))), fmt.Sprintf("%x", sha256.Sum256([]byte(bad))), 1)
	if fit == text {
		t.Fatal("the manifest does not name the hash of the file")
	}
	put(t, filepath.Join(folder, "manifest.json"), fit)
	if got := call(t, "", "audit", day, "--file", folder).must(t, exitNo); !strings.Contains(got.err, "the table readings") {
		t.Errorf("a forged manifest: said %s", got.err)
	}
	put(t, readings, was)
	put(t, filepath.Join(folder, "manifest.json"), text)
	call(t, "", "import", day, example("two-rounds.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	if got := call(t, "", "audit", day, "--file", folder).must(t, exitFine); !strings.Contains(got.out, "as it stood") {
		t.Errorf("the book went on: said %s", got.out)
	}
}

// An audit of a book in which another window books says up to which event it went.
func TestAudit_WhileAnotherBooks(t *testing.T) {
	day := dayBook(t)
	st, err := store.Open(day, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	if code, out, errs := said("audit", day); code != exitFine || !strings.Contains(out, "up to event 53") {
		t.Errorf("exit %d: %s%s", code, out, errs)
	}
}

// A file that was handed over is read a part at a time, also to its end: it may be
// far larger than what the memory holds. A pipe is kept until it was read.
func TestAudit_FileIsNotHeldInMemory(t *testing.T) {
	book := dayBook(t)
	_, out, _ := said("export", book)
	large := filepath.Join(t.TempDir(), "large.csv")
	put(t, large, out)
	const size = 24 << 20
	if err := os.Truncate(large, size); err != nil {
		t.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	code, _, errs := said("audit", book, "--file", large)
	runtime.ReadMemStats(&after)
	if used := after.TotalAlloc - before.TotalAlloc; code == exitFine || used > size/2 {
		t.Errorf("exit %d, %d MB for a file of %d MB: %s", code, used>>20, size>>20, errs)
	}
	if got := call(t, out, "audit", book, "--file", "-"); got.code != exitFine || !strings.Contains(got.out, "whole export") {
		t.Errorf("exit %d, %s%s", got.code, got.out, got.err)
	}
	end := strings.LastIndex(out[:len(out)/2], "\n") + 1
	if got := call(t, out[:end], "audit", book, "--file", "-"); got.code != exitFine || !strings.Contains(got.out, "is the beginning of the export") {
		t.Errorf("exit %d, %s%s", got.code, got.out, got.err)
	}
	if got := call(t, out[:end+20], "audit", book, "--file", "-"); got.code != exitNo || !strings.Contains(got.err, "it is short") {
		t.Errorf("a file that breaks off within a line: exit %d, %s%s", got.code, got.out, got.err)
	}
	word := strings.Repeat("ab", 32)
	for text, want := range map[string]int{word: 1, "x" + word: 0, word + "0": 0, "-" + word + "\n" + word: 2, strings.Repeat(word, 40): 0, word[:63]: 0} {
		n := 0
		if err := hashesIn(strings.NewReader(text), func(string) { n++ }); err != nil || n != want {
			t.Errorf("%q: %d hashes, want %d, %v", text, n, want, err)
		}
	}
}
