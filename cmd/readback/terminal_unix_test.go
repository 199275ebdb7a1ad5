//go:build unix

package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
	"golang.org/x/sys/unix"
)

// A terminal drives the built program on a pseudo-terminal and shows what a
// person would see: it looks at the emulated screen, never at the byte stream.
type terminal struct {
	t    testing.TB
	cmd  *exec.Cmd
	pty  *os.File
	emu  *vt.SafeEmulator
	w, h int

	home string // directory of the user's data and preferences

	mu   sync.Mutex // held while the picture changes and while it is looked at
	raw  []byte     // everything written, for the tests about modes
	last time.Time  // when the last of it arrived
	news chan struct{}
	gone chan struct{}
	wait sync.Once
	err  error
}

var built struct {
	once      sync.Once
	dir, path string
	err       error
}

// TestMain removes the program that the tests built.
func TestMain(m *testing.M) {
	code := m.Run()
	if built.dir != "" {
		os.RemoveAll(built.dir)
	}
	os.Exit(code)
}

// binary builds the program once for all tests.
func binary(t testing.TB) string {
	t.Helper()
	built.once.Do(func() {
		if built.dir, built.err = os.MkdirTemp("", "readback-test-"); built.err != nil {
			return
		}
		built.path = filepath.Join(built.dir, "readback")
		build := exec.Command("go", "build", "-ldflags=-w", "-o", built.path, ".") // no debugger looks at it
		if raced {
			build.Args = append(build.Args[:2:2], "-race", "-ldflags=-w", "-o", built.path, ".")
		}
		out, err := build.CombinedOutput()
		if err != nil {
			built.err = err
			t.Logf("%s", out)
		}
	})
	if built.err != nil {
		t.Fatal("the program does not build:", built.err)
	}
	return built.path
}

// open starts the program in a terminal of w columns and h rows. Its data and
// preferences live in a directory of the test.
func open(t testing.TB, w, h int, args ...string) *terminal {
	t.Helper()
	return openEnv(t, w, h, nil, args...)
}

func openEnv(t testing.TB, w, h int, env []string, args ...string) *terminal {
	t.Helper()
	home := t.TempDir()
	p := attach(t, command(t, home, env, args...), w, h)
	p.home = home
	return p
}

// command is a run of the program by a user whose directories are under home.
func command(t testing.TB, home string, env []string, args ...string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(binary(t), args...)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "HOME="+home,
		"XDG_DATA_HOME="+home+"/data", "XDG_CONFIG_HOME="+home+"/config", "COLORTERM=", "NO_COLOR=", "GORACE=halt_on_error=1")
	cmd.Env = append(cmd.Env, env...)
	return cmd
}

func attach(t testing.TB, cmd *exec.Cmd, w, h int) *terminal {
	t.Helper()
	f, err := pty.StartWithSize(cmd, &pty.Winsize{Cols: uint16(w), Rows: uint16(h)})
	if err != nil {
		t.Fatal(err)
	}
	return listen(t, cmd, f, w, h)
}

// listen is a terminal on the master side of a pseudo-terminal. cmd is the
// program at its other side, nil when the test itself is there.
func listen(t testing.TB, cmd *exec.Cmd, f *os.File, w, h int) *terminal {
	t.Helper()
	f = hangable(t, f)
	p := &terminal{t: t, cmd: cmd, pty: f, emu: vt.NewSafeEmulator(w, h), w: w, h: h, gone: make(chan struct{}), news: make(chan struct{}, 1)}
	go p.pump()
	go p.mute()
	t.Cleanup(func() {
		if cmd != nil {
			cmd.Process.Kill()
			p.exit()
		}
		f.Close()
		if c, ok := p.emu.InputPipe().(io.Closer); ok {
			c.Close() // ends mute, which would keep the 4 MB of the emulator
		}
	})
	return p
}

// hangable gives the master side again as a file whose closing hangs up at once:
// package pty leaves one on which a blocked reader would keep it open.
func hangable(t testing.TB, f *os.File) *os.File {
	t.Helper()
	fd, err := syscall.Dup(int(f.Fd()))
	if err == nil {
		f.Close()
		syscall.CloseOnExec(fd)
		err = syscall.SetNonblock(fd, true)
	}
	if err != nil {
		t.Fatal(err)
	}
	return os.NewFile(uintptr(fd), f.Name())
}

// pump feeds the emulator with what the program writes.
func (p *terminal) pump() {
	defer close(p.gone)
	buf := make([]byte, 64<<10)
	for {
		n, err := p.pty.Read(buf)
		now := time.Now()
		if n > 0 {
			p.mu.Lock()
			p.emu.Write(buf[:n])
			p.raw, p.last = append(p.raw, buf[:n]...), now
			p.mu.Unlock()
			select {
			case p.news <- struct{}{}:
			default:
			}
		}
		if err != nil {
			return
		}
	}
}

// mute throws away what the emulator would answer: the terminal of these tests
// answers no query.
func (p *terminal) mute() {
	buf := make([]byte, 4096)
	for {
		if _, err := p.emu.Read(buf); err != nil {
			return
		}
	}
}

// screen returns the screen as text, one line per row, as it is at one moment.
func (p *terminal) screen() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	var b strings.Builder
	b.Grow(2 * p.w * p.h)
	for y := range p.h {
		blanks := 0 // not written yet: those at the end of a row never are
		for x := range p.w {
			switch c := p.emu.Emulator.CellAt(x, y); {
			case c != nil && c.Content != "" && c.Content != " ":
				for ; blanks > 0; blanks-- {
					b.WriteByte(' ')
				}
				b.WriteString(c.Content)
			case c == nil || c.Content == " " || c.Width != 0:
				blanks++
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// key sends keys as one write.
func (p *terminal) key(s string) *terminal {
	p.t.Helper()
	if _, err := p.pty.WriteString(s); err != nil {
		p.t.Fatalf("send %q: %v", s, err)
	}
	return p
}

const patience = 30 * time.Second

// settled is how long nothing must arrive until a picture counts as whole: a
// frame comes in pieces.
const settled = 4 * time.Millisecond

// until waits until the screen is as wanted; what names it for the failure.
func (p *terminal) until(what string, ok func(screen string) bool) *terminal {
	p.t.Helper()
	deadline := time.Now().Add(patience)
	seen := -1
	for {
		if n := p.amount(); n != seen {
			seen = n
			if ok(p.screen()) {
				if time.Sleep(settled); p.amount() == n {
					return p
				}
				seen = -1
			}
		}
		if time.Now().After(deadline) {
			p.t.Fatalf("the screen does not show %s:\n%s", what, p.screen())
		}
		time.Sleep(2 * time.Millisecond)
	}
}

// sees waits until every text stands on the screen. How wide the gaps are and
// where a sentence is broken does not count.
func (p *terminal) sees(texts ...string) *terminal {
	p.t.Helper()
	return p.until(fmt.Sprintf("all of %q", texts), func(screen string) bool {
		screen = squeezed(screen)
		for _, want := range texts {
			if !strings.Contains(screen, want) {
				return false
			}
		}
		return true
	})
}

// insists presses a key until the text stands on the screen, and lets a slow machine
// draw between two presses.
func (p *terminal) insists(key, text string) *terminal {
	p.t.Helper()
	there := func() bool { return strings.Contains(squeezed(p.screen()), text) }
	for range 30 {
		p.key(key)
		for range 100 {
			if there() {
				return p.sees(text)
			}
			time.Sleep(10 * time.Millisecond)
		}
	}
	p.t.Fatalf("%q was pressed 30 times, and the screen does not show %q:\n%s", key, text, p.screen())
	return p
}

// squeezed is the text with one blank for every gap.
func squeezed(screen string) string { return strings.Join(strings.Fields(screen), " ") }

// misses waits until the text is off the screen.
func (p *terminal) misses(text string) *terminal {
	p.t.Helper()
	return p.until(fmt.Sprintf("a picture without %q", text), func(screen string) bool { return !strings.Contains(screen, text) })
}

// amount is how many bytes the program has written.
func (p *terminal) amount() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return len(p.raw)
}

// resize changes the window.
func (p *terminal) resize(w, h int) {
	p.mu.Lock()
	p.w, p.h = w, h
	p.emu.Resize(w, h)
	p.mu.Unlock()
	conn, err := p.pty.SyscallConn()
	if err == nil {
		err = conn.Control(func(fd uintptr) {
			unix.IoctlSetWinsize(int(fd), unix.TIOCSWINSZ, &unix.Winsize{Col: uint16(w), Row: uint16(h)})
		})
	}
	if err != nil {
		p.t.Fatal(err)
	}
}

// signal sends a signal to the program.
func (p *terminal) signal(s syscall.Signal) *terminal {
	p.t.Helper()
	if err := p.cmd.Process.Signal(s); err != nil {
		p.t.Fatal(err)
	}
	return p
}

// exit waits for the end of the program and returns its exit code, or 128 + the
// signal that killed it.
func (p *terminal) exit() int {
	p.wait.Do(func() {
		done := make(chan error, 1)
		go func() { done <- p.cmd.Wait() }()
		select {
		case p.err = <-done:
		case <-time.After(patience):
			p.cmd.Process.Kill()
			p.t.Errorf("the program does not end:\n%s", p.screen())
			p.err = <-done
		}
		select {
		case <-p.gone:
		case <-time.After(time.Second):
		}
	})
	st := p.cmd.ProcessState.Sys().(syscall.WaitStatus)
	if st.Signaled() {
		return 128 + int(st.Signal())
	}
	return st.ExitStatus()
}

// written returns all bytes the program wrote.
func (p *terminal) written() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return string(p.raw)
}
