package widget

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/look"
)

// Actions is the bar of what can be done now, one cell for each binding that is
// enabled and has a help text. The key and the word come from the binding, so
// what is printed is what works. Cells are large enough to be touched.
type Actions struct {
	Bindings []key.Binding
	Rows     int // rows of cells; 0 means as many as needed
	CellH    int // height of a cell in rows: 1 without frame, 3 with; 0 means 1
}

// shown are the bindings that have a cell, in order.
func (b Actions) shown() []key.Binding {
	out := make([]key.Binding, 0, len(b.Bindings))
	for _, k := range b.Bindings {
		if h := k.Help(); k.Enabled() && h.Key != "" {
			out = append(out, k)
		}
	}
	return out
}

// actionPlace is where a cell lies.
type actionPlace struct {
	binding    key.Binding
	x, y, w, h int
}

// layout places the cells from left to right in rows of w columns; cells share
// the width of their row equally where they fit, else they wrap.
func (b Actions) layout(w int) []actionPlace {
	h := max(b.CellH, 1)
	var out []actionPlace
	x, y, start := 0, 0, 0
	spread := func() {
		n := len(out) - start
		free := w - x
		if n == 0 || free <= 0 || h < 3 {
			return
		}
		for i := start; i < len(out); i++ {
			before := free * (i - start) / n
			out[i].x += before
			out[i].w += free*(i-start+1)/n - before
		}
	}
	for _, k := range b.shown() {
		cw := max(6, Width(k.Help().Key)+Width(k.Help().Desc)+4)
		if h >= 3 {
			cw += 2
		}
		if x > 0 && x+cw > w {
			spread()
			x, y, start = 0, y+h, len(out)
		}
		if b.Rows > 0 && y >= b.Rows*h {
			break
		}
		cw = min(cw, max(w-x, 0))
		out = append(out, actionPlace{k, x, y, cw, h})
		x += cw
	}
	spread()
	return out
}

// Height returns how many rows the bar takes in w columns.
func (b Actions) Height(w int) int {
	h := 0
	for _, p := range b.layout(w) {
		h = max(h, p.y+p.h)
	}
	return h
}

// Draw draws the bar from the upper left corner of a.
func (b Actions) Draw(a Area) {
	for _, p := range b.layout(a.W) {
		cell := a.Sub(p.x, p.y, p.w, p.h)
		if p.h >= 3 {
			cell = cell.Box(look.Rule, "")
		}
		help := p.binding.Help()
		y := cell.H / 2
		x := cell.key(0, y, help.Key)
		cell.Fit(x+1, y, max(cell.W-x-1, 0), look.Base, help.Desc, Left)
	}
}

// At returns the binding whose cell holds column x, row y of a bar drawn w wide.
func (b Actions) At(w, x, y int) (key.Binding, bool) {
	for _, p := range b.layout(w) {
		if x >= p.x && x < p.x+p.w && y >= p.y && y < p.y+p.h {
			return p.binding, true
		}
	}
	return key.Binding{}, false
}

// key writes a key as it is printed everywhere: on a ground of its own, or in
// brackets where there are no colours.
func (a Area) key(x, y int, k string) int {
	open, shut := " ", " "
	if !a.f.theme.Coloured() {
		open, shut = "[", "]"
	}
	x = a.Text(x, y, look.Key, open)
	x = a.Text(x, y, look.Key, k)
	return a.Text(x, y, look.Key, shut)
}

// Help draws the enabled bindings in one line, "key word", as many as fit, and
// returns how many were drawn.
func Help(a Area, bindings []key.Binding) int {
	x := 0
	for i, k := range (Actions{Bindings: bindings}).shown() {
		h := k.Help()
		w := Width(h.Key) + 3 + Width(h.Desc)
		if x+w > a.W {
			return i
		}
		x = a.key(x, 0, h.Key)
		x = a.Text(x+1, 0, look.Aside, h.Desc) + 2
	}
	return len(bindings)
}

// HelpList draws the enabled bindings one under the other, in as many columns as
// the area's height asks for.
func HelpList(a Area, bindings []key.Binding) {
	shown := (Actions{Bindings: bindings}).shown()
	kw, cw := 0, 0
	for _, k := range shown {
		kw = max(kw, Width(k.Help().Key))
		cw = max(cw, Width(k.Help().Desc))
	}
	for i, k := range shown {
		if a.H == 0 {
			return
		}
		x, y := (i/a.H)*(kw+cw+6), i%a.H
		a.key(x, y, Pad(k.Help().Key, kw, Middle))
		a.Text(x+kw+3, y, look.Base, k.Help().Desc)
	}
}
