package tui

import "example.org/readback/tui/look"

// a form is fields one under the other, one of them chosen. Behind the last
// stands the line that opens what it says: Chosen is len(Fields) there.
type form struct {
	Fields []formField
	Chosen int
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
	f.Chosen = min(max(f.Chosen+n, 0), len(f.Fields))
	for !f.atEnd() && f.Fields[f.Chosen].Hidden {
		if n < 0 {
			f.Chosen--
		} else {
			f.Chosen++
		}
	}
}

// labelW is how wide the labels are.
func labelW(w int) int { return min(27, max(w/3, 12)) }

// rows sets the fields as lines of a leaf; beneath the chosen one stands what
// helps. heads are the titles before fields.
func (f *form) rows(v *view, w int, heads map[int]string, help []ink) leaf {
	l := leaf{now: -1}
	lw := labelW(w)
	room := w - v.edge() - v.margin() - lw
	for i := range f.Fields {
		x := &f.Fields[i]
		if x.Hidden {
			continue
		}
		if t, ok := heads[i]; ok {
			if i > 0 {
				l.blank()
			}
			l.draw(v.section(t, "", w)...)
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
		switch {
		case i == f.Chosen && x.Choices != nil:
			r.Put(look.Accent, "‹ ").Put(look.Strong, look.Cut(x.Value(), room-4)).Put(look.Accent, " ›")
		case i == f.Chosen:
			r.Put(look.Accent, "▌").Add(x.Text.view(t, room-1, true), room-1)
		default:
			r.To(r.Width()+1).Put(look.Ink, look.Cut(x.Value(), room-1))
		}
		l.draw(r.String())
		l.lines[len(l.lines)-1].on = onField(i)
		for _, s := range label[1:] {
			l.text(role, 0, s).on = onField(i)
		}
		if i != f.Chosen && x.Problem == "" {
			continue
		}
		if x.Problem != "" {
			l.wrapped(look.Out, lw, w-v.edge()-v.margin(), capital(x.Problem)+stop(x.Problem))
		}
		if i == f.Chosen {
			l.now = len(l.lines) - 1
			for _, k := range help {
				l.wrapped(k.role, lw, w-v.edge()-v.margin(), k.text)
				l.now = len(l.lines) - 1
			}
		}
	}
	return l
}
