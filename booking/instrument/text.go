package instrument

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"example.org/readback/reduce"
)

// stripWidth is the width of the small plot of the text, columns; odd, so that
// zero has a column of its own.
const stripWidth = 17

// Text prints the instruments as plain text of at most 80 columns, for the
// screen and the command alike.
func Text(is []Instrument) string {
	var b strings.Builder
	if len(is) == 0 {
		b.WriteString("No instrument has been used in this book yet.\n")
	}
	for k, i := range is {
		if k > 0 {
			b.WriteByte('\n')
		}
		i.write(&b)
	}
	return b.String()
}

func (i Instrument) write(b *strings.Builder) {
	name := i.Name
	if name == "" {
		name = "Instrument without a name"
	}
	b.WriteString(name)
	if i.Serial != "" {
		b.WriteString(" serial " + i.Serial)
	}
	fmt.Fprintf(b, "\n\n  %5s  %-12s  %-10s%9s%9s%9s  %s\n", "Setup", "Time, UTC", "Station", "Collim.", "Tilt", "Index", plotHead(i))
	for _, m := range i.Samples {
		fmt.Fprintf(b, "  %5d  %s  %s%s%s%s  %s\n", m.Setup, m.At.UTC().Format("02 Jan 15:04"), column(m.Station, 10),
			i.cell(m.Collimation), i.cell(m.Tilt), i.cell(m.Index), strip(m, i.Due.Seconds()))
	}
	b.WriteString("  c collimation, t tilt, i index error, * more than one; the ends are the limit.\n")
	if i.Unit == reduce.GonUnit {
		b.WriteString("  The figures of the table are milligon.\n")
	}
	for _, s := range i.Sentences() {
		wrap(b, s)
	}
	if len(i.Series) > 0 && !i.has("tilt") {
		wrap(b, "The altitudes of the targets lie too close together to tell the tilt of the trunnion axis.")
	}
}

func (i Instrument) has(name string) bool {
	for _, s := range i.Series {
		if s.Name == name {
			return true
		}
	}
	return false
}

// plotHead marks the ends and the middle of the strip.
func plotHead(i Instrument) string {
	due := strings.TrimSuffix(plain(i.Due, i.Unit), " mgon")
	lo, hi := "−"+due, "+"+due
	gap := stripWidth - utf8.RuneCountInString(lo) - utf8.RuneCountInString(hi)
	left := stripWidth/2 - utf8.RuneCountInString(lo)
	if gap < 1 || left < 0 {
		return ""
	}
	return lo + strings.Repeat(" ", left) + "0" + strings.Repeat(" ", max(gap-left-1, 0)) + hi
}

// strip draws the values of one setup between −due and +due.
func strip(m Sample, due float64) string {
	cells := []rune(strings.Repeat(" ", stripWidth))
	cells[stripWidth/2] = '|'
	for _, p := range []struct {
		mark rune
		v    Value
	}{{'c', m.Collimation}, {'t', m.Tilt}, {'i', m.Index}} {
		if p.v.N == 0 || due <= 0 {
			continue
		}
		half := float64(stripWidth / 2)
		at := int(math.Round(min(max(p.v.Seconds/due, -1), 1)*half + half))
		if cells[at] != ' ' && cells[at] != '|' {
			p.mark = '*'
		}
		cells[at] = p.mark
	}
	return strings.TrimRight(string(cells), " ")
}

// cell prints a value in a column of nine.
func (i Instrument) cell(v Value) string {
	s := "–"
	if v.N > 0 {
		s = strings.TrimSuffix(signed(v.Seconds, i.Unit), " mgon")
	}
	return strings.Repeat(" ", max(9-utf8.RuneCountInString(s), 1)) + s
}

// column sets a name in a column, cut where it is too long.
func column(s string, width int) string {
	if n := utf8.RuneCountInString(s); n <= width {
		return s + strings.Repeat(" ", width-n)
	}
	return string([]rune(s)[:width-1]) + "…"
}

// wrap prints a sentence in lines of at most 78 columns.
func wrap(b *strings.Builder, s string) {
	at := 0
	for _, w := range strings.Fields(s) {
		n := utf8.RuneCountInString(w)
		switch {
		case at == 0:
			b.WriteString("  ")
			at = 2
		case at+1+n > 78:
			b.WriteString("\n  ")
			at = 2
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(w)
		at += n
	}
	b.WriteByte('\n')
}
