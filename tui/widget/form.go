package widget

import (
	"strconv"

	"example.org/readback/tui/look"
)

// A FormField is one question of a form: a text to write, or choices to walk
// through.
type FormField struct {
	Label   string
	Hint    string   // one short sentence, shown while the field is chosen
	Text    Field    // where Choices is empty
	Choices []string // else the answers, At being the chosen one
	At      int
	Offer   []string // names known from earlier, walked through with left and right while the text is empty or one of them
	Problem string   // what is wrong with the answer, empty when nothing is
}

// Value returns the answer.
func (f *FormField) Value() string {
	if len(f.Choices) == 0 {
		return f.Text.Text()
	}
	if f.At < 0 || f.At >= len(f.Choices) {
		return ""
	}
	return f.Choices[f.At]
}

// Set gives the answer.
func (f *FormField) Set(s string) {
	if len(f.Choices) == 0 {
		f.Text.Set(s)
		return
	}
	for i, c := range f.Choices {
		if c == s {
			f.At = i
		}
	}
}

// A Form is questions one under the other with one of them chosen.
type Form struct {
	Fields     []FormField
	Chosen     int
	LabelWidth int // cells; 0 takes the longest label
	top        int
}

// Field returns the chosen field, nil in an empty form.
func (f *Form) Field() *FormField {
	if f.Chosen < 0 || f.Chosen >= len(f.Fields) {
		return nil
	}
	return &f.Fields[f.Chosen]
}

// Move moves to another field by n and stops at the ends; it tells whether it
// moved.
func (f *Form) Move(n int) bool {
	to := min(max(f.Chosen+n, 0), max(len(f.Fields)-1, 0))
	moved := to != f.Chosen
	f.Chosen = to
	return moved
}

// Last tells whether the last field is chosen.
func (f *Form) Last() bool { return f.Chosen >= len(f.Fields)-1 }

// Insert writes into the chosen field, or finds the choice that begins with the
// character.
func (f *Form) Insert(rs ...rune) bool {
	c := f.Field()
	if c == nil {
		return false
	}
	if len(c.Choices) == 0 {
		return c.Text.Insert(rs...)
	}
	for _, r := range rs {
		if r == ' ' {
			f.Walk(1)
			continue
		}
		for i := range c.Choices {
			at := (c.At + 1 + i) % len(c.Choices)
			if first := []rune(c.Choices[at]); len(first) > 0 && lower(first[0]) == lower(r) {
				c.At = at
				break
			}
		}
	}
	return true
}

func lower(r rune) rune {
	if r >= 'A' && r <= 'Z' {
		return r + 'a' - 'A'
	}
	return r
}

// Backspace deletes in the chosen field.
func (f *Form) Backspace() bool {
	c := f.Field()
	return c != nil && len(c.Choices) == 0 && c.Text.Backspace()
}

// Walk moves through the choices, through the names on offer, or moves the
// cursor of a text.
func (f *Form) Walk(n int) {
	c := f.Field()
	if c == nil {
		return
	}
	if k := len(c.Choices); k > 0 {
		c.At = ((c.At+n)%k + k) % k
		return
	}
	at := c.offered()
	if at == -2 {
		c.Text.Move(n)
		return
	}
	if k := len(c.Offer); k > 0 {
		c.Text.Set(c.Offer[((at+n)%k+k)%k])
	}
}

// offered returns the place of the text among the names on offer, −1 for an
// empty text, −2 for one of the booker's own.
func (f *FormField) offered() int {
	t := f.Text.Text()
	if len(f.Offer) == 0 {
		return -2
	}
	if t == "" {
		return -1
	}
	for i, o := range f.Offer {
		if o == t {
			return i
		}
	}
	return -2
}

func (f *Form) labelWidth() int {
	w := f.LabelWidth
	if w == 0 {
		for i := range f.Fields {
			w = max(w, Width(f.Fields[i].Label))
		}
	}
	return w
}

// Draw draws the form: one row a field, a problem in the row under its field,
// the hint of the chosen field under it. It scrolls so that the chosen field is
// seen.
func (f *Form) Draw(a Area) {
	f.top = f.first(a.H)
	y := 0
	for i := f.top; i < len(f.Fields) && y < a.H; i++ {
		y += f.drawField(a.Sub(0, y, a.W, a.H-y), i)
	}
}

// rows is the height of field i.
func (f *Form) rows(i int) int {
	n := 1
	if f.Fields[i].Problem != "" {
		n++
	} else if i == f.Chosen && f.Fields[i].Hint != "" {
		n++
	}
	return n
}

// first returns the first field to show in h rows.
func (f *Form) first(h int) int {
	chosen := min(f.Chosen, len(f.Fields)-1)
	top := min(f.top, chosen)
	for top < chosen {
		n := 0
		for i := top; i <= chosen; i++ {
			n += f.rows(i)
		}
		if n <= h {
			break
		}
		top++
	}
	top = max(top, 0)
	for rest := f.rowsFrom(top); top > 0 && rest+f.rows(top-1) <= h; {
		top--
		rest += f.rows(top)
	}
	return top
}

// rowsFrom is the height of the fields from i on.
func (f *Form) rowsFrom(i int) int {
	n := 0
	for ; i < len(f.Fields); i++ {
		n += f.rows(i)
	}
	return n
}

func (f *Form) drawField(a Area, i int) int {
	c, lw := &f.Fields[i], f.labelWidth()
	on := i == f.Chosen
	role, mark := look.Base, " "
	if on {
		role, mark = look.Chosen, "›"
	}
	a.Text(0, 0, look.Strong, mark)
	a.Fit(2, 0, lw, look.Base, c.Label, Left)
	value := a.Sub(lw+4, 0, a.W-lw-4, 1)
	switch {
	case len(c.Choices) > 0 && on:
		x := value.Text(0, 0, role, "‹ "+c.Value()+" ›")
		value.Text(x+1, 0, look.Aside, choiceOf(c.At, len(c.Choices)))
	case len(c.Choices) > 0:
		value.Text(2, 0, role, c.Value())
	default:
		c.Text.Draw(value, role, on)
	}
	switch {
	case c.Problem != "":
		a.Fit(lw+4, 1, max(a.W-lw-4, 0), look.Stop, "! "+c.Problem, Left)
	case on && c.Hint != "":
		a.Text(lw+4, 1, look.Aside, Cut(a.f.theme.Rewrite(c.Hint), a.W-lw-4))
	}
	return f.rows(i)
}

func choiceOf(at, n int) string {
	return "(" + strconv.Itoa(at+1) + " of " + strconv.Itoa(n) + ")"
}

// At returns the field at row y of a form drawn h rows high, for touches.
func (f *Form) At(h, y int) (int, bool) {
	at := 0
	for i := f.first(h); i < len(f.Fields); i++ {
		if n := f.rows(i); y < at+n {
			return i, y >= at && y < h
		} else {
			at += n
		}
	}
	return 0, false
}
