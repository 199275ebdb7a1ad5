package tui

import (
	"strings"

	"example.org/readback/tui/look"
)

// a block is painted lines with the places in it that may be touched.
type block struct {
	lines  []string
	places []place
}

// a place is a rectangle that stands for a press while the view that drew it is
// seen.
type place struct {
	x, y, w, h int
	p          press
}

func (b *block) add(lines ...string) { b.lines = append(b.lines, lines...) }

// touch makes a rectangle a place to touch.
func (b *block) touch(x, y, w, h int, p press) {
	if w > 0 && h > 0 {
		b.places = append(b.places, place{x, y, w, h, p})
	}
}

// put adds another block below.
func (b *block) put(c block) {
	b.move(c, 0, len(b.lines))
	b.add(c.lines...)
}

// move takes over the places of another block that stands at x, y.
func (b *block) move(c block, x, y int) {
	for _, p := range c.places {
		p.x, p.y = p.x+x, p.y+y
		b.places = append(b.places, p)
	}
}

// level cuts or fills the block to h lines.
func (b *block) level(h int) {
	h = max(h, 0)
	for len(b.lines) < h {
		b.lines = append(b.lines, "")
	}
	b.lines = b.lines[:h]
	kept := b.places[:0]
	for _, p := range b.places {
		if p.h = min(p.h, h-p.y); p.h > 0 {
			kept = append(kept, p)
		}
	}
	b.places = kept
}

// beside puts another block at column x of this one, whose lines are cut there.
// Both are padded already, so they are joined line by line: joining blocks would
// measure each of them again.
func (b *block) beside(x int, c block) {
	for len(b.lines) < len(c.lines) {
		b.lines = append(b.lines, "")
	}
	for y, l := range c.lines {
		b.lines[y] = look.FitLine(b.lines[y], x) + l
	}
	kept := b.places[:0]
	for _, p := range b.places {
		if p.w = min(p.w, x-p.x); p.w > 0 {
			kept = append(kept, p)
		}
	}
	b.places = kept
	b.move(c, x, 0)
}

// at returns the press of a cell; what was drawn later lies on top.
func (b *block) at(x, y int) (press, bool) {
	for i := len(b.places) - 1; i >= 0; i-- {
		p := b.places[i]
		if x >= p.x && y >= p.y && x < p.x+p.w && y < p.y+p.h {
			return p.p, true
		}
	}
	return press{}, false
}

// edge is the column that bar, badge, figures, titles, tables and key line begin
// in; what stands before it is the gutter of the marks.
func (f *frame) edge() int {
	if f.w < 60 {
		return 2
	}
	return 3
}

// margin is the room at the right.
func (f *frame) margin() int {
	if f.w < 60 {
		return 1
	}
	return 2
}

// gutter is the column of the marks.
func (f *frame) gutter() int { return f.edge() - 2 }

// air is the blank row a screen begins with where there is room for one.
func (f *frame) air() (b block) {
	if f.h >= compH {
		b.add("")
	}
	return b
}

// lines are a text broken to the right margin of w, each line at column x.
func (f *frame) lines(x int, role look.Role, text string, w int) []string {
	return f.marked(x, "", role, role, text, w)
}

// marked is lines with a mark in the gutter of the first.
func (f *frame) marked(x int, mark string, markRole, role look.Role, text string, w int) []string {
	l := f.leaf(w)
	l.marked(mark, markRole, role, x-f.edge(), text)
	return l.view(len(l.lines)).lines
}

// words adds a text at the text edge, broken to the width w.
func (b *block) words(f *frame, role look.Role, text string, w int) {
	b.add(f.lines(f.edge(), role, text, w)...)
}

// section is the head of a part: a title, broken where it is longer than a line, a
// line to the right margin, a quiet note at its end.
func (f *frame) section(title, note string, w int) []string {
	t, end := f.theme, w-f.margin()
	var lines []string
	words := look.Wrap(title, end-f.edge()-2)
	for _, s := range words[:max(len(words)-1, 0)] {
		lines = append(lines, t.Line(f.edge(), look.Strong, s))
	}
	row := t.Row().To(f.edge())
	if len(words) > 0 {
		row.Put(look.Strong, words[len(words)-1])
	}
	row.To(row.Width() + 1)
	n := 0
	if note != "" {
		n = look.Width(note) + 1
	}
	if row.Width()+n+2 > end {
		note, n = "", 0
	}
	row.Fill(look.Line, "─", end-n-row.Width())
	if note != "" {
		row.To(row.Width()+1).Put(look.Quiet, note)
	}
	return append(lines, row.String())
}

// flagAt is where the sentence behind a flag of a set begins; set is the length
// of its longest word.
func (f *frame) flagAt(set int) int { return f.edge() + set + 2 }

// flag is a state at the left edge: its mark, its word, and a sentence hanging
// behind it, broken to the width.
func (f *frame) flag(role look.Role, mark, word string, set int, text look.Role, sentence string, w int) []string {
	t, at := f.theme, f.flagAt(set)
	head := t.Row().To(f.gutter()).Put(role, mark).To(f.edge()).Put(role, word).Ground(role, at-1)
	flag := t.Row().Add(head, at-1).To(at)
	hang := f.hangAt(set, w)
	said := f.lines(hang, text, sentence, w)
	if hang == at && len(said) > 0 {
		flag.Add(strings.TrimPrefix(said[0], strings.Repeat(" ", at)), 0)
		said = said[1:]
	}
	return append([]string{flag.String()}, said...)
}

// hangAt is where the sentence of a flag hangs: behind it, or under it where a long
// flag leaves little room.
func (f *frame) hangAt(set, w int) int {
	if at := f.flagAt(set); w-at-f.margin() >= 2*set {
		return at
	}
	return f.edge()
}

// band is a sentence over the full width on a strong ground: the question, and a
// book that is not saved.
func (f *frame) band(role look.Role, mark, text string, w int) []string {
	lines := f.marked(f.edge(), mark, role, role, text, w)
	for i, s := range lines {
		lines[i] = f.theme.Row().Add(s, look.Width(s)).Ground(role, w)
	}
	return lines
}
