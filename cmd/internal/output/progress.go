package output

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	"golang.org/x/term"
)

// A Progress says on standard error how far a long job is, when that is a
// terminal and the job takes longer than a second.
type Progress struct {
	w     io.Writer // nil: nobody looks
	noun  string
	next  time.Time
	shown bool
}

func StartProgress(w io.Writer, noun string) *Progress {
	p := &Progress{noun: noun, next: time.Now().Add(time.Second)}
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		p.w = w
	}
	return p
}

// At says how many are done, a few times a second.
func (p *Progress) At(n int) {
	if p.w == nil {
		return
	}
	if now := time.Now(); now.After(p.next) {
		fmt.Fprintf(p.w, "\r%d %s", n, p.noun)
		p.next, p.shown = now.Add(250*time.Millisecond), true
	}
}

// End wipes the line.
func (p *Progress) End() {
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}

// ErrInterrupted is the end of a job that was stopped by a signal.
var ErrInterrupted = errors.New("interrupted: nothing was written")

// A stoppable writer fails once a signal asked to stop, so that a half written
// file is taken away by the one who made it.
type stoppable struct {
	io.Writer
	ctx context.Context
}

func (s stoppable) Write(b []byte) (int, error) {
	if s.ctx.Err() != nil {
		return 0, ErrInterrupted
	}
	return s.Writer.Write(b)
}

// UntilSignal returns w as a writer that fails after an interrupt or a request to
// end, and the func that gives the signals back.
func UntilSignal(w io.Writer) (io.Writer, func()) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	return stoppable{w, ctx}, stop
}
