package look

import "strings"

// A Row builds one painted line whose width is known while it grows, so that
// nothing has to be measured again. Neighbours of one role share a sequence. The
// zero value is not usable; see Theme.Row.
type Row struct {
	t    *Theme
	b    strings.Builder
	w    int
	role Role // of the sequence that is open
	open bool
}

// Row begins a line.
func (t *Theme) Row() *Row { return &Row{t: t} }

// Line is a whole line of one text at column x.
func (t *Theme) Line(x int, r Role, text string) string { return t.Row().To(x).Put(r, text).String() }

// paint writes a text that is clean already.
func (r *Row) paint(role Role, text string) {
	if text == "" {
		return
	}
	if r.t.colour && !(r.open && r.role == role) {
		r.end()
		r.b.WriteString(r.t.on[role])
		r.open, r.role = true, role
	}
	r.b.WriteString(text)
}

// end closes the sequence that is open.
func (r *Row) end() {
	if r.open {
		r.b.WriteString(reset)
		r.open = false
	}
}

// To fills with blanks up to column x.
func (r *Row) To(x int) *Row {
	if x > r.w {
		r.end()
		r.b.WriteString(blanks(x - r.w))
		r.w = x
	}
	return r
}

// Put writes a text.
func (r *Row) Put(role Role, text string) *Row {
	text = Clean(text)
	r.paint(role, text)
	r.w += Width(text)
	return r
}

// Left writes a text in exactly w cells.
func (r *Row) Left(role Role, text string, w int) *Row { return r.cell(role, Pad(text, w), w) }

// Right writes a text flush right in exactly w cells.
func (r *Row) Right(role Role, text string, w int) *Row { return r.cell(role, PadLeft(text, w), w) }

func (r *Row) cell(role Role, text string, w int) *Row {
	if w > 0 {
		r.paint(role, text)
		r.w += w
	}
	return r
}

// Fill writes n times the same sign of one cell.
func (r *Row) Fill(role Role, sign string, n int) *Row {
	return r.cell(role, strings.Repeat(sign, max(n, 0)), n)
}

// Add writes what is painted already and takes w cells.
func (r *Row) Add(painted string, w int) *Row {
	r.end()
	r.b.WriteString(painted)
	r.w += w
	return r
}

// Width is how many cells stand there so far.
func (r *Row) Width() int { return r.w }

// String returns the line.
func (r *Row) String() string {
	r.end()
	return r.b.String()
}

// Ground returns the line filled to w cells and laid on the ground of a role.
func (r *Row) Ground(role Role, w int) string { return r.t.onto(role, r.To(w).String()) }
