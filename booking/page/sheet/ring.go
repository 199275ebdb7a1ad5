package sheet

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/traverse"
)

// figure puts a ring, a link or an open traverse on the cover: its plan beside
// its angles and closures, its coordinates below.
func (c *coverPlan) figure(f network.Figure) {
	if f.Result == nil || f.Result.Carried == nil {
		return
	}
	angles, closure := angleTable(f), closureTable(f)
	points, hasPoints := pointTable(f)
	beside := len(f.Stations) <= 7 // more have no room beside the plan
	p := plan{w: &writer{}, density: c.density}
	right := []page.Block{angles, closure}
	h := p.table(angles) + p.table(closure)
	if hasPoints && beside {
		right, h = append(right, points), h+p.table(points)
	}
	b := page.Beside{Right: right}
	if hasPoints {
		plot := ringPlan(f)
		b.Left = []page.Block{plot}
		h = max(h, plot.Height+captionMM+p.gap())
	} else {
		b.Left = []page.Block{page.Para{Lead: f.Title(), Text: f.State() + "; no coordinates, and so no plan: a side was not measured."}}
	}
	if hasPoints && !beside {
		if c.left < h+p.table(points) {
			c.begin()
		}
		c.put(b, h)
		c.put(points, p.table(points))
		return
	}
	c.put(b, h)
}

// open puts what the checks of the book found not met, and what is still open.
func (c *coverPlan) open(r network.Report) {
	var items []page.Point
	for _, k := range append(r.LineChecks(), r.Checks...) {
		if !k.Met {
			items = append(items, page.Point{Lead: "Not met", Text: sentence(k.Text)})
		}
	}
	for _, s := range r.Open {
		items = append(items, page.Point{Lead: "Still open", Text: s})
	}
	for len(items) > 0 {
		n := min(len(items), 30)
		part := page.Points{Word: page.Word{Text: "Open"}, Items: items[:n]}
		p := plan{w: &writer{}, density: c.density}
		c.put(part, p.points(part))
		items = items[n:]
	}
}

// angleTable is the angles of a figure with their corrections.
func angleTable(f network.Figure) page.Table {
	t := page.Table{Caption: "Angles", Explain: "with their corrections", Class: "angles", Columns: []page.Column{{Head: "Setup", MM: 12, Right: true}, {Head: "Station", Part: page.Name, Folds: true}, {Head: "Angle", MM: 26, Right: true, Part: page.Result}, {Head: "Corr. " + reduce.SmallUnit(f.Unit), MM: 16, Right: true}}}
	var rows [][]string
	for i, s := range f.Stations {
		row := []string{"", s, "–", ""}
		if i < len(f.Setups) && f.Setups[i] > 0 {
			row[0] = fmt.Sprint(f.Setups[i])
		}
		if a := f.Traverse.Angles[i]; a.Observed {
			row[2] = reduce.DirectionAt(a.Value).Format(f.Unit, f.Places)
			if c := f.Result.Carried; i < len(c.Corrections) && c.Angular != nil {
				row[3] = reduce.FormatBare(c.Corrections[i].Seconds(), f.Unit, 1)
			}
		}
		rows = append(rows, row)
	}
	t.Groups = page.Rows(rows...)
	return t
}

// closureTable is what the figure closes with, against its limits.
func closureTable(f network.Figure) page.Table {
	t := page.Table{Caption: "Closure", Explain: f.State(), Class: "closure", Columns: []page.Column{{Head: "Held", MM: 60, Part: page.Name, Folds: true}, {Head: "Found", Right: true, Part: page.Result}}}
	var g page.Group
	say := func(what, value string, role page.Role, stop bool) {
		g.Rows = append(g.Rows, page.Row{Cells: []page.Cell{{{Text: what}}, page.One(value, role)}, Stop: stop})
	}
	c, from := f.Result.Carried, []string(nil)
	if a := c.Angular; a != nil {
		sum, should := "Sum", "Should be"
		if f.Kind == network.Link {
			sum, should = "Carried end bearing", "Known end bearing"
		}
		say(sum, a.Sum.Format(f.Unit, f.Places), page.Base, false)
		say(should, a.Should.Format(f.Unit, f.Places), page.Base, false)
		miss, most := a.Misclosure.FormatAgainst(a.Limit, f.Unit)
		say(mark(a.Within())+"Misclosure", miss, page.Strong, !a.Within())
		from = once(from, f.Limit.From)
		say(fmt.Sprintf("Limit, %s × √%d", f.Limit.Value.FormatSize(f.Unit), a.N), most, page.Base, false)
	}
	if l := c.Linear; l != nil {
		ratio := "–"
		if l.Ratio > 0 {
			ratio = fmt.Sprintf("1 : %.0f", l.Ratio)
		}
		say(mark(l.Within())+"Linear misclosure", fmt.Sprintf("%.0f mm", 1000*l.Misclosure), page.Strong, !l.Within())
		from = once(from, f.RatioFrom)
		say(fmt.Sprintf("of %.1f m; limit 1 : %.0f", l.Length, l.LeastRatio), ratio, page.Base, false)
	}
	if h := f.Heights; h != nil && h.Closed {
		say(mark(h.Within())+"Heights", signedMM(h.Misclosure), page.Strong, !h.Within())
	}
	if len(g.Rows) == 0 {
		say("Nothing checks this traverse", "", page.Base, true)
	}
	t.Groups = []page.Group{g}
	if len(from) > 0 {
		t.Explain += "; limits: " + strings.Join(from, "; ")
	}
	return t
}

// signedMM writes metres as whole millimetres with their sign; zero has none.
func signedMM(m float64) string {
	if math.Abs(m) < 0.0005 {
		return "0 mm"
	}
	return decimal.Sprintf("%+.0f mm", 1000*m)
}

// mark stands before what does not keep its limit.
func mark(within bool) string {
	if within {
		return ""
	}
	return "✗ "
}

// pointTable is the coordinates with their ellipses in figures: the drawing is
// never the only place. ok is false where there are none.
func pointTable(f network.Figure) (t page.Table, ok bool) {
	points, ellipses := pointsOf(f)
	if len(points) == 0 {
		return t, false
	}
	explain := "m; 95 % ellipses in mm"
	if f.Local {
		explain += "; the first station is given 0, 0"
	}
	t = page.Table{Caption: "Coordinates", Explain: explain, Class: "points-m", Columns: []page.Column{{Head: "Station", Part: page.Name, Folds: true}, {Head: "E", MM: 18, Right: true, Part: page.Result}, {Head: "N", MM: 18, Right: true, Part: page.Result},
		{Head: "a", MM: 10, Right: true}, {Head: "b", MM: 10, Right: true}, {Head: "Bearing", MM: 13, Right: true}}}
	var rows [][]string
	for i, p := range points {
		if i >= len(f.Stations) {
			break
		}
		row := []string{f.Stations[i], decimal.Sprintf("%.3f", p.E), decimal.Sprintf("%.3f", p.N), "–", "–", "given"}
		if i < len(ellipses) && ellipses[i].A > 0 {
			e := ellipses[i]
			row[3], row[4], row[5] = fmt.Sprintf("%.1f", 1000*e.A), fmt.Sprintf("%.1f", 1000*e.B), fmt.Sprintf("%.0f°", e.Bearing.Degrees())
		}
		rows = append(rows, row)
	}
	t.Groups = page.Rows(rows...)
	return t, true
}

// pointsOf are the adjusted points, with their 95 % ellipses, or the carried ones where there was nothing to
// adjust.
func pointsOf(f network.Figure) ([]traverse.Point, []traverse.Ellipse) {
	if a := f.Result.Adjusted; a != nil && len(a.Points) > 0 {
		var es []traverse.Ellipse
		const likely = traverse.Ellipse95 // they stand on stated standard deviations
		for _, e := range a.Ellipses {
			e.A, e.B = e.A*likely, e.B*likely
			es = append(es, e)
		}
		return a.Points, es
	}
	return f.Result.Carried.Points, nil
}

// nice is the largest of 1, 2, 5, 10, 20, … that is not more than x.
func nice(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{5, 2} {
		if k*ten <= x {
			return k * ten
		}
	}
	return ten
}

// A mapper puts points of the ground on the plan.
type mapper struct{ e, n, scale, x, y float64 }

func (m mapper) at(p traverse.Point) (x, y float64) {
	return m.x + float64((p.E-m.e)*m.scale), m.y - float64((p.N-m.n)*m.scale)
}

// ringPlan draws the figure: sides with their lengths, ellipses and misclosure at
// one stated exaggeration, each scale with its bar.
func ringPlan(f network.Figure) page.Plot {
	const width, height = 86.0, 84.0
	box := 50.0
	for _, n := range f.Stations {
		if page.Width(n) > 8 {
			box = 40 // long names have more room around it
		}
	}
	points, ellipses := pointsOf(f)
	points = points[:min(len(points), len(f.Stations))]
	lo, hi := points[0], points[0]
	for _, p := range points {
		lo.E, lo.N, hi.E, hi.N = min(lo.E, p.E), min(lo.N, p.N), max(hi.E, p.E), max(hi.N, p.N)
	}
	m := mapper{e: (lo.E + hi.E) / 2, n: (lo.N + hi.N) / 2, scale: box / max(hi.E-lo.E, hi.N-lo.N, 1), x: width / 2, y: height/2 - 4}
	largest := 0.0
	for _, e := range ellipses {
		largest = max(largest, e.A)
	}
	closing := f.Result.Carried.Linear
	if closing != nil {
		largest = max(largest, closing.Misclosure)
	}
	exaggerated := 0.0
	if largest > 0 {
		exaggerated = nice(8 / (largest * m.scale))
	}
	var b, told strings.Builder
	drawSides(&b, &told, f, points, m)
	for i, p := range points {
		x, y := m.at(p)
		reach := 1.2
		if i < len(ellipses) && ellipses[i].A > 0 {
			e := ellipses[i]
			a := e.A * m.scale * exaggerated
			reach += a
			fmt.Fprintf(&b, `<ellipse class="bar" cx="%.2f" cy="%.2f" rx="%.2f" ry="%.2f" transform="rotate(%.1f %.2f %.2f)"/>`, x, y, a, e.B*m.scale*exaggerated, e.Bearing.Degrees()-90, x, y)
			fmt.Fprintf(&told, "; 95 %% ellipse at %s %.1f by %.1f mm", f.Stations[i], 1000*e.A, 1000*e.B)
		}
		fmt.Fprintf(&b, `<circle class="ring" cx="%.2f" cy="%.2f" r=".8"/>`, x, y)
		drawName(&b, f.Stations[i], x, y, x-m.x, y-m.y, reach, width)
	}
	if closing != nil && closing.Misclosure > 0 {
		x, y := m.at(points[0])
		fmt.Fprintf(&b, `<path class="thick" d="M%.2f %.2fl%.2f %.2f"/>`, x, y, closing.Closing.E*m.scale*exaggerated, -closing.Closing.N*m.scale*exaggerated)
		fmt.Fprintf(&told, "; misclosure %.0f mm", 1000*closing.Misclosure)
	}
	drawScales(&b, m.scale, exaggerated, width, height)
	explain := "sides in m"
	if exaggerated > 0 {
		explain += fmt.Sprintf("; 95 %% ellipses and misclosure drawn %.0f times", exaggerated)
	}
	return page.Plot{Caption: f.Title(), Explain: explain, Alt: f.Title() + ", " + f.State() + told.String(), SVG: template.HTML(b.String()), Width: width, Height: height}
}

// drawSides draws the sides, each with its length inside the figure.
func drawSides(b, told *strings.Builder, f network.Figure, points []traverse.Point, m mapper) {
	for i := range points {
		k := i + 1
		if k == len(points) {
			if f.Kind != network.Ring {
				break
			}
			k = 0
		}
		x1, y1 := m.at(points[i])
		x2, y2 := m.at(points[k])
		fmt.Fprintf(b, `<path class="side" d="M%.2f %.2fL%.2f %.2f"/>`, x1, y1, x2, y2)
		if i >= len(f.Traverse.Legs) || f.Traverse.Legs[i].Length == 0 {
			continue
		}
		mx, my := (x1+x2)/2, (y1+y2)/2
		dx, dy := y2-y1, x1-x2 // across the side
		if d := math.Hypot(dx, dy); d > 0 {
			dx, dy = dx/d, dy/d
		}
		if dx*(m.x-mx)+dy*(m.y-my) < 0 {
			dx, dy = -dx, -dy
		}
		length := f.Traverse.Legs[i].Length
		fmt.Fprintf(b, `<text class="tm" x="%.2f" y="%.2f">%.1f</text>`, mx+4.2*dx, my+3.2*dy+.8, length)
		fmt.Fprintf(told, "; %s to %s %.1f m", f.Stations[i], f.Stations[k], length)
	}
}

// drawName writes the name of a station outside the figure, beyond its ellipse, in a
// drawing so wide.
func drawName(b *strings.Builder, name string, x, y, dx, dy, reach, width float64) {
	d := max(math.Hypot(dx, dy), .001)
	dx, dy = dx/d, dy/d
	x, y = x+(reach+1)*dx, y+(reach+1.8)*dy
	anchor, room := "tm", 2*min(x, width-x)
	if dx > .5 {
		anchor, room = "", width-x
	} else if dx < -.5 {
		anchor, room = "te", x
	}
	label(b, strings.TrimSpace("name "+anchor), x, y, min(room, width/2), dy, name)
}

// drawScales draws north and a bar for each scale.
func drawScales(b *strings.Builder, scale, exaggerated, width, height float64) {
	fmt.Fprintf(b, `<path class="side" d="M%g 9V2m-1 2l1 -2l1 2"/><text class="tm" x="%g" y="12">N</text>`, width-4, width-4)
	bar := func(x, length float64, text string) {
		fmt.Fprintf(b, `<path class="side" d="M%.2f %gv1.4m0 -.7h%.2fm0 -.7v1.4"/><text class="tm" x="%.2f" y="%g">%s</text>`, x, height-3, length, x+length/2, height-4, text)
	}
	ground := nice(20 / scale)
	bar(28, ground*scale, fmt.Sprintf("%g m", ground))
	if exaggerated > 0 {
		small := nice(12 / (scale * exaggerated) * 1000)
		bar(62, small/1000*scale*exaggerated, fmt.Sprintf("%g mm", small))
	}
}
