package term

import (
	"fmt"
	"io"
	"strings"
	"sync"
)

// The modes switched on by Open and off by Close: another screen, no cursor,
// bracketed paste, and on request presses of buttons and touches in SGR form.
// The numeric keypad is put into its plain mode.
const (
	modesOn  = "\x1b[?1049h\x1b[?25l\x1b[?2004h\x1b>\x1b[2J"
	modesOff = "\x1b[0m\x1b[?1002l\x1b[?1000l\x1b[?1006l\x1b[?2004l\x1b[?25h\x1b[?1049l"
	mouseOn  = "\x1b[?1000h\x1b[?1006h"
	mouseOff = "\x1b[?1000l\x1b[?1006l"
)

// A painter puts a view on the terminal at once, where bubbletea's own renderer waits
// for its next tick. It writes only the lines that changed, in one write, and nothing
// at all while nothing changes: an idle screen costs no wake-up. It owns the screen between Open and Close. Its methods may be called
// from several goroutines.
type painter struct {
	mu    sync.Mutex
	out   io.Writer
	lines []string
	buf   []byte
	fresh bool // the screen holds nothing that can be relied on
	err   error
}

// newPainter returns a painter that writes to out.
func newPainter(out io.Writer) *painter { return &painter{out: out, fresh: true} }

// Open takes the screen.
func (p *painter) Open() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.fresh = true
	p.write([]byte(modesOn))
	return p.err
}

// Mouse switches reports of presses on or off.
func (p *painter) Mouse(on bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if on {
		p.write([]byte(mouseOn))
		return
	}
	p.write([]byte(mouseOff))
}

// Bell rings the terminal's bell.
func (p *painter) Bell() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.write([]byte("\a"))
}

// Close gives the screen back as it was.
func (p *painter) Close() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.write([]byte(modesOff))
	return p.err
}

// Repaint makes the next Paint write every line: after a change of the window.
func (p *painter) Repaint() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.fresh = true
}

// Paint shows the view, lines separated by "\n". A row is erased before it is written:
// behind its last column the cursor still stands on it, and erasing the rest of the row
// would take that column away (xterm, GNU screen).
func (p *painter) Paint(view string) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.buf = p.buf[:0]
	if p.fresh {
		p.buf = append(p.buf, "\x1b[0m\x1b[2J"...)
		p.lines = p.lines[:0]
	}
	n := 0
	for line := range strings.SplitSeq(view, "\n") {
		if n >= len(p.lines) || p.lines[n] != line {
			p.buf = fmt.Appendf(p.buf, "\x1b[%d;1H%s\x1b[K%s\x1b[0m", n+1, ground(line), line)
		}
		if n < len(p.lines) {
			p.lines[n] = line
		} else {
			p.lines = append(p.lines, line)
		}
		n++
	}
	for k := n; k < len(p.lines); k++ {
		p.buf = fmt.Appendf(p.buf, "\x1b[%d;1H\x1b[K", k+1)
	}
	p.lines, p.fresh = p.lines[:n], false
	if len(p.buf) > 0 {
		p.write(p.buf)
	}
	return p.err
}

// ground is the sequence that a line begins with: the row is erased in its colour, so it
// does not blink.
func ground(line string) string {
	end := strings.IndexByte(line, 'm')
	if !strings.HasPrefix(line, "\x1b[") || strings.ContainsFunc(line[2:max(end, 2)], func(r rune) bool { return r != ';' && (r < '0' || r > '9') }) {
		return ""
	}
	return line[:end+1]
}

// write keeps the first error: a terminal that went away is noticed once.
func (p *painter) write(b []byte) {
	if _, err := p.out.Write(b); err != nil && p.err == nil {
		p.err = fmt.Errorf("write to the terminal: %w", err)
	}
}
