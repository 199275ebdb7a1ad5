package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// A standing place is a book with all that can stand beside it.
func outputsPlace(t *testing.T) (dir, file string) {
	t.Helper()
	dir = t.TempDir()
	file = filepath.Join(dir, "weir.book")
	call(t, "", "import", file, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	call(t, "", "import", filepath.Join(dir, "other.book"), example("two-rounds.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	put(t, filepath.Join(dir, "copy-of.jsonl"), read(t, file+".jsonl"))
	put(t, filepath.Join(dir, "held"), strings.Repeat("\x00", 8192))
	put(t, filepath.Join(dir, "day.csv"), read(t, example("brackenfold-day.csv")))
	book := []byte(read(t, file))
	clear(book[:4096])
	put(t, filepath.Join(dir, "half"), string(book)) // its first head is destroyed
	put(t, filepath.Join(dir, "lost.book.jsonl"), read(t, file+".jsonl"))
	return dir, file
}

// everything reads a folder: what is in it must be what it was.
func everything(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		all[e.Name()] = read(t, filepath.Join(dir, e.Name()))
	}
	return all
}

// No output takes the place of a book, of what a book keeps beside it, or of what is
// read: exit 2, and nothing is touched, whether or not --replace is given.
func TestOutputs_NeverReplaceAStore(t *testing.T) {
	dir, file := outputsPlace(t)
	before := everything(t, dir)
	writers := [][]string{
		{"export", file}, {"export", file, "--as", "directions"}, {"export", file, "--as", "json"}, {"export", file, "--as", "jsonl"},
		{"export", file, "--as", "landxml"}, {"sheet", file}, {"sheet", file, "--text"}, {"audit", file}, {"figure", file}, {"health", file},
		{"fieldtest", file}, {"reduce", filepath.Join(dir, "day.csv")}, {"export", file, "--as", "sql"}, {"export", file, "--as", "tables"}, {"season", file},
	}
	targets := []string{"weir.book", "weir.book.jsonl", "weir.book.reserve", "other.book", "other.book.jsonl", "copy-of.jsonl", "held", "half", "lost.book"}
	for i, w := range writers {
		for j, target := range targets {
			if (i+j)%len(targets) != 0 && !*testdata.Long {
				continue // each writer meets one target, each target a writer or two
			}
			for _, more := range [][]string{nil, {"--replace"}} {
				args := append(append(append([]string{}, w...), "-o", filepath.Join(dir, target)), more...)
				got := call(t, "", args...)
				if got.code != exitUsage || !strings.Contains(got.err, "nothing was written") {
					t.Errorf("%q: exit %d, said %q", args, got.code, got.err)
				}
			}
		}
	}
	if got := call(t, "", "reduce", filepath.Join(dir, "day.csv"), "-o", filepath.Join(dir, "day.csv"), "--replace"); got.code != exitUsage || !strings.Contains(got.err, "is what is read") {
		t.Errorf("an input was written over: exit %d, %s", got.code, got.err)
	}
	after := everything(t, dir)
	for name, text := range before {
		if after[name] != text {
			t.Errorf("%s was touched", name)
		}
	}
	if len(after) != len(before) {
		t.Errorf("%d files, were %d", len(after), len(before))
	}
}

// What gathers and restores takes the place of no book, of nothing that a book keeps
// beside it, and of no other file.
func TestOutputs_GatherAndRestoreReplaceNothing(t *testing.T) {
	dir, file := outputsPlace(t)
	put(t, filepath.Join(dir, "notes.txt"), "the notes of the day")
	before := everything(t, dir)
	for _, target := range []string{"weir.book", "weir.book.jsonl", "weir.book.reserve", "other.book", "other.book.jsonl", "copy-of.jsonl", "held", "day.csv", "notes.txt"} {
		for _, args := range [][]string{{"gather", filepath.Join(dir, target), file}, {"restore", file + ".jsonl", filepath.Join(dir, target)}} {
			if got := call(t, "", args...); got.code == exitFine || got.err == "" {
				t.Errorf("%q: exit %d, said %q", args, got.code, got.out+got.err)
			}
		}
	}
	after := everything(t, dir)
	for name, text := range before {
		if name == "weir.book.reserve" || name == "other.book.reserve" {
			continue
		}
		if after[name] != text {
			t.Errorf("%s was touched", name)
		}
	}
	for name := range after {
		if _, was := before[name]; !was {
			t.Errorf("%s was left", name)
		}
	}
}

// A name that Windows keeps for a device is refused on every system, for books and
// for what is handed over.
func TestOutputs_NamesOfDevices(t *testing.T) {
	dir, file := outputsPlace(t)
	before := len(everything(t, dir))
	for _, name := range []string{"con", "NUL.csv", "aux.readback", "com1.x"} {
		at := filepath.Join(dir, name)
		for _, args := range [][]string{{"export", file, "-o", at}, {"export", file, "--as", "tables", "-o", at}, {"sheet", file, "-o", at},
			{"import", at, example("two-rounds.csv"), "--booker", "T"}, {"gather", at, file}, {"restore", file + ".jsonl", at}} {
			if got := call(t, "", args...); got.code != exitUsage || !strings.Contains(got.err, "device on Windows") {
				t.Errorf("%q: exit %d, said %q", args, got.code, got.err)
			}
		}
	}
	if after := everything(t, dir); len(after) != before {
		t.Errorf("%d files, were %d", len(after), before)
	}
}

// Another file is replaced only with --replace, and keeps who may read it; a link is
// followed, also to a file that is not there yet.
func TestOutputs_ReplaceAndLinks(t *testing.T) {
	dir, file := outputsPlace(t)
	out := filepath.Join(dir, "out.csv")
	put(t, out, "old")
	if err := os.Chmod(out, 0o640); err != nil {
		t.Fatal(err)
	}
	if got := call(t, "", "export", file, "-o", out); got.code != exitUsage || read(t, out) != "old" || !strings.Contains(got.err, "or --replace") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	call(t, "", "export", file, "-o", out, "--replace").must(t, exitFine)
	want := call(t, "", "export", file).must(t, exitFine).out
	if read(t, out) != want {
		t.Error("it was not replaced")
	}
	if info, err := os.Stat(out); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o640 {
		t.Errorf("%v %v", info.Mode(), err)
	}
	if runtime.GOOS == "windows" {
		return // links need a right there that few have
	}
	link, there := filepath.Join(dir, "link"), filepath.Join(dir, "there.csv")
	if err := os.Symlink("there.csv", link); err != nil {
		t.Fatal(err)
	}
	call(t, "", "export", file, "-o", link).must(t, exitFine)
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 || read(t, there) != want {
		t.Errorf("the link was not followed: %v", err)
	}
	if err := os.Remove(link); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file, link); err != nil {
		t.Fatal(err)
	}
	if got := call(t, "", "export", file, "-o", link, "--replace"); got.code != exitUsage {
		t.Errorf("through a link to the book: exit %d, %s", got.code, got.err)
	}
	call(t, "", "audit", file).must(t, exitFine)
}

// What a killed run left beside an output is cleared by the next; what a run is
// writing is not.
func TestOutputs_ClearWhatIsLeft(t *testing.T) {
	dir, file := outputsPlace(t)
	left := filepath.Join(dir, ".out.csv.0123456789ab.part")
	put(t, left, "half of an export")
	foreign := filepath.Join(dir, ".out.csv.mine.part")
	put(t, foreign, "not ours")
	call(t, "", "export", file, "-o", filepath.Join(dir, "out.csv")).must(t, exitFine)
	if _, err := os.Stat(left); err == nil {
		t.Error("what a killed run left is still there")
	}
	if _, err := os.Stat(foreign); err != nil {
		t.Error("a file of somebody else's was removed")
	}
}
