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
func (f *form) line(i int) string { return strings.Join(strings.Fields(f.Fields[i].Value()), " ") }

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
func (f *form) drawBack(v *view, w, h int, l leaf) block {
	top := f.back.leaf.top
	f.back.leaf, f.back.h = l, h
	f.back.leaf.scroll(top, h)
	return f.back.leaf.view(v, w, h)
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
		return []action{open, {key: withHelp(keys.Up, "field")}, {key: withHelp(keys.Down, "more")}, out}
	}
	right := action{key: withHelp(keys.Right, choose)}
	return []action{{key: keys.Next}, {key: withHelp(keys.Down, "field")}, right.when(choose != "", ""), {key: withHelp(keys.PageDown, "read back")}, out}
}

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
	default:
		return f.Text.take(p)
	}
	return nil, true
}

// draw draws the fields in h rows under top rows that scrolled away; the line of
// the chosen one is always seen. end is said on the last line.
func (f *form) draw(v *view, w, h int, l *leaf, heads map[int]string, help []ink, end string) block {
	top := l.top
	*l = f.rows(v, w, heads, help)
	l.draw("", v.theme.Line(v.edge(), look.Quiet, end))
	l.lines[len(l.lines)-1].on = onField(len(f.Fields))
	first := max(l.first-1, 0) // the title of a part, or the field before
	if f.Chosen == 0 {
		first = 0
	}
	l.top = min(max(min(top, first), l.now-h+2), l.first)
	l.scroll(0, h)
	return l.view(v, w, h)
}

// labelW is how wide the labels are.
func labelW(w int) int { return min(27, max(w*3/7, 12)) }

// rows sets the fields as lines of a leaf; beneath the chosen one stands what
// helps. heads are the titles before fields.
func (f *form) rows(v *view, w int, heads map[int]string, help []ink) leaf {
	l := leaf{now: -1}
	lw := labelW(w)
	room := w - v.edge() - v.margin() - lw
	under := lw // where what helps begins: under the answer, or nearly under the label where few words have room there
	if w < compW {
		under = 2
	}
	for i := range f.Fields {
		x := &f.Fields[i]
		if x.Hidden {
			continue
		}
		if t, ok := heads[i]; ok {
			if i > 0 {
				l.blank()
			}
			l.section(v, t, "", w)
		}
		t := v.theme
		r := t.Row()
		label, role := look.Wrap(x.Label, lw-1), look.Quiet
		switch {
		case i == f.Chosen:
			r.To(v.gutter()).Put(look.Accent, "▸")
			role = look.Strong
		case x.Problem != "":
			r.To(v.gutter()).Put(look.Out, "✗")
			role = look.Ink
		}
		r.To(v.edge()).Left(role, label[0], lw-1)
		var answer []string
		said := look.Strong
		switch {
		case i == f.Chosen && x.Choices != nil:
			answer = look.Wrap(x.Value(), room-4)
			r.Put(look.Accent, "‹ ").Put(look.Strong, answer[0])
			if len(answer) == 1 {
				r.Put(look.Accent, " ›")
			}
		case i == f.Chosen:
			r.Put(look.Accent, "▌").Add(x.Text.view(t, room-1), room-1)
		default:
			answer, said = look.Wrap(x.Value(), room-1), look.Ink
			r.To(r.Width()+1).Put(said, answer[0])
		}
		if i == f.Chosen {
			l.first = len(l.lines)
		}
		l.draw(r.String())
		l.lines[len(l.lines)-1].on = onField(i)
		for k := 1; k < max(len(label), len(answer)); k++ { // what has no room on the first row
			r := t.Row().To(v.edge())
			if k < len(label) {
				r.Left(role, label[k], lw-1)
			}
			if k < len(answer) {
				r.To(v.edge()+lw+1).Put(said, answer[k])
			}
			if k == len(answer)-1 && i == f.Chosen {
				r.Put(look.Accent, " ›")
			}
			l.draw(r.String())
			l.lines[len(l.lines)-1].on = onField(i)
		}
		if i != f.Chosen && x.Problem == "" {
			continue
		}
		if x.Problem != "" {
			l.wrapped(look.Out, under, w-v.edge()-v.margin(), capital(x.Problem)+stop(x.Problem))
		}
		if i == f.Chosen {
			l.now = len(l.lines) - 1
			for _, k := range help {
				l.wrapped(k.role, under, w-v.edge()-v.margin(), k.text)
				l.now = len(l.lines) - 1
			}
		}
	}
	return l
}
