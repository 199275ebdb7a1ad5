//go:build unix

package term

import (
	"os"
	"os/signal"
	"sync/atomic"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/sys/unix"
	"golang.org/x/term"
)

// endSignals end the program in order: the terminal is restored and the exit
// code is 128 + the number.
var endSignals = []os.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT}

// A stage is the terminal while the screens are on it. Here the keyboard's raw
// mode and the painting are our own, so that a key is on the screen at once and
// an idle screen wakes nobody.
type stage struct {
	program *tea.Program
	paint   *painter
	in      *os.File
	before  *term.State
	winch   chan os.Signal
	mouse   atomic.Bool // touches are reported now
}

func newStage(s *Screen, model tea.Model) (*stage, error) {
	before, err := term.MakeRaw(int(s.In.Fd()))
	if err != nil {
		return nil, err
	}
	st := &stage{paint: newPainter(s.Out), in: s.In, before: before, winch: make(chan os.Signal, 1)}
	if err := st.paint.Open(); err != nil {
		st.close()
		return nil, err
	}
	g := &guarded{inner: model, s: s, paint: func(v string) { st.paint.Paint(v) }, size: st.paint.Repaint, mouse: st.touch, again: st.takeAgain, stop: st.stop}
	s.bell = st.paint.Bell
	st.program = tea.NewProgram(g, tea.WithInput(s.In), tea.WithoutRenderer(), tea.WithoutSignalHandler())
	signal.Notify(st.winch, syscall.SIGWINCH, syscall.SIGCONT)
	go st.watchSize(s.Out)
	return st, nil
}

// touch switches the reports of touches on or off.
func (st *stage) touch(on bool) {
	st.mouse.Store(on)
	st.paint.Mouse(on)
}

// takeAgain takes the terminal again after the program was stopped: meanwhile it
// was the shell's.
func (st *stage) takeAgain() {
	_, _ = term.MakeRaw(int(st.in.Fd()))
	_ = st.paint.Open()
	st.paint.Mouse(st.mouse.Load())
}

// stop gives the terminal to the shell and stops the program until the shell
// lets it go on, as Ctrl-Z does of old. Where no shell could (the program leads
// its session, or its parent is in another) it stays: the system would drop the
// signal, or nobody would ever wake it.
func (st *stage) stop() bool {
	own, err := unix.Getsid(0)
	parent, perr := unix.Getsid(os.Getppid())
	if err != nil || perr != nil || own == os.Getpid() || own != parent {
		return false
	}
	st.paint.Close()
	_ = term.Restore(int(st.in.Fd()), st.before)
	err = syscall.Kill(0, syscall.SIGTSTP)
	time.Sleep(50 * time.Millisecond) // stopped here, until the shell says go on
	return err == nil
}

// watchSize tells the screens the size of the window at the start and whenever
// it changes, and that the program was stopped and goes on.
func (st *stage) watchSize(out *os.File) {
	for {
		w, h, err := term.GetSize(int(out.Fd()))
		if err != nil || w <= 0 || h <= 0 {
			w, h = 80, 24 // a serial line does not know
		}
		st.program.Send(tea.WindowSizeMsg{Width: w, Height: h})
		got, ok := <-st.winch
		if !ok {
			return
		}
		if got == syscall.SIGCONT {
			st.program.Send(goOnMsg{})
		}
	}
}

func (st *stage) close() {
	signal.Stop(st.winch)
	close(st.winch)
	st.paint.Close()
	_ = term.Restore(int(st.in.Fd()), st.before)
}
