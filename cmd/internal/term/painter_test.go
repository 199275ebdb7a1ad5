package term

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

func TestPaint_WritesOnlyWhatChanged(t *testing.T) {
	var out bytes.Buffer
	p := newPainter(&out)
	if err := p.Open(); err != nil {
		t.Fatal(err)
	}
	p.Paint("one\ntwo\nthree")
	out.Reset()
	p.Paint("one\n2\nthree")
	if got := out.String(); got != "\x1b[2;1H\x1b[K2\x1b[0m" {
		t.Errorf("%q", got)
	}
	out.Reset()
	p.Paint("one\n2\nthree")
	if out.Len() != 0 {
		t.Errorf("an unchanged view wrote %q", out.String())
	}
	p.Paint("one")
	if got := out.String(); !strings.Contains(got, "\x1b[2;1H\x1b[K") || !strings.Contains(got, "\x1b[3;1H\x1b[K") {
		t.Errorf("a shorter view leaves lines: %q", got)
	}
	out.Reset()
	p.Paint("\x1b[48;5;231mone\x1b[0m")
	if got := out.String(); got != "\x1b[1;1H\x1b[48;5;231m\x1b[K\x1b[48;5;231mone\x1b[0m\x1b[0m" {
		t.Errorf("a row with a ground: %q", got)
	}
	for _, line := range []string{"\x1b[2Kwarm", "\x1b[", "m", "\x1b[48;5"} {
		p.Paint(line) // no colour begins it
	}
	out.Reset()
	p.Repaint()
	p.Paint("one")
	if got := out.String(); !strings.Contains(got, "\x1b[2J") || !strings.Contains(got, "one") {
		t.Errorf("after a change of the window: %q", got)
	}
}

func TestClose_SwitchesEveryModeOff(t *testing.T) {
	var out bytes.Buffer
	p := newPainter(&out)
	p.Open()
	p.Mouse(true)
	on := out.String()
	out.Reset()
	p.Close()
	off := out.String()
	for _, mode := range []string{"1049", "2004", "1000", "1006"} {
		if !strings.Contains(on, "?"+mode+"h") || !strings.Contains(off, "?"+mode+"l") {
			t.Errorf("mode %s: on %q, off %q", mode, on, off)
		}
	}
	if !strings.Contains(off, "?25h") {
		t.Error("the cursor stays hidden")
	}
}

type gone struct{}

func (gone) Write([]byte) (int, error) { return 0, errors.New("gone") }

func TestPaint_TellsThatTheTerminalIsGone(t *testing.T) {
	p := newPainter(gone{})
	if err := p.Paint("x"); err == nil {
		t.Error("no error")
	}
}

func BenchmarkPaint_OneLine(b *testing.B) {
	rows := make([]string, 30)
	for i := range rows {
		rows[i] = strings.Repeat("·", 100)
	}
	a := strings.Join(rows, "\n")
	rows[3] = strings.Repeat("x", 100)
	c := strings.Join(rows, "\n")
	p := newPainter(&bytes.Buffer{})
	p.Paint(a)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		p.out.(*bytes.Buffer).Reset()
		if i%2 == 0 {
			p.Paint(c)
		} else {
			p.Paint(a)
		}
	}
}
