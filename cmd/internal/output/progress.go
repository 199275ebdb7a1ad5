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

	"github.com/charmbracelet/bubbles/progress"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"golang.org/x/term"
)

// A Progress says on standard error how far a long job is and how long it still
// takes, when that is a terminal and the job takes longer than a second.
type Progress struct {
	w     io.Writer  // nil: nobody looks
	cols  func() int // of the terminal
	noun  string
	total int // 0: not known
	began time.Time
	next  time.Time
	shown bool
}

// StartProgress begins to watch a job of total things of a noun, 0 where the total
// is not known. w is standard error itself.
func StartProgress(w io.Writer, noun string, total int) *Progress {
	now := time.Now()
	p := &Progress{noun: noun, total: total, began: now, next: now.Add(time.Second)}
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		p.w, p.cols = w, func() int {
			cols, _, err := term.GetSize(int(f.Fd()))
			if err != nil {
				return 0
			}
			return cols
		}
	}
	return p
}

// At says how many are done, a few times a second.
func (p *Progress) At(n int) {
	if p.w == nil {
		return
	}
	now := time.Now()
	if !now.After(p.next) {
		return
	}
	if p.total > 0 && n > p.total { // what is walked once more begins anew
		n = (n-1)%p.total + 1
	}
	words := p.words(n, now.Sub(p.began))
	fmt.Fprintf(p.w, "\r%s\x1b[K", p.bar(n, ansi.StringWidth(words))+words)
	p.next, p.shown = now.Add(250*time.Millisecond), true
}

// Of says how many are done of a total that was not known at the start.
func (p *Progress) Of(done, total uint64) {
	p.total = int(total)
	p.At(int(done))
}

// Wipe takes the line away, for what is printed in between.
func (p *Progress) Wipe() {
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
	p.shown = false
}

// words says how far a job is after some time.
func (p *Progress) words(n int, took time.Duration) string {
	if p.total <= 0 || n <= 0 {
		return fmt.Sprintf("%d %s", n, p.noun)
	}
	left := time.Duration(float64(took) / float64(n) * float64(max(p.total-n, 0)))
	return fmt.Sprintf("%d of %d %s, about %s left", n, p.total, p.noun, max(left.Round(time.Second), time.Second))
}

// barCols is how wide the bar of a job is at most. Under leastBar it says nothing.
const (
	barCols  = 24
	leastBar = 8
)

// bar is how far a job is as a picture, where its total is known and the row has room
// for it beside so many columns of words: a longer row could not be wiped.
func (p *Progress) bar(n, words int) string {
	if p.total <= 0 || p.cols == nil {
		return ""
	}
	w := min(barCols, p.cols()-words-3)
	if w < leastBar {
		return ""
	}
	bar := progress.New(progress.WithWidth(w), progress.WithoutPercentage(), progress.WithColorProfile(termenv.Ascii))
	return bar.ViewAs(float64(n)/float64(p.total)) + "  "
}

// End wipes the line, for good.
func (p *Progress) End() {
	p.Wipe()
	p.w = nil
}

// errInterrupted is the end of a job that was stopped by a signal.
var errInterrupted = errors.New("interrupted: nothing was written")

// A stoppable writer fails once a signal asked to stop, so that a half written
// file is taken away by the one who made it.
type stoppable struct {
	io.Writer
	ctx context.Context
}

func (s stoppable) Write(b []byte) (int, error) {
	if s.ctx.Err() != nil {
		return 0, errInterrupted
	}
	return s.Writer.Write(b)
}

// untilSignal returns w as a writer that fails after an interrupt or a request to
// end, and the func that gives the signals back.
func untilSignal(w io.Writer) (io.Writer, func()) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	return stoppable{w, ctx}, stop
}
