package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/readback/testdata"

	"example.org/readback/store/disk"
	"example.org/readback/store/proof"
)

// An attack is made on one command: it is killed, a system call of it fails, or
// the disk is full. Whatever happens, the book it reads is not touched, and what
// it makes is whole or not there; exit 0 only with all of it.
type attacked struct {
	name string
	args []string // in the directory of the attack
	made string   // file that it makes; empty: standard output
	book bool     // it is a book
	part uint64   // events that a book may have besides none and all: an import opens the book first
	all  uint64   // events that it has when it is whole
}

var underAttack = []attacked{
	{name: "export", args: []string{"export", "B", "-o", "out.csv", "--replace"}, made: "out.csv"},
	{name: "export to standard output", args: []string{"export", "B"}},
	{name: "sheet", args: []string{"sheet", "B", "--text", "-o", "out.txt", "--replace"}, made: "out.txt"},
	{name: "figure", args: []string{"figure", "B"}},
	{name: "health", args: []string{"health", "B"}},
	{name: "audit", args: []string{"audit", "B"}},
	{name: "import", args: []string{"import", "I", "day.csv", "--booker", "Tam Okoro"}, made: "I", book: true, part: 1, all: 53},
	{name: "restore", args: []string{"restore", "B.jsonl", "R"}, made: "R", book: true, all: 53},
	{name: "gather", args: []string{"gather", "O", "B"}, made: "O", book: true, all: 53},
}

// A field of attack is a book and what each command makes of it.
type field struct {
	book, lines, day []byte
	want             map[string]string // by the name of the command: its output, times left out
}

// newField makes the book and lets every command run once in peace.
func newField(t *testing.T) *field {
	t.Helper()
	day := dayBook(t)
	f := &field{book: bytesOf(t, day), lines: bytesOf(t, disk.JournalPath(day)), day: bytesOf(t, example("brackenfold-day.csv")), want: map[string]string{}}
	for _, a := range underAttack {
		dir := f.ground(t)
		out, err := f.run(t, dir, nil, a)
		if err != nil {
			t.Fatalf("%s in peace: %v", a.name, err)
		}
		f.want[a.name] = f.output(t, dir, a, out)
		f.judge(t, "in peace", dir, a, out, nil)
	}
	return f
}

// ground lays out the files that the commands read in a new directory.
func (f *field) ground(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, content := range map[string][]byte{"B": f.book, "B.jsonl": f.lines, "day.csv": f.day} {
		if err := os.WriteFile(filepath.Join(dir, name), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// run runs a command behind what stands before it, and gives its standard output.
func (f *field) run(t *testing.T, dir string, before []string, a attacked) (string, error) {
	t.Helper()
	c := command(t, dir, nil, a.args...)
	if len(before) > 0 {
		path, err := exec.LookPath(before[0])
		if err != nil {
			t.Skip(err)
		}
		c.Args = append(append([]string{}, before...), c.Args...)
		c.Path = path
	}
	c.Dir = dir
	var out bytes.Buffer
	c.Stdout = &out
	err := c.Run()
	return out.String(), err
}

// output is what a command gave: the file it makes, or its standard output.
func (f *field) output(t *testing.T, dir string, a attacked, out string) string {
	if a.made != "" && !a.book {
		b, _ := os.ReadFile(filepath.Join(dir, a.made))
		out = string(b)
	}
	out = strings.ReplaceAll(out, dir, "")
	out = strings.ReplaceAll(out, "One of the two heads of the book file is unreadable; the other one serves.", "") // said when its reading fails
	return madeAt.ReplaceAllString(strings.Join(strings.Fields(out), " "), "")
}

// judge demands what an attack may leave; err is how the command ended.
func (f *field) judge(t *testing.T, what, dir string, a attacked, out string, err error) {
	t.Helper()
	for name, content := range map[string][]byte{"B": f.book, "B.jsonl": f.lines} {
		if got, _ := os.ReadFile(filepath.Join(dir, name)); !bytes.Equal(got, content) {
			t.Errorf("%s, %s: %s was altered", a.name, what, name)
		}
	}
	if !a.book {
		got := f.output(t, dir, a, out)
		if err == nil && got != f.want[a.name] || err != nil && a.made != "" && got != "" && got != f.want[a.name] {
			t.Errorf("%s, %s: ended with %v and left a short or other output", a.name, what, err)
		}
		return
	}
	events := uint64(0)
	path := filepath.Join(dir, a.made)
	if _, serr := os.Stat(path); serr == nil {
		b, perr := proof.Open(path)
		if perr != nil {
			t.Errorf("%s, %s: ended with %v and left a book that does not read: %v", a.name, what, err, perr)
			return
		}
		events = b.Events()
		b.Close()
	}
	if events != 0 && events != a.part && events != a.all || err == nil && events != a.all {
		t.Errorf("%s, %s: ended with %v and left %d of %d events", a.name, what, err, events, a.all)
	}
}

// attacksOn is how often each command is attacked: in short, or with -long.
func attacksOn(short, whole int) int {
	if *testdata.Long {
		return whole
	}
	return short
}

// Whatever moment a command is killed at, nothing is lost, altered or short, the
// same command runs through afterwards, and what the killed one left is cleared.
func TestAttack_Kill(t *testing.T) {
	f := newField(t)
	rnd := rand.New(rand.NewPCG(14, 1))
	total := 0
	for _, a := range underAttack {
		if a.made == "" {
			continue
		}
		for range attacksOn(2, killsEach) {
			dir := f.ground(t)
			c := command(t, dir, nil, a.args...)
			c.Dir = dir
			if err := c.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(time.Duration(rnd.IntN(60_000)) * time.Microsecond)
			c.Process.Kill()
			err := c.Wait()
			total++
			f.judge(t, "killed", dir, a, "", err)
			old := time.Now().Add(-48 * time.Hour)
			list, _ := os.ReadDir(dir)
			for _, e := range list {
				_ = os.Chtimes(filepath.Join(dir, e.Name()), old, old)
			}
			whole := err == nil
			if _, again := f.run(t, dir, nil, a); again == nil {
				f.judge(t, "run again", dir, a, "", nil)
			} else if _, serr := os.Stat(filepath.Join(dir, a.made)); serr != nil && !whole {
				t.Errorf("%s: after a kill it does not run: %v", a.name, again)
			}
			list, _ = os.ReadDir(dir)
			for _, e := range list {
				if name := e.Name(); strings.Contains(name, ".part") || strings.Contains(name, "gathering") || strings.Contains(name, "restoring") || strings.Contains(name, ".new-") {
					t.Errorf("%s: %s was left for good", a.name, name)
				}
			}
		}
	}
	t.Logf("%d kills, 0 lost, 0 altered, 0 short with exit 0", total)
}

// Whatever system call fails, a command ends with an error or with all of its
// output.
func TestAttack_Errors(t *testing.T) {
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("no strace on this machine to let system calls fail")
	}
	f := newField(t)
	total := 0
	for _, a := range underAttack {
		for i, call := range attackedCalls {
			if !*testdata.Long && (i+len(a.name))%8 != 0 {
				continue
			}
			for when := 1; when <= attacksOn(1, errorsEach); when++ {
				for _, code := range []string{"EIO", "ENOSPC"} {
					dir := f.ground(t)
					before := []string{strace, "-f", "-qq", "-o", os.DevNull, "-e", "trace=" + call, "-e", fmt.Sprintf("inject=%s:error=%s:when=%d", call, code, when)}
					out, err := f.run(t, dir, before, a)
					f.judge(t, fmt.Sprintf("%s %d fails with %s", call, when, code), dir, a, out, err)
					total++
				}
			}
		}
	}
	t.Logf("%d injected errors, 0 lost, 0 altered, 0 short with exit 0", total)
}

// Wherever the disk is full, a command ends with an error or with all of its output.
func TestAttack_FullDisk(t *testing.T) {
	f := newField(t)
	total := 0
	for _, a := range underAttack {
		if a.made == "" {
			continue
		}
		for i := range attacksOn(2, limitsEach) {
			blocks := i * 7 % 150 // of 512 bytes
			dir := f.ground(t)
			out, err := f.run(t, dir, []string{"sh", "-c", fmt.Sprintf(`ulimit -f %d; exec "$0" "$@"`, blocks)}, a)
			f.judge(t, fmt.Sprintf("files up to %d blocks", blocks), dir, a, out, err)
			total++
		}
	}
	t.Logf("%d full disks, 0 lost, 0 altered, 0 short with exit 0", total)
}

// Several that import into one book at once while others read it: one of them
// books, the rest is refused, and nobody reads a part without being told.
func TestAttack_AtOnce(t *testing.T) {
	f := newField(t)
	for range attacksOn(1, atOnceTimes) {
		dir := f.ground(t)
		var all sync.WaitGroup
		for range 8 {
			all.Add(2)
			go func() {
				defer all.Done()
				_, _ = f.run(t, dir, nil, attacked{args: []string{"import", "I", "day.csv", "--booker", "Tam Okoro"}})
			}()
			go func() {
				defer all.Done()
				c := command(t, dir, nil, "export", "I")
				c.Dir = dir
				var out, errs bytes.Buffer
				c.Stdout, c.Stderr = &out, &errs
				if c.Run() == nil && !strings.Contains(errs.String(), "up to event") && !strings.Contains(errs.String(), "up to its beginning") && bytes.Count(out.Bytes(), []byte("\n")) < 48 &&
					!strings.Contains(errs.String(), "I: 1 event read") && !strings.Contains(errs.String(), "no event is booked yet") {
					t.Errorf("a part was read as if it were all: %s", errs.String())
				}
			}()
		}
		all.Wait()
		b, err := proof.Open(filepath.Join(dir, "I"))
		if err != nil {
			t.Fatal(err)
		}
		if b.Events() != 53 {
			t.Errorf("%d events", b.Events())
		}
		b.Close()
	}
}

// The table of attacks in the store's README tells what the tests here do.
func TestAttack_AsTold(t *testing.T) {
	made := 0
	for _, a := range underAttack {
		if a.made != "" {
			made++
		}
	}
	text := string(bytesOf(t, filepath.Join("..", "..", "store", "README.md")))
	for _, line := range []string{
		fmt.Sprintf("`TestAttack_Kill` (cmd/readback) | %d kills |", made*killsEach),
		fmt.Sprintf("| %d commands, %d system calls, %d places, 2 errors: %s errors |", len(underAttack), len(attackedCalls), errorsEach, thousands(2*len(underAttack)*len(attackedCalls)*errorsEach)),
		fmt.Sprintf("| %d commands, %d sizes: %d limits |", made, limitsEach, made*limitsEach),
		fmt.Sprintf("`TestAttack_AtOnce` (cmd/readback) | %d times |", atOnceTimes),
	} {
		if !strings.Contains(text, line) {
			t.Errorf("store/README.md does not say %q", line)
		}
	}
}

func thousands(n int) string { return fmt.Sprintf("%d,%03d", n/1000, n%1000) }

// attackedCalls are the system calls that fail.
var attackedCalls = []string{"openat", "read", "pread64", "write", "pwrite64", "fsync", "fdatasync", "renameat", "linkat", "flock", "ftruncate", "newfstatat"}

// How often each command is attacked with -long; store/README.md tells these.
const (
	killsEach   = 100
	errorsEach  = 12
	limitsEach  = 40
	atOnceTimes = 20
)
