package widget

import (
	"strings"

	"example.org/readback/tui/look"
)

// A Field is one line of text being written: a name, a reason, a remark. It
// moves and deletes by what a reader takes for one character, so that letters
// with combining marks and wide ones stay whole.
type Field struct {
	Limit int // greatest number of bytes; 0 means 200
	chars []string
	at    int // cursor: index of the character it stands before
}

// Insert writes runes at the cursor and tells whether they were taken. Control
// characters are not.
func (f *Field) Insert(rs ...rune) bool {
	for _, r := range rs {
		if _, bad := visible(r, len(string(r))); bad {
			return false
		}
	}
	limit := f.Limit
	if limit == 0 {
		limit = 200
	}
	text := string(rs)
	before, after := strings.Join(f.chars[:f.at], ""), strings.Join(f.chars[f.at:], "")
	if len(before)+len(text)+len(after) > limit {
		return false
	}
	head := split(before + text)
	f.chars = append(head, split(after)...)
	f.at = len(head)
	return true
}

// split breaks a text into characters as a reader sees them.
func split(s string) []string {
	var out []string
	for len(s) > 0 {
		_, _, n := next(s)
		out, s = append(out, s[:n]), s[n:]
	}
	return out
}

// Backspace deletes the character before the cursor.
func (f *Field) Backspace() bool {
	if f.at == 0 {
		return false
	}
	f.chars = append(f.chars[:f.at-1], f.chars[f.at:]...)
	f.at--
	return true
}

// Delete deletes the character under the cursor.
func (f *Field) Delete() bool {
	if f.at == len(f.chars) {
		return false
	}
	f.chars = append(f.chars[:f.at], f.chars[f.at+1:]...)
	return true
}

// Move moves the cursor by n characters and stops at the ends.
func (f *Field) Move(n int) { f.at = min(max(f.at+n, 0), len(f.chars)) }

// Set replaces the text and puts the cursor at its end.
func (f *Field) Set(s string) {
	f.chars = split(s)
	f.at = len(f.chars)
}

// Clear empties the field.
func (f *Field) Clear() { f.chars, f.at = nil, 0 }

// Text returns what was written.
func (f *Field) Text() string { return strings.Join(f.chars, "") }

// Draw draws the field in one row, the cursor as a reversed cell when on; a text
// too long for the area shows the part around the cursor. Without colours the
// cursor is "_" or stands as "|" before its character.
func (f *Field) Draw(a Area, role look.Role, on bool) {
	before, after := strings.Join(f.chars[:f.at], ""), strings.Join(f.chars[f.at:], "")
	for Width(before) > a.W-2 && before != "" {
		_, _, n := next(before)
		before = before[n:]
	}
	x := a.Text(0, 0, role, before)
	if on {
		switch {
		case after == "":
			x = a.Text(x, 0, look.Key, "_")
		case a.f.theme.Coloured():
			_, _, n := next(after)
			x = a.Text(x, 0, look.Key, after[:n])
			after = after[n:]
		default:
			x = a.Text(x, 0, look.Key, "|")
		}
	}
	x = a.Text(x, 0, role, after)
	for ; x < a.W; x++ {
		a.Rune(x, 0, role, ' ')
	}
}
