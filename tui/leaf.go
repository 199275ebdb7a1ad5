package tui

import (
	"example.org/readback/tui/look"
)

// ink is one figure or word on a leaf: where it stands, counted from the text
// edge, and how.
type ink struct {
	x, w int // w −1: to the end
	text string
	role look.Role

	painted bool // the text is painted already, in w cells
}

// a line of a leaf: its mark in the gutter, its figures, what a touch on it
// stands for. A drawn line is painted already.
type line struct {
	mark  string
	role  look.Role // of the mark
	inks  []ink
	drawn string
	on    any
	all   bool // on the ground of the chosen row
}

// a leaf is a page of lines longer than its place: set once, drawn often, and
// scrolled by lines.
type leaf struct {
	f     *frame
	w     int // cells across, edge and margin with them
	lines []line
	top   int
	now   int // the line to be seen, −1: none
	first int // the line its part begins with, shown above it where there is room
}

// a keptLeaf is a leaf that is set anew only when what it follows from has changed.
type keptLeaf struct {
	commanded
	leaf leaf
	h    int    // rows it was drawn in
	of   setFor // what it was set for
}

// a setFor is all that a kept leaf follows from.
type setFor struct{ version, w, vw, vh, chosen int }

// draw puts the leaf into what is left of h rows under b; set fills it.
func (k *keptLeaf) draw(v *view, b *block, w, h, chosen int, set func(v *view, w int)) {
	if now := (setFor{v.version, w, v.w, v.h, chosen}); now != k.of {
		top := k.leaf.top
		k.of, k.leaf = now, v.leaf(w)
		k.leaf.top = top
		set(v, w)
	}
	k.h = h - len(b.lines)
	k.leaf.scroll(0, k.h)
	b.put(k.leaf.view(k.h))
}

// enter begins the leaf anew.
func (k *keptLeaf) enter(*view) { *k = keptLeaf{} }

// take scrolls the leaf.
func (k *keptLeaf) take(_ *view, p press) ([]ask, bool) {
	by, ok := p.rows(k.h - 1)
	if ok {
		k.leaf.scroll(by, k.h)
	}
	return nil, ok
}

// leaf is an empty leaf w cells wide.
func (f *frame) leaf(w int) leaf { return leaf{f: f, w: w, now: -1} }

// room is how many cells its words have.
func (l *leaf) room() int { return l.w - l.f.edge() - l.f.margin() }

// section begins a part.
func (l *leaf) section(title, note string) { l.draw(l.f.section(title, note, l.w)...) }

// add appends a line of figures.
func (l *leaf) add(inks ...ink) *line {
	l.lines = append(l.lines, line{inks: inks})
	return &l.lines[len(l.lines)-1]
}

// blank appends an empty line.
func (l *leaf) blank() { l.lines = append(l.lines, line{}) }

// draw appends lines that are painted already.
func (l *leaf) draw(lines ...string) {
	for _, s := range lines {
		l.lines = append(l.lines, line{drawn: s})
	}
}

// across appends words beside each other, each broken into lines under each other where
// it has no room, and returns the lines they take.
func (l *leaf) across(inks ...ink) []line {
	at := len(l.lines)
	for _, k := range inks {
		w := k.w
		if w < 0 {
			w = l.room() - k.x
		}
		words := []string{k.text}
		if !k.painted {
			words = look.Wrap(k.text, w)
		}
		for i, s := range words {
			if at+i == len(l.lines) {
				l.blank()
			}
			k.text = s
			l.lines[at+i].inks = append(l.lines[at+i].inks, k)
		}
	}
	return l.lines[at:]
}

// wrapped appends words from column x on.
func (l *leaf) wrapped(role look.Role, x int, s string) { l.marked("", role, role, x, s) }

// marked appends a mark in the gutter and words beside it.
func (l *leaf) marked(mark string, markRole, role look.Role, x int, s string) {
	if ls := l.across(ink{x: x, w: -1, text: s, role: role}); len(ls) > 0 {
		ls[0].mark, ls[0].role = mark, markRole
	}
}

// named appends a value behind its label, which has lw cells.
func (l *leaf) named(label string, labelRole look.Role, lw int, value string, role look.Role) {
	l.across(ink{w: lw - 1, text: label, role: labelRole}, ink{x: lw, w: -1, text: value, role: role})
}

// scroll moves by n lines in a place of h rows and stops at the ends.
func (l *leaf) scroll(n, h int) { l.top = max(min(l.top+n, len(l.lines)-h), 0) }

// below tells whether lines stand below those that h rows show.
func (l *leaf) below(h int) bool { return l.top+h < len(l.lines) }

// show scrolls so that the line now is seen, with the head of its part above it.
func (l *leaf) show(h int) {
	if l.now < 0 {
		return
	}
	l.top = l.first
	if l.now-l.first >= h {
		l.top = l.now - h + 1
	}
	l.scroll(0, h)
}

// view draws h lines from top and says by arrows in the right
// margin that there are more.
func (l *leaf) view(h int) block {
	var b block
	for y := 0; y < h && l.top+y < len(l.lines); y++ {
		ln := &l.lines[l.top+y]
		more := ""
		switch {
		case y == 0 && l.top > 0:
			more = "↑"
		case y == h-1 && l.below(h):
			more = "↓"
		}
		b.add(ln.paint(l.f, l.w, more))
		switch on := ln.on.(type) {
		case nil:
		case press:
			b.touch(0, y, l.w, 1, on)
		default:
			b.touch(0, y, l.w, 1, touching(on))
		}
	}
	b.level(h)
	return b
}

// paint draws one line.
func (ln *line) paint(f *frame, w int, more string) string {
	s := ln.drawn
	if s == "" {
		row := f.theme.Row()
		if ln.mark != "" {
			row.To(f.gutter()).Put(ln.role, ln.mark)
		}
		for _, k := range ln.inks {
			k.paint(row, f.edge(), w-f.margin())
		}
		s = row.String()
		if ln.all {
			s = row.Ground(look.Chosen, w)
		}
	}
	if more != "" {
		s = look.FitLine(s, w-1) + f.theme.In(look.Accent, more)
	}
	return s
}

func (k ink) paint(row *look.Row, edge, end int) {
	x := edge + k.x
	if k.painted {
		row.To(x).Add(k.text, k.w)
		return
	}
	w := min(k.w, end-x)
	if k.w < 0 {
		w = end - x
	}
	s := look.Cut(k.text, w)
	if s == "" {
		return
	}
	row.To(x).Put(k.role, s)
}
