//go:build unix

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"
	xterm "golang.org/x/term"

	"example.org/readback/booking/event"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/term"
	"example.org/readback/store"
	"example.org/readback/store/repair"
)

// lineState is how the terminal's line is set: echo, line editing, signals.
func lineState(t testing.TB, f *os.File) *xterm.State {
	t.Helper()
	var state *xterm.State
	conn, err := f.SyscallConn()
	if err != nil {
		t.Fatal(err)
	}
	var serr error
	if err := conn.Control(func(fd uintptr) { state, serr = xterm.GetState(int(fd)) }); err != nil || serr != nil {
		t.Fatal(err, serr)
	}
	return state
}

// restored demands that what was written to a terminal leaves no mode on.
func restored(t testing.TB, written string) {
	t.Helper()
	for _, mode := range []string{"?1049", "?1000", "?1002", "?1003", "?1006", "?2004", "?1004"} {
		if strings.LastIndex(written, "\x1b["+mode+"h") > strings.LastIndex(written, "\x1b["+mode+"l") {
			t.Errorf("mode %s is left on", mode)
		}
	}
	if strings.LastIndex(written, "\x1b[?25l") > strings.LastIndex(written, "\x1b[?25h") {
		t.Error("the cursor is left hidden")
	}
}

// readingsIn opens a book, as the next run of the program does, and returns the
// keyed texts of the readings of its first setup, after an audit found it sound.
func readingsIn(t testing.TB, file string) []string {
	t.Helper()
	l, err := book.Open(file, false, event.BookOpened{}, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := l.Setup(1)
	if cerr := l.Close(); err != nil || cerr != nil {
		t.Fatal(err, cerr)
	}
	if r := repair.Verify(file); r.Err() != nil {
		t.Fatalf("%s: %v", file, r.Err())
	}
	var texts []string
	for _, r := range s.Readings {
		texts = append(texts, r.Text)
	}
	return texts
}

// Every signal that ends the program gives the terminal back, loses nothing
// that was booked, and is told by the exit code.
func TestEnding_Signals(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT, syscall.SIGQUIT} {
		t.Run(s.String(), func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "weir.book")
			b := bookerAt(open(t, 100, 30, "book", file)).firstSetup()
			b.books("00510").key("4510").sees("keying")
			b.signal(s)
			if code := b.exit(); code != 128+int(s) {
				t.Errorf("exit code %d", code)
			}
			restored(t, b.written())
			if !strings.Contains(b.written(), "events booked in "+file) {
				t.Errorf("it is not said what was booked: %q", b.screen())
			}
			if got := readingsIn(t, file); !reflect.DeepEqual(got, []string{"1.475", "00510"}) {
				t.Errorf("%q", got)
			}
		})
	}
}

// The line of the terminal is as it was after every way out.
func TestEnding_LineIsCookedAgain(t *testing.T) {
	for _, s := range []syscall.Signal{0, syscall.SIGHUP, syscall.SIGTERM} {
		master, tty, err := pty.Open()
		if err != nil {
			t.Fatal(err)
		}
		pty.Setsize(master, &pty.Winsize{Cols: 100, Rows: 30})
		before := lineState(t, tty)
		cmd := command(t, t.TempDir(), nil, "book", filepath.Join(t.TempDir(), "weir.book"))
		cmd.Stdin, cmd.Stdout, cmd.Stderr = tty, tty, tty
		cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		tty.Close()
		p := listen(t, cmd, master, 100, 30)
		p.sees("New setup")
		if during := lineState(t, p.pty); reflect.DeepEqual(before, during) {
			t.Error("the terminal was not set to raw at all")
		}
		if s == 0 {
			p.key("\x03")
		} else {
			p.signal(s)
		}
		p.exit()
		if after := lineState(t, p.pty); !reflect.DeepEqual(before, after) {
			t.Errorf("%v: the line is set %v, it was %v", s, after, before)
		}
	}
}

// A terminal that is closed ends the program in order, also where the shell had
// it ignore hang-ups: nothing holds the book afterwards.
func TestEnding_ClosedTerminal(t *testing.T) {
	for name, shell := range map[string]string{"plain": "", "hang-up ignored": `trap "" HUP; exec "$0" "$@"`} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "weir.book")
			cmd := command(t, t.TempDir(), nil, "book", file)
			if shell != "" {
				env := cmd.Env
				cmd = exec.Command("sh", append([]string{"-c", shell}, cmd.Args...)...)
				cmd.Env = env
			}
			b := bookerAt(attach(t, cmd, 100, 30)).firstSetup().books("00510", "451020")
			b.key("1203").sees("keying")
			b.pty.Close()
			if code := b.exit(); code != 128+int(syscall.SIGHUP) {
				t.Errorf("exit code %d", code)
			}
			if got := readingsIn(t, file); !reflect.DeepEqual(got, []string{"1.475", "00510", "451020"}) {
				t.Errorf("%q", got)
			}
		})
	}
}

// A rigged model panics where it is told to.
type rigged struct {
	where string
	ready bool
}

func (r *rigged) Init() tea.Cmd {
	if r.where == "a command" {
		return func() tea.Msg { panic("rigged") }
	}
	if r.where == "one of several commands" {
		return tea.Batch(func() tea.Msg { return nil }, func() tea.Msg { panic("rigged") })
	}
	return nil
}

func (r *rigged) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if _, ok := msg.(tea.WindowSizeMsg); ok {
		r.ready = true
		if r.where == "Update" {
			panic("rigged"[:len(r.where)+1]) // beyond the end of the text
		}
	}
	return r, nil
}

func (r *rigged) View() string {
	if r.where == "View" && r.ready {
		panic("rigged")
	}
	return "rigged"
}

// A failure inside a screen gives the terminal back, leaves the stack in a file
// beside the book and says so.
func TestEnding_PanicInAScreen(t *testing.T) {
	for _, where := range []string{"Update", "View", "a command", "one of several commands"} {
		t.Run(where, func(t *testing.T) {
			master, tty, err := pty.Open()
			if err != nil {
				t.Fatal(err)
			}
			defer tty.Close()
			pty.Setsize(master, &pty.Winsize{Cols: 80, Rows: 24})
			before := lineState(t, tty)
			p := listen(t, nil, master, 80, 24)
			file := filepath.Join(t.TempDir(), "weir.book")
			l, err := book.Open(file, true, event.BookOpened{}, store.Options{})
			if err != nil {
				t.Fatal(err)
			}
			port := book.NewPort(l)
			done := make(chan error, 1)
			go func() {
				scr := &term.Screen{In: tty, Out: tty, Book: file, Talkers: []term.Talker{port}}
				code, err := scr.Show(&rigged{where: where})
				if code != exitNo {
					t.Errorf("exit code %d", code)
				}
				done <- err
			}()
			select {
			case err = <-done:
			case <-time.After(patience):
				t.Fatal("the program does not end")
			}
			if _, cerr := port.Close(false); cerr != nil {
				t.Error(cerr)
			}
			note := file + ".crash.txt"
			if err == nil || !strings.Contains(err.Error(), note) {
				t.Errorf("it is not said: %v", err)
			}
			text, err := os.ReadFile(note)
			if err != nil || !strings.Contains(string(text), "rigged") || !strings.Contains(string(text), "ending_unix_test.go") {
				t.Errorf("%v\n%s", err, text)
			}
			if info, err := os.Stat(note); err == nil && info.Mode().Perm() != 0o600 {
				t.Errorf("the stack may be read by others: %v", info.Mode())
			}
			if after := lineState(t, tty); !reflect.DeepEqual(before, after) {
				t.Errorf("the line is set %v, it was %v", after, before)
			}
			p.until("its modes switched off", func(string) bool { return strings.Contains(p.written(), "\x1b[?1049l") })
			restored(t, p.written())
		})
	}
}
