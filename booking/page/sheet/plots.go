package sheet

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"example.org/readback/booking/page"
	"example.org/readback/reduce"
)

// rootShare is the standard deviation of the mean of n.
func rootShare(sd float64, n int) float64 { return sd / math.Sqrt(float64(n)) }

// escaped writes a name into a drawing.
func escaped(s string) string { return template.HTMLEscapeString(page.Visible(s)) }

// twoCPlot draws 2c by pair in the order observed, the limit of its spread about
// the middle of what was found.
func (w *writer) twoCPlot() (p page.Plot, ok bool) {
	if w.red.TwoC == nil || w.red.TwoC.N < 2 {
		return p, false
	}
	const left, width, top, height = 12.0, 166.0, 3.0, 22.0
	limit := w.red.Comparison.Limits.TwoC.Value.Seconds()
	middle := (w.red.TwoC.Min.Seconds() + w.red.TwoC.Max.Seconds()) / 2
	half := max(w.red.TwoC.Width().Seconds()/2, limit/2) * 1.15
	y := func(sec float64) float64 { return top + height/2*(1-(sec-middle)/half) }
	var b, told strings.Builder
	lo, hi := y(middle-limit/2), y(middle+limit/2)
	fmt.Fprintf(&b, `<rect class="band" x="%g" y="%.2f" width="%g" height="%.2f"/><path class="bar" d="M%g %.2fh%gM%g %.2fh%g"/>`, left, hi, width, lo-hi, left, lo, width, left, hi, width)
	for _, sec := range []float64{middle - limit/2, middle, middle + limit/2} {
		fmt.Fprintf(&b, `<text class="te" x="%g" y="%.2f">%s</text>`, left-1.5, y(sec)+.8, w.signed(reduce.FromSeconds(sec), 1))
	}
	step := width / float64(w.red.TwoC.N)
	x := left
	for _, r := range w.red.Rounds {
		begin := x
		for _, q := range r.Pairs {
			if q.HasPair {
				fmt.Fprintf(&b, `<circle cx="%.2f" cy="%.2f" r=".55"/>`, x+step/2, y(q.TwoC.Seconds()))
				fmt.Fprintf(&told, " %s %s", q.Target, w.signed(q.TwoC, 1))
				x += step
			}
		}
		if x == begin {
			continue
		}
		if begin > left {
			fmt.Fprintf(&b, `<path class="hair" d="M%.2f %gV%g"/>`, begin, top-1, top+height+1)
		}
		fmt.Fprintf(&b, `<text x="%.2f" y="%g">round %d</text>`, begin+1, top+height+4, r.Number)
		fmt.Fprintf(&told, ", end of round %d;", r.Number)
	}
	return page.Plot{Caption: "2c by pair, in the order observed", Explain: fmt.Sprintf("in %s; the limit of the spread, %s, between the bars", w.smallUnit(), w.size(w.red.Comparison.Limits.TwoC.Value)),
		Alt: "2c in " + w.smallUnit() + ":" + strings.TrimSuffix(told.String(), ";"), SVG: template.HTML(b.String()), Width: 180, Height: 30, Wide: true}, true
}

// horizon draws where the targets lie around the station: the RO above,
// directions clockwise. Labels of rays closer than 12° go out alternately.
func (w *writer) horizon() page.Plot {
	const size = 84.0
	radius := 27.0
	for _, n := range w.setup.Spec.Names() {
		if page.Width(n) > 12 {
			radius = 22 // long names have more room beside it
		}
	}
	point := func(a reduce.Direction, r float64) (x, y float64) {
		sin, cos := math.Sincos(a.Radians())
		return size/2 + float64(r*sin), size/2 - float64(r*cos)
	}
	var b, told strings.Builder
	fmt.Fprintf(&b, `<circle class="bar" cx="%g" cy="%g" r="%g"/>`, size/2, size/2, radius)
	ray := func(a reduce.Direction, text, class string, out float64) {
		x, y := point(a, radius)
		lx, ly := point(a, radius+3+out)
		anchor, room := "tm", size/2
		if s := math.Sin(a.Radians()); s > .2 {
			anchor, room = "", size-lx
		} else if s < -.2 {
			anchor, room = "te", lx
		}
		fmt.Fprintf(&b, `<path class="%s" d="M%g %gL%.2f %.2f"/>`, class, size/2, size/2, x, y)
		if out > 0 {
			ax, ay := point(a, radius+1.5+out)
			fmt.Fprintf(&b, `<path class="hair" d="M%.2f %.2fL%.2f %.2f"/>`, x, y, ax, ay)
		}
		label(&b, anchor, lx, ly, room, -math.Cos(a.Radians()), text)
	}
	ray(reduce.Direction{}, w.setup.Spec.RO+" (RO)", "thick", 0)
	before, out := reduce.Direction{}, 0.0
	for _, d := range w.red.Directions {
		if d.Direction.Sub(before).Abs() < 12*reduce.Degree && out == 0 {
			out = 4.2
		} else {
			out = 0
		}
		text := d.Target + " " + reduce.DirectionAt(d.Direction.Angle().Round(reduce.Degree)).Format(reduce.DMS, 0)
		if u := w.unit(); u.Decimal() {
			text = d.Target + " " + d.Direction.Format(u, 0) + u.Mark()
		} else {
			text = strings.TrimSuffix(text, "00′00″")
		}
		ray(d.Direction, text, "side", out)
		fmt.Fprintf(&told, ", %s %s", d.Target, w.direction(d.Direction))
		before = d.Direction
	}
	fmt.Fprintf(&b, `<circle class="ring" cx="%g" cy="%g" r="1"/>`, size/2, size/2)
	return page.Plot{Caption: "Horizon", Explain: "the RO upward, not to scale of distance", Alt: "Directions from " + w.setup.Spec.RO + told.String(),
		SVG: template.HTML(b.String()), Width: size, Height: size}
}

// A departure is what is left of a pair when the directions and the orientation of its
// round are taken off, seconds.
type departure struct {
	name string
	v    float64
}

// residualLetters is what a line of a name holds beside the bars of the residuals.
const residualLetters = 21

// departures are those of the complete rounds by number, less the mean of their round, the
// largest without its sign, and the rows of their picture.
func (w *writer) departures() (rounds map[int][]departure, most float64, rows int) {
	rounds = map[int][]departure{}
	for _, r := range w.red.Comparison.Rounds {
		if !r.Complete {
			continue
		}
		bars, mean := []departure{{w.setup.Spec.RO, 0}}, 0.0
		for _, d := range w.red.Directions {
			own, _ := r.Direction(d.Target)
			v := own.Sub(d.Direction).Seconds()
			bars, mean = append(bars, departure{d.Target, v}), mean+v
		}
		mean /= float64(len(bars))
		for i := range bars {
			bars[i].v -= mean
			most = max(most, math.Abs(bars[i].v))
			rows += len(page.Wrap(page.Visible(bars[i].name), residualLetters))
		}
		rounds[r.Number], rows = bars, rows+1
	}
	return rounds, most, rows
}

// residuals draws the departures of the complete rounds.
func (w *writer) residuals() (p page.Plot, ok bool) {
	rounds, most, rows := w.departures()
	if rows == 0 || w.red.Dof == 0 {
		return p, false
	}
	sigma := 2 * w.setup.Spec.Instrument.Sigma.Seconds()
	half := max(most, sigma, 0.1) * 1.1
	row := min(2.6, 78/float64(rows))
	const x0, w0 = 58.0, 24.0
	x := func(v float64) float64 { return x0 + w0*v/half }
	var b, told strings.Builder
	y := 1.0
	height := float64(rows) * row
	if sigma > 0 {
		fmt.Fprintf(&b, `<rect class="band" x="%.2f" y="0" width="%.2f" height="%.2f"/>`, x(-sigma), x(sigma)-x(-sigma), height)
	}
	fmt.Fprintf(&b, `<path class="bar" d="M%g 0V%.2f"/>`, x0, height)
	for _, r := range w.red.Comparison.Rounds {
		for i, k := range rounds[r.Number] {
			if i == 0 {
				fmt.Fprintf(&b, `<text class="name" x="0" y="%.2f">%d</text>`, y+1, r.Number)
				fmt.Fprintf(&told, "; round %d:", r.Number)
			}
			lines := page.Wrap(page.Visible(k.name), residualLetters)
			fmt.Fprintf(&b, `<text x="5" y="%.2f" style="font-size:%.2fpx">%s</text><path class="thick" d="M%g %.2fH%.2f"/>`, y+.8, min(letterMM, row), spans(lines, 5, row), x0, y, x(k.v))
			fmt.Fprintf(&told, " %s %s", k.name, w.signed(reduce.FromSeconds(k.v), 1))
			y += row * float64(len(lines))
		}
		if len(rounds[r.Number]) > 0 {
			y += row
		}
	}
	for _, v := range []float64{-half / 1.1, 0, half / 1.1} {
		fmt.Fprintf(&b, `<text class="tm" x="%.2f" y="%.2f">%s</text>`, x(v), height+3, w.signed(reduce.FromSeconds(v), 1))
	}
	explain := "in " + w.smallUnit()
	if sigma > 0 {
		explain += "; grey: twice the stated σ"
	}
	return page.Plot{Caption: "Residuals", Explain: explain, Alt: "Residuals in " + w.smallUnit() + told.String(), SVG: template.HTML(b.String()), Width: 84, Height: height + 4}, true
}
