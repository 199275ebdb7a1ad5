package tui

import (
	"strings"

	"example.org/readback/tui/look"
)

// a form is fields one under the other, one of them chosen. Behind the last
// stands the line that opens what it says: Chosen is len(Fields) there, and back is
// what is read back.
type form struct {
	Fields []formField
	Chosen int
	back   keptLeaf
}

// a formField is a text to be written, or an answer to be chosen from a few.
type formField struct {
	Label   string
	Hint    string // what it is for
	Head    string // the title of the part that begins with it
	Text    textLine
	Choices []string // nil: a text
	At      int      // the answer chosen
	Problem string   // why its answer does not do
	Offered bool     // it was proposed: the first character keyed takes its place
	Hidden  bool     // it is no part of what is asked
}

// Value is the answer in words.
func (f *formField) Value() string {
	if f.Choices != nil {
		return f.Choices[f.At]
	}
	return f.Text.Text()
}

// walk goes to the next answer, or the one before.
func (f *formField) walk(n int) {
	if k := len(f.Choices); k > 0 {
		f.At = ((f.At+n)%k + k) % k
	}
}

// field is the field that is chosen, nil on the last line.
func (f *form) field() *formField {
	if f.atEnd() {
		return nil
	}
	return &f.Fields[f.Chosen]
}

func (f *form) atEnd() bool { return f.Chosen >= len(f.Fields) }

// move goes n fields on, over those that are hidden.
func (f *form) move(n int) {
	f.back.leaf.top = 0
	f.Chosen = min(max(f.Chosen+n, 0), len(f.Fields))
	for !f.atEnd() && f.Fields[f.Chosen].Hidden {
		if n < 0 {
			f.Chosen--
		} else {
			f.Chosen++
		}
	}
}

// line is what a field says, without what stands around and between its words.
func (f *form) line(i int) string { return f.Fields[i].line() }

func (f *formField) line() string { return strings.Join(strings.Fields(f.Value()), " ") }

// readsOn scrolls what is read back where not all of it has room; up from its first
// line leads back to the fields.
func (f *form) readsOn(p press) bool {
	by, ok := p.rows(f.back.h - 1)
	if !ok || by < 0 && f.back.leaf.top == 0 {
		return false
	}
	f.back.leaf.scroll(by, f.back.h)
	return true
}

// drawBack draws what is read back on the last line.
func (f *form) drawBack(h int, l leaf) block {
	top := f.back.leaf.top
	f.back.leaf, f.back.h = l, h
	f.back.leaf.scroll(top, h)
	return f.back.leaf.view(h)
}

// press takes what moves between fields and what answers one; ok is false for any
// other press, and on the last line for all but the way back and what scrolls.
func (f *form) press(p press) (as []ask, ok bool) {
	if on, touched := p.on.(onField); touched {
		if f.Chosen == int(on) && !f.atEnd() {
			f.Fields[on].walk(1)
		}
		f.Chosen = int(on)
		return nil, true
	}
	switch {
	case f.atEnd() && f.readsOn(p):
	case p.is(keys.Up), f.atEnd() && p.is(keys.Back):
		f.move(-1)
	case p.is(keys.Down), p.is(keys.Enter), p.name == "tab":
		f.move(1)
	case p.is(keys.PageUp):
		f.move(-len(f.Fields))
	case p.is(keys.PageDown):
		f.move(len(f.Fields))
	case f.atEnd():
		return nil, false
	default:
		return f.field().press(p)
	}
	return nil, true
}

// actions are the keys of a form: what its last line opens, how its fields are gone
// through, the way out. choose is what → does in a field, empty where it does nothing.
func (f *form) actions(open action, choose string, out action) []action {
	if f.atEnd() {
		more := action{key: withHelp(keys.Down, "more")} // of what is read back
		return []action{open, {key: withHelp(keys.Up, "field")}, more.when(f.back.leaf.below(f.back.h), ""), out}
	}
	right := action{key: withHelp(keys.Right, choose)}
	return []action{{key: keys.Next}, {key: withHelp(keys.Down, "field")}, right.when(choose != "", ""), {key: withHelp(keys.PageDown, "read back")}, out}
}

// hinted says what a field is for.
func (f formField) hinted(hint string) formField { f.Hint = hint; return f }

// offering gives the names that may complete the answer.
func (f formField) offering(names []string) formField {
	f.Text.suggests(names)
	return f
}

// completions are the names on offer for the chosen field.
func (f *form) completions() []string {
	if x := f.field(); x != nil && x.Choices == nil {
		return x.Text.completions()
	}
	return nil
}

// under begins a part with the field.
func (f formField) under(head string) formField { f.Head = head; return f }

// yields gives a proposal up for what is keyed; it tells whether its text is gone.
func (f *formField) yields(p press) bool {
	gone := f.Offered && p.isChar()
	if gone {
		f.Text.Set("")
	}
	f.Offered = f.Offered && !p.isChar() && !p.is(keys.Back)
	return gone
}

// press answers the field: it walks through its answers or writes its text.
func (f *formField) press(p press) (as []ask, ok bool) {
	f.yields(p)
	f.Problem = ""
	switch {
	case f.Choices != nil && (p.is(keys.Right) || p.isChar() && p.r == ' '):
		f.walk(1)
	case f.Choices != nil && p.is(keys.Left):
		f.walk(-1)
	case f.Choices != nil && p.isChar():
		return asks(say{text: "Choose with ← and →.", bad: true}), true
	case f.Choices != nil:
		return nil, false
	case p.is(keys.Right) && f.Text.complete(1), p.is(keys.Left) && f.Text.complete(-1):
	default:
		return f.Text.take(p)
	}
	return nil, true
}

// draw draws the fields in h rows under top rows that scrolled away; the line of
// the chosen one is always seen. end is said on the last line.
func (f *form) draw(v *frame, w, h int, l *leaf, help []ink, end string) block {
	top := l.top
	*l = f.rows(v.leaf(w), help)
	l.draw("", v.theme.Line(v.edge(), look.Quiet, end))
	l.lines[len(l.lines)-1].on = onField(len(f.Fields))
	first := max(l.first-1, 0) // the title of a part, or the field before
	if f.Chosen == 0 {
		first = 0
	}
	l.top = min(max(min(top, first), l.now-h+2), l.first)
	l.scroll(0, h)
	return l.view(h)
}

// labelW is how wide the labels are.
func labelW(w int) int { return min(27, max(w*3/7, 12)) }

// rows sets the fields as lines of a leaf; beneath the chosen one stands what
// helps.
func (f *form) rows(l leaf, help []ink) leaf {
	lw := labelW(l.w)
	under := lw // where what helps begins: under the answer, or nearly under the label where few words have room there
	if l.w < compW {
		under = 2
	}
	for i := range f.Fields {
		x := &f.Fields[i]
		if x.Hidden {
			continue
		}
		if x.Head != "" {
			if i > 0 {
				l.blank()
			}
			l.section(x.Head, "")
		}
		chosen := i == f.Chosen
		if chosen {
			l.first = len(l.lines)
		}
		lines := x.set(&l, lw, chosen)
		for k := range lines {
			lines[k].on = onField(i)
		}
		switch {
		case chosen:
			lines[0].mark, lines[0].role = "▸", look.Accent
			l.now = len(l.lines) - 1
		case x.Problem != "":
			lines[0].mark, lines[0].role = "✗", look.Out
		}
		if x.Problem != "" {
			l.wrapped(look.Out, under, capital(x.Problem)+stop(x.Problem))
		}
		for _, k := range help {
			if chosen {
				l.wrapped(k.role, under, k.text)
				l.now = len(l.lines) - 1
			}
		}
	}
	return l
}

// set sets a field: its label and its answer, where it is chosen as it is changed.
func (x *formField) set(l *leaf, lw int, chosen bool) []line {
	room := l.room() - lw
	label := ink{w: lw - 1, text: x.Label, role: look.Quiet}
	switch {
	case chosen:
		label.role = look.Strong
	case x.Problem != "":
		label.role = look.Ink
	}
	switch {
	case chosen && x.Choices != nil:
		answer := ink{x: lw + 1, w: room - 4, text: x.Value(), role: look.Strong}
		lines := l.across(label, ink{x: lw - 1, w: 2, text: "‹ ", role: look.Accent}, answer)
		last := &lines[len(look.Wrap(answer.text, answer.w))-1]
		end := last.inks[len(last.inks)-1]
		last.inks = append(last.inks, ink{x: end.x + look.Width(end.text), w: 2, text: " ›", role: look.Accent})
		return lines
	case chosen:
		return l.across(label, ink{x: lw - 1, w: 1, text: "▌", role: look.Accent}, ink{x: lw, w: room - 1, text: x.Text.view(l.f.theme, room-1), painted: true})
	}
	return l.across(label, ink{x: lw, w: room - 1, text: x.Value(), role: look.Ink})
}
