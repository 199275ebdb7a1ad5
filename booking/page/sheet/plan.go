package sheet

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// The horizon plan, in units of the drawing.
const (
	planSize   = 340.0
	planRadius = 96.0
	labelStep  = 17.0 // from one ring of labels to the next
	labelApart = 16.0 // least distance between two labels
	labelRings = 4
)

// planSection draws where the targets lie around the station: the RO above,
// directions clockwise. Targets are numbered; the names stand beside the plan.
func (w *writer) planSection() []section {
	if len(w.red.Directions) == 0 {
		return nil
	}
	sec := section{Title: "Horizon", Whole: true}
	sec.Beside = append(sec.Beside, "RO  "+visible(w.setup.Spec.RO))
	for i, t := range w.setup.Spec.Targets {
		name := fmt.Sprintf("%d  %s", i+1, visible(t))
		if !slices.ContainsFunc(w.red.Directions, func(d booking.DirectionResult) bool { return d.Target == t }) {
			name += " (no direction)"
		}
		sec.Beside = append(sec.Beside, name)
	}
	sec.Figure = template.HTML(w.plan())
	return []section{sec}
}

// A ray is a direction to draw with its label.
type ray struct {
	label     string
	direction reduce.Angle
	ring      int // which ring of labels, 0 innermost
}

// rays lists the RO and every target that has a direction.
func (w *writer) rays() []ray {
	rays := []ray{{label: "RO"}}
	for i, t := range w.setup.Spec.Targets {
		for _, d := range w.red.Directions {
			if d.Target == t {
				rays = append(rays, ray{label: fmt.Sprint(i + 1), direction: d.Direction.Angle()})
			}
		}
	}
	for i := range rays {
		rays[i].ring = freeRing(rays, i)
	}
	return rays
}

// freeRing returns the innermost ring on which the label of ray i meets no label
// placed before it.
func freeRing(rays []ray, i int) int {
	for ring := range labelRings {
		x, y := labelAt(rays[i].direction, ring)
		if !slices.ContainsFunc(rays[:i], func(o ray) bool {
			ox, oy := labelAt(o.direction, o.ring)
			return math.Hypot(x-ox, y-oy) < labelApart
		}) {
			return ring
		}
	}
	return i % labelRings
}

func labelAt(d reduce.Angle, ring int) (x, y float64) {
	return polar(d, planRadius+12+labelStep*float64(ring))
}

// polar returns the point at the distance r in the direction d, clockwise from
// above.
func polar(d reduce.Angle, r float64) (x, y float64) {
	sin, cos := math.Sincos(d.Radians())
	return planSize/2 + r*sin, planSize/2 - r*cos
}

func (w *writer) plan() string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="plan" viewBox="0 0 %g %g" role="img" aria-label="Horizon plan: the reference object above, targets clockwise">`, planSize, planSize)
	fmt.Fprintf(&b, `<circle cx="%g" cy="%g" r="%g" class="rim"/>`, planSize/2, planSize/2, planRadius)
	for _, r := range w.rays() {
		x, y := polar(r.direction, planRadius)
		lx, ly := labelAt(r.direction, r.ring)
		class := "ray"
		if r.label == "RO" {
			class = "ray ro"
		}
		fmt.Fprintf(&b, `<line x1="%g" y1="%g" x2="%.1f" y2="%.1f" class="%s"/>`, planSize/2, planSize/2, x, y, class)
		if r.ring > 0 {
			tx, ty := polar(r.direction, planRadius+3+labelStep*float64(r.ring))
			fmt.Fprintf(&b, `<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" class="lead"/>`, x, y, tx, ty)
		}
		fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" class="label">%s</text>`, lx, ly+4, template.HTMLEscapeString(r.label))
	}
	fmt.Fprintf(&b, `<circle cx="%g" cy="%g" r="3" class="station"/></svg>`, planSize/2, planSize/2)
	return b.String()
}
