package network

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/page"
	"example.org/readback/reduce"
	"example.org/readback/reduce/traverse"
)

// TextWidth is the width of the plain text, columns.
const TextWidth = 78

// Text prints the report as plain text of at most 78 columns.
func Text(r Report) string { return Page(r).String(TextWidth) }

// Page sets the report: every figure, then what ties the lines and stations of
// the book.
func Page(r Report) page.Page {
	var p page.Page
	if len(r.Figures) == 0 {
		p.Say("", "No ring and no link yet.")
	}
	in := lengthsIn(r.Feet)
	if r.Feet && len(r.Figures) > 0 {
		p.Say("", feetSaid)
		p.Add(page.Gap{})
	}
	if says := r.bearings.says(); says != "" && len(r.Figures)+len(r.Bearings) > 0 {
		p.Say("", says)
		p.Add(page.Gap{})
	}
	for i, f := range r.Figures {
		f.bearings = r.bearings
		if i > 0 {
			p.Add(page.Gap{})
		}
		f.set(&p, r.Current, in)
	}
	setChecks(&p, "Distances there and back", named(r.LineChecks(), "distance"))
	setChecks(&p, "Heights there and back", named(r.LineChecks(), "height"))
	if len(r.Centred) > 0 {
		p.Add(page.Gap{})
		p.Say("", "Reduced to their marks")
		for _, c := range r.Centred {
			p.Say("  ", c.String())
		}
	}
	r.Grid.set(&p)
	r.Together.set(&p)
	if len(r.Bearings) > 0 {
		p.Add(page.Gap{})
		p.Say("", "Orientation")
		for _, o := range r.Bearings {
			p.Say("  ", o.String())
		}
	}
	setChecks(&p, "Known and repeated", r.Checks)
	if len(r.Open) > 0 {
		p.Add(page.Gap{})
		p.Say("", "Still open")
		p.Say("  ", r.Open...)
	}
	return p
}

// Title names the figure: "Ring Weir–Alder–Quarry–Weir".
func (f Figure) Title() string {
	k := f.Kind.String()
	return strings.ToUpper(k[:1]) + k[1:] + " " + chain(f.Stations, f.Kind)
}

// State says in a word or two how the figure stands.
func (f Figure) State() string {
	switch {
	case f.Kind == Open:
		return "open"
	case f.Met():
		return "closes"
	}
	return "does not close"
}

func (f Figure) set(p *page.Page, current day.Summary, in figureLengths) {
	p.Say("", f.Title()+": "+f.State()+".")
	why := f.Cause()
	for _, c := range f.Checks(current) {
		if c.Again != "" {
			why += " " + upper(c.Again) + "."
		}
		c.Again = ""
		setCheck(p, c)
	}
	if why = strings.TrimSpace(why); why != "" {
		p.Say("  > ", why)
	}
	f.setBasis(p)
	f.setAngles(p, in)
	f.setLegs(p, in)
	f.setPoints(p, in)
	f.setHeights(p, in)
}

// setHeights says the heights of the stations.
func (f Figure) setHeights(p *page.Page, in figureLengths) {
	if f.Heights == nil {
		return
	}
	from := "known heights"
	if f.Heights.Local {
		from = f.Stations[0] + " at 0"
	}
	var parts []string
	for i, s := range f.Stations {
		parts = append(parts, s+" "+minus(in.of(f.Heights.Points[i])))
	}
	p.Say("  ", "Heights, from "+from+", "+in.plural+": "+strings.Join(parts, ", ")+".")
}

// setBasis says what the coordinates stand on.
func (f Figure) setBasis(p *page.Page) {
	switch {
	case f.Result.Carried.Assumed && f.Local:
		p.Say("  ", "Nothing known: the first station is given 0, 0 and the first leg the bearing 0.")
	case f.Result.Carried.Assumed:
		p.Say("  ", "No bearing known: the first leg is given the bearing 0.")
	case f.Local:
		p.Say("  ", fmt.Sprintf("Bearing from %s; no coordinates known: the first station is given 0, 0.", f.FromMark))
	default:
		p.Say("  ", fmt.Sprintf("From the known station %s, with the known bearing to %s.", f.Stations[0], f.FromMark))
	}
}

// setAngles prints of every station its angle with the correction that spreads the
// angular misclosure, and bearing and length of the leg from it.
func (f Figure) setAngles(p *page.Page, in figureLengths) {
	t := page.Table{Indent: 2, Columns: []page.Column{{Head: "Station", Cols: 15},
		number("Angle"+f.Unit.Mark(), 16), number("Corr.", 9), number("Bearing on", 15), number("Length "+in.symbol, 11)}}
	c := f.Result.Carried
	var rows [][]string
	for i, s := range f.Stations {
		angle, corr, bearing, length := "", "", "", ""
		if a := f.Traverse.Angles[i]; a.Observed {
			angle = reduce.DirectionAt(a.Value).Format(f.Unit, f.Places)
			if c.Angular != nil {
				corr = withSign(c.Corrections[i], f.Unit)
			}
		}
		if i < len(c.Bearings) {
			bearing = f.bearings.text(c.Bearings[i], f.Unit, f.Places)
			if l := f.Traverse.Legs[i].Length; l > 0 {
				length = fmt.Sprintf("%.3f", in.of(l))
			}
		}
		rows = append(rows, []string{s, angle, corr, bearing, length})
	}
	t.Groups = page.Rows(rows...)
	p.Add(page.Gap{}, t)
}

// setLegs prints the legs as handbooks do: departures and latitudes as carried, the
// corrections of the compass rule in thousandths, and bearing and length of the leg so
// corrected.
func (f Figure) setLegs(p *page.Page, in figureLengths) {
	c := f.Result.Carried
	if c.Linear == nil || len(c.Rows) == 0 {
		return
	}
	leg, bearing := 15, 13
	if f.bearings.quadrants {
		leg, bearing = 13, 15
	}
	t := page.Table{Indent: 2, Columns: []page.Column{{Head: "Leg", Cols: leg}, number("Departure", 10), number(in.small, 5), number("Latitude", 10), number(in.small, 5),
		number("Bearing adj.", bearing), number("Length adj.", 11)}}
	var rows [][]string
	for i, r := range c.Rows {
		bearing := ""
		if b, err := traverse.Bearing(traverse.Point{}, r.Adjusted); err == nil {
			bearing = f.bearings.text(b, f.Unit, f.Places)
		}
		rows = append(rows, []string{f.station(i) + "–" + f.station(i+1), minus(in.of(r.Delta.E)), in.thousandths(r.Correction.E), minus(in.of(r.Delta.N)), in.thousandths(r.Correction.N),
			bearing, fmt.Sprintf("%.3f", in.of(r.Adjusted.Length()))})
	}
	t.Groups = page.Rows(rows...)
	p.Add(page.Gap{}, t)
}

// setPoints prints the coordinates both ways, side by side.
func (f Figure) setPoints(p *page.Page, in figureLengths) {
	c, a := f.Result.Carried, f.Result.Adjusted
	if c.Points == nil || a == nil {
		return
	}
	p.Add(page.Gap{})
	if f.Kind != Open && !f.Met() {
		p.Say("  ", "Coordinates, not to be used while the figure does not close:")
	}
	metres := page.Column{Gap: 1, Cols: 11, Right: true}
	first, carried, adjusted := metres, metres, metres
	first.Cols++
	carried.Head, carried.Span = "Compass rule E, N", 2
	adjusted.Head, adjusted.Span = "Least squares E, N", 2
	var rows [][]string
	for i, s := range f.Stations {
		rows = append(rows, []string{s, minus(in.of(c.Points[i].E)), minus(in.of(c.Points[i].N)), minus(in.of(a.Points[i].E)), minus(in.of(a.Points[i].N)), in.ellipse(a.Ellipses[i])})
	}
	p.Add(tableOf(rows, page.Column{Cols: 11}, first, carried, metres, adjusted,
		number("Ellipse "+in.small, 14)))
	if a.Dof > 0 {
		p.Say("  ", fmt.Sprintf("Least squares: s₀ %.2f with %d degrees of freedom; ellipses are standard ones (39 %%; × %.2f for 95 %%).", a.S0, a.Dof, 2.45))
	} else {
		p.Say("  ", "Least squares has nothing to adjust: there are no more observations than unknowns.")
	}
}

// ellipse writes a standard ellipse: half axes in millimetres, and the bearing of
// the longer one.
func ellipse(e traverse.Ellipse) string {
	switch {
	case e.A >= 1:
		return "over 1 m"
	case e.A > 0:
		return fmt.Sprintf("%.1f %.1f %3.0f°", 1000*e.A, 1000*e.B, e.Bearing.Degrees())
	}
	return "given"
}

// setChecks sets a titled list of checks. Where their limits come from is said
// once when it is the same for all.
func setChecks(p *page.Page, title string, cs []check.Check) {
	if len(cs) == 0 {
		return
	}
	from := cs[0].From
	for _, c := range cs {
		if c.From != from {
			from = ""
		}
	}
	if from != "" {
		title += " (limits: " + from + ")"
	}
	p.Add(page.Gap{})
	p.Say("", title)
	for _, c := range cs {
		if c.From == from {
			c.From = ""
		}
		setCheck(p, c)
	}
}

// named returns the checks of that name.
func named(cs []check.Check, name string) []check.Check {
	var out []check.Check
	for _, c := range cs {
		if c.Name == name {
			out = append(out, c)
		}
	}
	return out
}

// setCheck sets a sentence, where its limit came from, and what to do.
func setCheck(p *page.Page, c check.Check) {
	mark, role := "  + ", page.Base
	if !c.Met {
		mark, role = "  ! ", page.Stop
	}
	text := c.Text
	if c.From != "" {
		text += " (" + c.From + ")"
	}
	p.Add(page.Para{Lead: mark, Text: text, Role: role})
	if c.Again != "" {
		p.Say("    ", upper(c.Again)+".")
	}
}

// upper begins a sentence.
func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(string(r)) + s[n:]
}
