package widget

import (
	"strings"

	"example.org/readback/reduce"
)

// A Notation is how the figure being keyed is written: an angle in a unit with a
// least count, or a plain decimal with its sign of unit (Suffix "m").
type Notation struct {
	Unit       reduce.Unit // a unit of the circle for a circle reading, 0 for a plain decimal
	LeastCount reduce.Angle
	Suffix     string // unit of a plain decimal, written after it
}

// maxEntry is more than the longest reading of any notation.
const maxEntry = 18

// An Entry is the reading being keyed: digits and separators in the order they
// came. It knows the shape of its notation, so that ill-formed text cannot be
// keyed (two points in a row, a second decimal point); whether the figure is a
// possible reading is said by reduce.ParseKeyed.
type Entry struct {
	Notation Notation
	text     []byte
}

// Insert adds a character and tells whether it may stand there. A comma is taken
// as the decimal point that it is on many keypads.
func (e *Entry) Insert(r rune) bool {
	if r == ',' {
		r = '.'
	}
	if len(e.text) >= maxEntry || !e.fits(r) {
		return false
	}
	e.text = append(e.text, byte(r))
	return true
}

// Takes tells whether r can stand anywhere in an entry: the set that a whole key
// message is judged by.
func (e *Entry) Takes(r rune) bool {
	return r >= '0' && r <= '9' || r == '.' || r == ',' || r == ' ' && e.Notation.Unit == reduce.DMS
}

func (e *Entry) fits(r rune) bool {
	last := byte(0)
	if n := len(e.text); n > 0 {
		last = e.text[n-1]
	}
	switch {
	case r >= '0' && r <= '9':
		return true
	case e.Notation.Unit != reduce.DMS:
		return r == '.' && !strings.Contains(string(e.text), ".")
	case r == ' ' || r == '.':
		return last >= '0' && last <= '9' && strings.Count(strings.ReplaceAll(string(e.text), " ", "."), ".") < 3
	}
	return false
}

// Backspace takes the last character away and tells whether there was one.
func (e *Entry) Backspace() bool {
	if len(e.text) == 0 {
		return false
	}
	e.text = e.text[:len(e.text)-1]
	return true
}

// Clear empties the entry.
func (e *Entry) Clear() { e.text = e.text[:0] }

// Set replaces the entry as if s had been keyed, as far as it may stand.
func (e *Entry) Set(s string) {
	e.Clear()
	for _, r := range s {
		e.Insert(r)
	}
}

// Text returns what was keyed.
func (e *Entry) Text() string { return string(e.text) }

// Empty tells whether nothing was keyed.
func (e *Entry) Empty() bool { return len(e.text) == 0 }

// Formatted returns the entry as a reading to be read back while it grows:
// digits fill degrees, minutes and seconds from the right, a place still missing
// is "_". 12345 in DMS is "  1°23′45″", 123 is "  _°_1′23″", "123 4" with a
// separator is "123°4_′__″". Decimal units and plain decimals stand as they were keyed with
// the decimals still to come.
func (e *Entry) Formatted() string {
	if e.Notation.Unit == reduce.DMS {
		return e.formatDMS()
	}
	return e.formatDecimal()
}

func (e *Entry) formatDMS() string {
	t := string(e.text)
	places := reduce.Places(reduce.DMS, e.Notation.LeastCount)
	run, dec, point := strings.Cut(t, ".")
	if strings.Contains(t, " ") || point && (places == 0 || len(run) < 5) {
		return e.formatParts(places)
	}
	n := len(run)
	var deg, min, sec string
	switch {
	case n <= 2:
		sec = run
	case n <= 4:
		min, sec = run[:n-2], run[n-2:]
	default:
		deg, min, sec = run[:n-4], run[n-4:n-2], run[n-2:]
	}
	return fill(deg, 1, 3) + "°" + fill(min, 2, 2) + "′" + fill(sec, 2, 2) + decimals(dec, point, places) + "″"
}

// formatParts formats an entry whose parts are separated: they stand from the
// left.
func (e *Entry) formatParts(places int) string {
	parts := strings.FieldsFunc(string(e.text), func(r rune) bool { return r == ' ' || r == '.' })
	ended := len(e.text) > 0 && (e.text[len(e.text)-1] == ' ' || e.text[len(e.text)-1] == '.')
	for len(parts) < 3 {
		parts = append(parts, "")
	}
	part := func(i int) string {
		p := parts[i]
		if last := i+1 >= len(parts) || parts[i+1] == ""; last && !ended && len(p) < 2 {
			return p + strings.Repeat("_", 2-len(p))
		}
		return fillZero(p)
	}
	dec, point := "", false
	if len(parts) > 3 {
		dec, point = parts[3], true
	}
	return fill(parts[0], 1, 3) + "°" + part(1) + "′" + part(2) + decimals(dec, point, places) + "″"
}

// fill sets digits right in width cells; of the cells left, those within need
// are "_" and the others blank.
func fill(digits string, need, width int) string {
	if len(digits) >= width {
		return digits
	}
	open := max(need-len(digits), 0)
	return strings.Repeat(" ", width-len(digits)-open) + strings.Repeat("_", open) + digits
}

// fillZero is a finished part of minutes or seconds: "5" is "05".
func fillZero(p string) string {
	switch len(p) {
	case 0:
		return "__"
	case 1:
		return "0" + p
	}
	return p
}

// decimals returns the decimal part of the seconds with what is still missing.
func decimals(dec string, point bool, places int) string {
	if places == 0 && !point {
		return ""
	}
	return "." + dec + strings.Repeat("_", max(places-len(dec), 0))
}

func (e *Entry) formatDecimal() string {
	t := string(e.text)
	suffix := e.Notation.Suffix
	places, width := 3, 3
	if u := e.Notation.Unit; u.Decimal() {
		suffix, width = u.Mark(), u.Digits()
		places = reduce.Places(u, e.Notation.LeastCount)
	} else if suffix != "" {
		suffix = " " + suffix
	}
	whole, dec, point := strings.Cut(t, ".")
	if whole == "" {
		whole += "_"
	}
	s := fill(whole, 1, width)
	if point || places > 0 {
		s += "." + dec + strings.Repeat("_", max(places-len(dec), 0))
	}
	return s + suffix
}
