package tui

import (
	"strings"

	"example.org/readback/tui/look"
)

// a form is fields one under the other, one of them chosen. Behind the last
// stands the line that opens what it says: Chosen is len(Fields) there.
type form struct {
	Fields []formField
	Chosen int
	top    int
}

// a formField is a text to be written, or an answer to be chosen from a few.
type formField struct {
	Label   string
	Text    textLine
	Choices []string // nil: a text
	At      int      // the answer chosen
	Problem string   // why its answer does not do
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

func (f *form) move(n int) { f.Chosen = min(max(f.Chosen+n, 0), len(f.Fields)) }

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
		if t, ok := heads[i]; ok {
			if i > 0 {
				l.blank()
			}
			l.draw(v.section(t, "", w))
		}
		t := v.theme
		r := t.Row()
		switch {
		case i == f.Chosen:
			r.To(v.gutter()).Put(look.Accent, "▸").To(v.edge()).Left(look.Strong, x.Label, lw-1)
		case x.Problem != "":
			r.To(v.gutter()).Put(look.Out, "✗").To(v.edge()).Left(look.Ink, x.Label, lw-1)
		default:
			r.To(v.edge()).Left(look.Quiet, x.Label, lw-1)
		}
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

// near tells whether two names are so alike that one may be meant for the other:
// the same but for capitals, or one letter wrong, missing, too many or exchanged,
// two in a long name.
func near(a, b string) bool {
	a, b = strings.ToLower(a), strings.ToLower(b)
	if a == b {
		return true
	}
	most := 1
	if min(len(a), len(b)) >= 7 {
		most = 2
	}
	return min(len(a), len(b)) >= 3 && edits([]rune(a), []rune(b)) <= most
}

// edits counts the letters to change, add, drop or exchange to make b of a.
func edits(a, b []rune) int {
	var before, row []int
	for i := range len(a) + 1 {
		next := make([]int, len(b)+1)
		for j := range next {
			switch {
			case i == 0 || j == 0:
				next[j] = i + j
				continue
			case a[i-1] == b[j-1]:
				next[j] = row[j-1]
				continue
			}
			next[j] = 1 + min(row[j-1], row[j], next[j-1])
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		before, row = row, next
	}
	return row[len(b)]
}
