package instrument

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/readback/booking/page"
	"example.org/readback/reduce"
)

const (
	// textWidth is the width of the plain text, columns.
	textWidth = 78
	// stripWidth is the width of the small plot of the text, columns; odd, so that
	// zero has a column of its own.
	stripWidth = 17
)

// Text prints the instruments as plain text of at most 80 columns.
func Text(is []Instrument) string { return Page(is).String(textWidth) }

// Page sets the history of every instrument.
func Page(is []Instrument) page.Page {
	var p page.Page
	if len(is) == 0 {
		p.Say("", "No instrument has been used in this book yet.")
	}
	for k, i := range is {
		if k > 0 {
			p.Add(page.Gap{})
		}
		i.set(&p)
	}
	return p
}

func (i Instrument) set(p *page.Page) {
	name := i.Name
	if name == "" {
		name = "Instrument without a name"
	}
	if i.Serial != "" {
		name += " serial " + i.Serial
	}
	value := page.Column{Gap: 1, Cols: 8, Right: true}
	collimation, tilt, index := value, value, value
	collimation.Head, tilt.Head, index.Head = "Collim.", "Tilt", "Index"
	var rows [][]string
	for _, m := range i.Samples {
		at := m.At.UTC().Format("2 Jan 15:04")
		if m.Keyed {
			at = "keyed " + m.At.UTC().Format("2 Jan")
		}
		rows = append(rows, []string{fmt.Sprint(m.Setup), at, m.Station,
			i.cell(m.Collimation), i.cell(m.Tilt), i.cell(m.Index), strip(m, i.Due.Seconds())})
	}
	p.Say("", name)
	for _, c := range i.Checks {
		p.Say("  ", fmt.Sprintf("Checked before work, %s: %s (%s).", c.At.UTC().Format("2 Jan 15:04"), c.Words(), c.By))
	}
	if len(i.Samples) == 0 {
		p.Say("  ", append([]string{"No setup was booked with it yet."}, i.Sentences()...)...)
		return
	}
	p.Add(page.Gap{}, page.Table{Indent: 2, Groups: page.Rows(rows...), Columns: []page.Column{{Head: "Setup", Cols: 5, Right: true}, {Head: "Time, UTC", Cols: 12}, {Head: "Station", Cols: 10},
		collimation, tilt, index, {Head: plotHead(i), Cols: stripWidth}}})
	p.Add(page.Para{Lead: "  ", Text: "c collimation, t tilt, i index error, * more than one; the ends are the limit.", Whole: true})
	if reduce.SmallWord(i.Unit) != "" {
		p.Say("  ", "The figures of the table are "+i.Unit.SmallName()+".")
	}
	p.Say("  ", i.Sentences()...)
	if len(i.Series) > 0 && !i.has("tilt") && i.level() {
		p.Say("  ", "The altitudes of the targets lie too close together to tell the tilt of the trunnion axis.")
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

// level tells whether altitudes were read in a setup, too close together to tell
// the tilt.
func (i Instrument) level() bool {
	return slices.ContainsFunc(i.Samples, func(m Sample) bool { return m.Level })
}

// plotHead marks the ends and the middle of the strip.
func plotHead(i Instrument) string {
	due := reduce.WithoutWord(plain(i.Due, i.Unit), i.Unit)
	lo, hi := "−"+due, "+"+due
	gap := stripWidth - page.Width(lo) - page.Width(hi)
	left := stripWidth/2 - page.Width(lo)
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
	return string(cells)
}

// cell prints a value without its unit.
func (i Instrument) cell(v Value) string {
	if v.N == 0 {
		return "–"
	}
	return reduce.WithoutWord(signed(v.Seconds, i.Unit), i.Unit)
}
