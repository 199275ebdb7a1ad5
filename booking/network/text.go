package network

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
)

// textWidth is the width of the plain text, columns.
const textWidth = 78

// Text prints the report as plain text of at most 78 columns, for the screen and
// the command alike.
func Text(r Report) string {
	var b strings.Builder
	if len(r.Figures) == 0 {
		b.WriteString("No ring and no link yet.\n")
	}
	for i, f := range r.Figures {
		if i > 0 {
			b.WriteByte('\n')
		}
		f.write(&b, r.Current)
	}
	writeChecks(&b, "Distances there and back", named(r.LineChecks(), "distance"))
	writeChecks(&b, "Heights there and back", named(r.LineChecks(), "height"))
	if len(r.Bearings) > 0 {
		b.WriteString("\nOrientation\n")
		for _, o := range r.Bearings {
			writeWrapped(&b, "  ", o.String())
		}
	}
	writeChecks(&b, "Known and repeated", r.Checks)
	if len(r.Open) > 0 {
		b.WriteString("\nStill open\n")
		for _, s := range r.Open {
			writeWrapped(&b, "  ", s)
		}
	}
	return b.String()
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

func (f Figure) write(b *strings.Builder, current booking.Summary) {
	writeWrapped(b, "", f.Title()+": "+f.State()+".")
	why := f.Cause()
	for _, c := range f.Checks(current) {
		if c.Again != "" {
			why += " " + upper(c.Again) + "."
		}
		c.Again = ""
		writeCheck(b, c)
	}
	if why = strings.TrimSpace(why); why != "" {
		writeWrapped(b, "  > ", why)
	}
	f.writeBasis(b)
	f.writeAngles(b)
	f.writePoints(b)
	f.writeHeights(b)
}

// writeHeights prints the heights of the stations.
func (f Figure) writeHeights(b *strings.Builder) {
	if f.Heights == nil {
		return
	}
	from := "known heights"
	if f.Heights.Local {
		from = f.Stations[0] + " at 0"
	}
	var parts []string
	for i, s := range f.Stations {
		parts = append(parts, s+" "+minus(f.Heights.Points[i]))
	}
	writeWrapped(b, "  ", "Heights, from "+from+", metres: "+strings.Join(parts, ", ")+".")
}

// writeBasis says what the coordinates stand on.
func (f Figure) writeBasis(b *strings.Builder) {
	switch {
	case f.Result.Carried.Assumed && f.Local:
		writeWrapped(b, "  ", "Nothing known: the first station is given 0, 0 and the first leg the bearing 0.")
	case f.Result.Carried.Assumed:
		writeWrapped(b, "  ", "No bearing known: the first leg is given the bearing 0.")
	case f.Local:
		writeWrapped(b, "  ", fmt.Sprintf("Bearing from %s; no coordinates known: the first station is given 0, 0.", f.FromMark))
	default:
		writeWrapped(b, "  ", fmt.Sprintf("From %s, known, with the known bearing to %s.", f.Stations[0], f.FromMark))
	}
}

// writeAngles prints angle, bearing and length of every leg.
func (f Figure) writeAngles(b *strings.Builder) {
	fmt.Fprintf(b, "\n  %s%16s%16s%12s\n", pad("Station", 16), "Angle"+gonMark(f.Unit), "Bearing on", "Length m")
	c := f.Result.Carried
	for i, s := range f.Stations {
		angle, bearing, length := "", "", ""
		if a := f.Traverse.Angles[i]; a.Observed {
			angle = a.Value.FormatDirection(f.Unit, f.Places)
		}
		if i < len(c.Bearings) {
			bearing = c.Bearings[i].FormatDirection(f.Unit, f.Places)
			if l := f.Traverse.Legs[i].Length; l > 0 {
				length = fmt.Sprintf("%.3f", l)
			}
		}
		b.WriteString(strings.TrimRight(fmt.Sprintf("  %s%s%s%s", pad(s, 16), right(angle, 16), right(bearing, 16), right(length, 12)), " ") + "\n")
	}
}

// writePoints prints the coordinates both ways, side by side.
func (f Figure) writePoints(b *strings.Builder) {
	c, a := f.Result.Carried, f.Result.Adjusted
	if c.Points == nil || a == nil {
		return
	}
	b.WriteByte('\n')
	if f.Kind != Open && !f.Met() {
		writeWrapped(b, "  ", "Coordinates, not to be used while the figure does not close:")
	}
	fmt.Fprintf(b, "  %s%24s%24s%15s\n", pad("", 12), "Compass rule E, N", "Least squares E, N", "Ellipse mm")
	for i, s := range f.Stations {
		e := a.Ellipses[i]
		ellipse := "given"
		switch {
		case e.A >= 1:
			ellipse = "over 1 m"
		case e.A > 0:
			ellipse = fmt.Sprintf("%.1f %.1f %3.0f°", 1000*e.A, 1000*e.B, e.Bearing.Degrees())
		}
		b.WriteString("  " + pad(s, 12))
		for _, x := range []float64{c.Points[i].E, c.Points[i].N, a.Points[i].E, a.Points[i].N} {
			b.WriteString(right(minus(x), 12))
		}
		b.WriteString(right(ellipse, 15) + "\n")
	}
	if a.Dof > 0 {
		writeWrapped(b, "  ", fmt.Sprintf("Least squares: s₀ %.2f with %d degrees of freedom; ellipses are standard ones (39 %%; × %.2f for 95 %%).", a.S0, a.Dof, 2.45))
	} else {
		writeWrapped(b, "  ", "Least squares has nothing to adjust: there are no more observations than unknowns.")
	}
}

func writeChecks(b *strings.Builder, title string, cs []check.Check) {
	if len(cs) == 0 {
		return
	}
	from := cs[0].From
	for _, c := range cs {
		if c.From != from {
			from = ""
		}
	}
	b.WriteByte('\n')
	if from == "" {
		writeWrapped(b, "", title)
	} else {
		writeWrapped(b, "", title+" (limits: "+from+")")
	}
	for _, c := range cs {
		if c.From == from {
			c.From = ""
		}
		writeCheck(b, c)
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

// writeCheck prints a sentence, where its limit came from, and what to do.
func writeCheck(b *strings.Builder, c check.Check) {
	mark := "  + "
	if !c.Met {
		mark = "  ! "
	}
	text := c.Text
	if c.From != "" {
		text += " (" + c.From + ")"
	}
	writeWrapped(b, mark, text)
	if c.Again != "" {
		writeWrapped(b, "    ", upper(c.Again)+".")
	}
}

// upper begins a sentence.
func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(string(r)) + s[n:]
}

// writeWrapped prints s in lines of at most textWidth columns; the first begins
// with lead, the others are indented as far.
func writeWrapped(b *strings.Builder, lead, s string) {
	width, line := utf8.RuneCountInString(lead), lead
	at := width
	for i, w := range strings.Fields(s) {
		n := utf8.RuneCountInString(w)
		if i > 0 && at+1+n > textWidth {
			b.WriteString(line + "\n")
			line, at = strings.Repeat(" ", width), width
		} else if i > 0 {
			line, at = line+" ", at+1
		}
		line, at = line+w, at+n
	}
	b.WriteString(line + "\n")
}

// pad sets a name in a column, cut where it is too long.
func pad(s string, width int) string {
	if n := utf8.RuneCountInString(s); n < width {
		return s + strings.Repeat(" ", width-n)
	}
	return string([]rune(s)[:width-2]) + "… "
}

// right sets a figure at the right of a column.
func right(s string, width int) string {
	if n := utf8.RuneCountInString(s); n < width {
		return strings.Repeat(" ", width-n) + s
	}
	return " " + s
}
