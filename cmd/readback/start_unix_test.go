//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	bolt "go.etcd.io/bbolt"

	"example.org/readback/testdata"
)

// quickest is the least time of three tries: a machine may be busy with other work.
func quickest(try func()) time.Duration {
	least := time.Hour
	for range 3 {
		begin := time.Now()
		try()
		least = min(least, time.Since(begin))
	}
	return least
}

// A terminal that answers nothing must not be waited for: the libraries ask for
// the background colour and wait five seconds where nobody stops them.
func TestStart_FirstFrameOnAMuteTerminal(t *testing.T) {
	binary(t)
	var p *terminal
	if d := quickest(func() { p = open(t, 80, 24, "demo").sees("the observer calls", "✓ saved") }); d > time.Second {
		t.Errorf("the first frame took %v", d)
	}
	p.key("q").sees("Leave Readback?").key("y")
	if code := p.exit(); code != exitFine {
		t.Errorf("exit code %d", code)
	}
	for _, query := range []string{"\x1b]11", "\x1b]10", "\x1b[6n", "\x1b[c"} {
		if strings.Contains(p.written(), query) {
			t.Errorf("the terminal was asked %q", query)
		}
	}
}

// Bare, the program opens the user's own default book and says which file it is.
func TestStart_DefaultBook(t *testing.T) {
	b := bookerAt(open(t, 100, 30))
	file := filepath.Join(b.home, "data", "readback", "fieldbook.readback")
	b.sees("New setup", file)
	b.firstSetup().books("00510").leaves()
	if !strings.Contains(b.written(), "booked in "+file) {
		t.Errorf("it is not said which file was booked in: %q", b.screen())
	}
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", info, err)
	}
	if info, err := os.Stat(filepath.Dir(file)); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("%v %v", info, err)
	}
}

// A serial line does not know the size of its window.
func TestStart_TerminalWithoutASize(t *testing.T) {
	cmd := command(t, t.TempDir(), nil, "demo")
	f, err := pty.StartWithSize(cmd, &pty.Winsize{})
	if err != nil {
		t.Fatal(err)
	}
	listen(t, cmd, f, 80, 24).sees("the observer calls", "✓ saved")
}

func TestStart_HelpIsImmediate(t *testing.T) {
	binary(t)
	var p *terminal
	d := quickest(func() {
		p = open(t, 80, 24, "--help")
		if code := p.exit(); code != exitFine {
			t.Errorf("exit code %d", code)
		}
	})
	if d > time.Second {
		t.Errorf("it took %v", d)
	}
	if out := p.written(); !strings.Contains(out, "Usage: readback") || strings.Contains(out, "\x1b") {
		t.Errorf("%q", out)
	}
}

// outcome is what a run of the program without a terminal said.
type outcome struct {
	code      int
	out, errs string
}

// runs the built program with nothing on its standard input.
func runs(t testing.TB, args ...string) outcome {
	t.Helper()
	cmd := command(t, t.TempDir(), nil, args...)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	err := cmd.Run()
	if _, ended := err.(*exec.ExitError); err != nil && !ended {
		t.Fatal(err)
	}
	return outcome{cmd.ProcessState.ExitCode(), out.String(), errs.String()}
}

// refused demands one sentence on standard error, nothing else, and the code.
func (o outcome) refused(t *testing.T, code int, words ...string) {
	t.Helper()
	if o.code != code {
		t.Errorf("exit code %d, want %d: %s", o.code, code, o.errs)
	}
	if o.out != "" || strings.Contains(o.errs, "goroutine") || !strings.HasPrefix(o.errs, "readback: ") {
		t.Errorf("out %q, err %q", o.out, o.errs)
	}
	for _, w := range words {
		if !strings.Contains(o.errs, w) {
			t.Errorf("%q is not said: %s", w, o.errs)
		}
	}
}

func TestStart_WithoutATerminal(t *testing.T) {
	file := filepath.Join(t.TempDir(), "weir.book")
	for _, args := range [][]string{{"book", file}, {"demo"}, {"drill"}, {}} {
		o := runs(t, args...)
		o.refused(t, exitUsage, "terminal")
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("a book was made for nothing")
	}
}

// A command keyed wrongly makes no book of that name; a book that is there is
// opened without a command.
func TestStart_MistypedCommand(t *testing.T) {
	dir := t.TempDir()
	opens := func(args ...string) *booker {
		cmd := command(t, t.TempDir(), nil, args...)
		cmd.Dir = dir
		return bookerAt(attach(t, cmd, 100, 30))
	}
	b := opens("dril", "--theme", "day")
	if code := b.exit(); code != exitUsage || !strings.Contains(squeezed(b.screen()), "dril is no command and no book: did you mean readback drill?") {
		t.Errorf("exit code %d: %s", code, b.screen())
	}
	if _, err := os.Stat(filepath.Join(dir, "dril")); err == nil {
		t.Error("a book was made of it")
	}
	opens("book", "weir.book").firstSetup().books("00510").quits()
	opens("weir.book").sees("Weir setup 1", "FL ●◆○○")
}

// What is no book is refused with a sentence that says what it is, and is left
// as it was. So is a file of no bytes, which may have been a book once: opening
// it must not make a new one of it.
func TestStart_WhatIsNoBook(t *testing.T) {
	dir := t.TempDir()
	other := filepath.Join(dir, "other.bolt")
	db, err := bolt.Open(other, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	db.Close()
	files := map[string][]byte{
		"empty.book":  {},
		"letter.txt":  []byte("Dear Ines,\nthe dam is fine.\n"),
		"zeroes.book": make([]byte, 64<<10),
		"text.book":   bytes.Repeat([]byte("abcdefgh"), 16<<10),
	}
	for name, content := range files {
		if err := os.WriteFile(filepath.Join(dir, name), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var names []string
	for name := range files {
		names = append(names, filepath.Join(dir, name))
	}
	slices.Sort(names)
	names = append(names, other, dir, filepath.Join(dir, "none", "weir.book"), "/dev/null")
	for n, name := range names {
		for v, verb := range []string{"book", "audit", "export", "sheet"} {
			if !testdata.Sampled(n + v) {
				continue
			}
			t.Run(verb+" "+filepath.Base(name), func(t *testing.T) {
				p := open(t, 80, 24, verb, name)
				want := exitUsage
				if filepath.Base(name) == "empty.book" { // it may have been a book
					want = exitNo
				}
				if code := p.exit(); code != want {
					t.Errorf("exit code %d:\n%s", code, p.written())
				}
				said := p.written()
				if !strings.Contains(said, "readback: ") || strings.Contains(said, "goroutine") || strings.Contains(said, "\x1b[?1049h") {
					t.Errorf("%q", said)
				}
			})
		}
	}
	for name, content := range files {
		if now, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !bytes.Equal(now, content) {
			t.Errorf("%s was changed (%v)", name, err)
		}
	}
}

// The second program on one book is told at once who has it.
func TestStart_SecondProgramOnOneBook(t *testing.T) {
	file := filepath.Join(t.TempDir(), "weir.book")
	first := bookerAt(open(t, 80, 24, "book", file))
	first.firstSetup().books("00510")
	begin := time.Now()
	second := open(t, 80, 24, "book", file)
	if code := second.exit(); code != exitNo {
		t.Errorf("exit code %d", code)
	}
	if d := time.Since(begin); d > 2*time.Second {
		t.Errorf("it took %v", d)
	}
	said := second.written()
	if strings.Contains(said, "\x1b[?1049h") || !strings.Contains(said, "open") || !strings.Contains(said, "Close it there first") {
		t.Errorf("%q", said)
	}
	t.Log(strings.TrimSpace(said))
	for _, verb := range []string{"audit", "export", "sheet", "figure", "health"} { // they read it as it stands
		if o := runs(t, verb, file); o.code != exitFine || !strings.Contains(o.out+o.errs, "It is read as it stands, up to event 4 of") {
			t.Errorf("%s: exit code %d, %s%s", verb, o.code, o.out, o.errs)
		}
	}
	runs(t, "known", file, "--bearing", "Weir,Spire,45 10 20").refused(t, exitNo, "the book is open in another window", "Close it there first")
	first.books("451020")
}
