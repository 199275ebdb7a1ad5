// Package term shows the screens on the user's terminal and gives it back however
// the program ends: leaving, a signal, a closed window, a panic.
package term

import (
	"errors"
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"sync"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"
)

// ErrNone is returned where the screens cannot be shown.
var ErrNone = errors.New("booking needs a terminal to show its screen on: for a script use export, reduce, import or sheet")

// errNoShell is said to the booker where Ctrl-Z finds no shell to go on from.
var errNoShell = errors.New("Ctrl-Z does nothing here: there is no shell to come back from. Q leaves")

// Need returns ErrNone where the screens cannot be shown. It is asked before a
// book is opened, so that none is made for nothing.
func Need(in, out *os.File) error {
	if !IsTerminal(in) || !IsTerminal(out) {
		return ErrNone
	}
	return nil
}

// IsTerminal tells whether a file is a terminal; nil is none.
func IsTerminal(f *os.File) bool { return f != nil && term.IsTerminal(int(f.Fd())) }

// exitNo is the exit code of a program that failed.
const exitNo = 1

// A Talker sends messages to the screens; it is told how before they begin.
type Talker interface{ SendTo(send func(tea.Msg)) }

// A Screen is one run of the booking screens on the user's terminal.
type Screen struct {
	In, Out *os.File
	Book    string   // path of the book, for the crash report
	Talkers []Talker // send messages to the screens

	program *tea.Program
	bell    func() // of our own painting; nil: bubbletea paints

	mu      sync.Mutex
	got     os.Signal // the signal that ended the program
	crashed string    // where the stack of a crash was written, or why not
}

// Show runs the screens until the booker leaves and returns the exit code. Every
// way out gives the terminal back: leaving, a signal, a closed window, a panic.
func (s *Screen) Show(model tea.Model) (int, error) {
	ch := make(chan os.Signal, 1)
	signal.Notify(ch, endSignals...)
	defer signal.Stop(ch)

	stage, err := newStage(s, model)
	if err != nil {
		return exitNo, fmt.Errorf("the terminal cannot be used: %w", err)
	}
	s.program = stage.program
	for _, t := range s.Talkers {
		t.SendTo(s.program.Send)
	}
	over := make(chan struct{})
	go s.watch(ch, over)
	_, err = s.program.Run()
	close(over)
	stage.close()
	return s.ending(err)
}

// Ring rings the terminal's bell, where the painting is our own.
func (s *Screen) Ring() {
	if s.bell != nil {
		s.bell()
	}
}

// watch ends the program on the first signal.
func (s *Screen) watch(ch chan os.Signal, over chan struct{}) {
	select {
	case got := <-ch:
		s.mu.Lock()
		s.got = got
		s.mu.Unlock()
		s.program.Quit()
	case <-over:
	}
}

// ending turns the end of the program into an exit code.
func (s *Screen) ending(err error) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case s.crashed != "":
		return exitNo, fmt.Errorf("the program failed inside; everything shown as booked is in the book. %s", s.crashed)
	case s.got != nil:
		if n, ok := s.got.(syscall.Signal); ok {
			return 128 + int(n), nil
		}
		return exitNo, nil
	case err != nil:
		return exitNo, fmt.Errorf("the screen failed: %w", err)
	}
	return 0, nil
}

// crash records a panic: its stack goes to a file beside the book.
func (s *Screen) crash(what any) {
	stack := fmt.Sprintf("%s\n%v\n\n%s", time.Now().UTC().Format(time.RFC3339), what, debug.Stack())
	name := s.Book + ".crash.txt"
	note := "What happened is written in " + name + "."
	if err := os.WriteFile(name, []byte(stack), 0o600); err != nil {
		note = "What happened could not be written beside the book: " + err.Error()
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.crashed == "" {
		s.crashed = note
	}
}

// A guarded model turns a panic of the screens, or of a command they started,
// into an orderly end.
type guarded struct {
	inner tea.Model
	s     *Screen
	paint func(view string) // nil: bubbletea paints
	size  func()            // called before a change of the window is painted
	mouse func(on bool)     // nil: bubbletea switches it
	again func()            // called when the program goes on after it was stopped
	stop  func() bool       // stops the program until the shell lets it go on; false: there is none
}

// goOnMsg says that the program was stopped from outside and goes on now.
type goOnMsg struct{}

// crashedMsg says that a command panicked.
type crashedMsg struct{ what any }

// Init implements tea.Model.
func (g *guarded) Init() tea.Cmd { return g.guard(g.inner.Init()) }

// Update implements tea.Model.
func (g *guarded) Update(msg tea.Msg) (m tea.Model, cmd tea.Cmd) {
	defer func() {
		if r := recover(); r != nil {
			g.s.crash(r)
			m, cmd = g, tea.Quit
		}
	}()
	if c, ok := msg.(crashedMsg); ok {
		g.s.crash(c.what)
		return g, tea.Quit
	}
	switch msg.(type) {
	case tea.WindowSizeMsg:
		if g.size != nil {
			g.size()
		}
	case goOnMsg:
		g.again()
	}
	g.inner, cmd = g.inner.Update(msg)
	if g.paint != nil {
		g.paint(g.inner.View())
	}
	return g, g.guard(cmd)
}

// View implements tea.Model.
func (g *guarded) View() (view string) {
	if g.paint != nil {
		return ""
	}
	defer func() {
		if r := recover(); r != nil {
			g.s.crash(r)
			go g.s.program.Quit()
		}
	}()
	return g.inner.View()
}

// guard keeps a panic inside a command from ending the process.
func (g *guarded) guard(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() (msg tea.Msg) {
		defer func() {
			if r := recover(); r != nil {
				msg = crashedMsg{what: fmt.Sprintf("%v\n%s", r, debug.Stack())}
			}
		}()
		msg = g.switched(cmd())
		if batch, ok := msg.(tea.BatchMsg); ok {
			for i := range batch {
				batch[i] = g.guard(batch[i])
			}
		}
		return msg
	}
}

// switched carries out what bubbletea's renderer would do for a command, where
// the painting is our own.
func (g *guarded) switched(msg tea.Msg) tea.Msg {
	if g.mouse == nil {
		return msg
	}
	switch msg.(type) {
	case tea.SuspendMsg:
		if !g.stop() {
			return errNoShell
		}
		return goOnMsg{} // taken again, also where the system dropped the signal
	}
	switch msg {
	case tea.EnableMouseCellMotion():
		g.mouse(true)
	case tea.DisableMouse():
		g.mouse(false)
	default:
		return msg
	}
	return nil
}
