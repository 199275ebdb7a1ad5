package plot

import (
	"math"
	"strconv"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// A ResidualRow is one target: its residuals by round, NaN where there is none.
type ResidualRow struct {
	Name   string
	Values []float64 // seconds, in the order of the rounds
	Note   string    // written behind, "spread 7″ ok"
	Stop   bool      // the note says that a limit is passed
}

// Residuals shows each target's residuals on a line: the number of the round
// stands where its residual is, "●" where several meet, "!" beyond the limit is
// said by the note and by the place outside the band.
type Residuals struct {
	Rows  []ResidualRow
	Limit float64 // seconds either way
}

// Draw draws one row a target and a scale below. It needs about 40 columns; in
// fewer the notes are left out.
func (p Residuals) Draw(a widget.Area) {
	name, note := 0, 0
	for _, r := range p.Rows {
		name, note = max(name, widget.Width(r.Name)), max(note, widget.Width(a.Theme().Rewrite(r.Note)))
	}
	name = min(name, max(a.W/4, 4))
	if a.W-name-note-2 < 20 {
		note = 0
	}
	line := a.Sub(name+1, 0, a.W-name-note-2, a.H)
	if line.W < 5 || a.H < 1 {
		return
	}
	scale := p.scale()
	for y, r := range p.Rows {
		if y >= a.H {
			break
		}
		a.Fit(0, y, name, look.Base, r.Name, widget.Left)
		p.row(line.Sub(0, y, line.W, 1), r, scale)
		if note > 0 {
			role := look.Base
			if r.Stop {
				role = look.Stop
			}
			a.Text(a.W-note, y, role, r.Note)
		}
	}
	if len(p.Rows) < a.H {
		p.axis(line.Sub(0, len(p.Rows), line.W, 1), scale)
	}
}

// scale is the value at the ends of the line: a little more than the limit and
// than most of the values, at most three times the limit.
func (p Residuals) scale() float64 {
	s := p.Limit * 1.3
	for _, r := range p.Rows {
		for _, v := range r.Values {
			if !math.IsNaN(v) {
				s = max(s, math.Abs(v)*1.1)
			}
		}
	}
	if p.Limit > 0 {
		s = min(s, 3*p.Limit)
	}
	if s <= 0 || math.IsInf(s, 0) {
		return 1
	}
	return s
}

// column is where v stands on a line of w cells, and whether it is beyond it.
func column(v, scale float64, w int) (x int, beyond bool) {
	f := (v/scale + 1) / 2
	x = int(math.Round(min(max(f, 0), 1) * float64(w-1)))
	return x, f < 0 || f > 1
}

func (p Residuals) row(a widget.Area, r ResidualRow, scale float64) {
	for x := 0; x < a.W; x++ {
		a.Rune(x, 0, look.Rule, '·')
	}
	mid, _ := column(0, scale, a.W)
	a.Rune(mid, 0, look.Rule, '│')
	for _, l := range []float64{-p.Limit, p.Limit} {
		x, _ := column(l, scale, a.W)
		a.Rune(x, 0, look.Band, '┊')
	}
	seen := map[int]bool{}
	for i, v := range r.Values {
		if math.IsNaN(v) {
			continue
		}
		x, beyond := column(v, scale, a.W)
		role := look.Mark
		if math.Abs(v) > p.Limit {
			role = look.Stop
		}
		if beyond {
			arrow := '→'
			if v < 0 {
				arrow = '←'
			}
			a.Rune(x-sign(v), 0, role, arrow)
		}
		if seen[x] {
			a.Rune(x, 0, role, '●')
			continue
		}
		seen[x] = true
		a.Text(x, 0, role, strconv.Itoa((i+1)%10))
	}
}

func sign(v float64) int {
	if v < 0 {
		return -1
	}
	return 1
}

// axis writes the limits under the band.
func (p Residuals) axis(a widget.Area, scale float64) {
	for _, l := range []float64{-p.Limit, 0, p.Limit} {
		s := a.Theme().Rewrite(seconds(l))
		x, _ := column(l, scale, a.W)
		w := widget.Width(s)
		a.Text(min(max(x-w/2, 0), a.W-w), 0, look.Aside, s)
	}
}

// seconds writes a value in seconds with its sign.
func seconds(v float64) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', -1, 64)
	switch {
	case v > 0:
		return "+" + s + "″"
	case v < 0:
		return "−" + s + "″"
	}
	return "0″"
}
