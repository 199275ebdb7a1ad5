package sheet

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// The drawing of the rounds against the limit, in units of the drawing.
const (
	dotsWidth  = 640.0
	dotsHeight = 190.0
	dotsLeft   = 66.0
	dotsTop    = 14.0
	dotsPlot   = 140.0 // height of the plot
)

// dotsSection draws the directions of every target about the middle of its
// rounds. The band is as wide as the limit, so the rounds agree on a target
// exactly when all its dots lie in the band.
func (w *writer) dotsSection() []section {
	seen := false
	for _, t := range w.red.Comparison.Targets {
		seen = seen || len(t.Directions) > 1
	}
	if !seen {
		return nil
	}
	return []section{{
		Title: "Rounds against the limit", Whole: true,
		Lead: []string{fmt.Sprintf("One dot a round, about the middle of the rounds of its target; the number is the round's. The band is as wide as the limit, %s: the rounds agree on a target when its dots lie in the band.",
			w.size(w.red.Comparison.Limit))},
		Figure: template.HTML(w.dots()),
	}}
}

// A dotScale turns seconds into the height of a dot; what lies beyond the edge is
// drawn on it.
type dotScale struct{ half float64 } // seconds from the middle to the edge

func (s dotScale) y(seconds float64) (y float64, beyond bool) {
	if math.Abs(seconds) > s.half {
		seconds, beyond = math.Copysign(s.half, seconds), true
	}
	return dotsTop + dotsPlot/2*(1-seconds/s.half), beyond
}

// scale fits the plot to the dots, but never to more than four limits, so that
// the band stays visible beside a gross error.
func (w *writer) scale() dotScale {
	half := w.red.Comparison.Limit.Seconds() / 2
	most := half
	for _, t := range w.red.Comparison.Targets {
		most = max(most, t.Spread.Seconds()/2)
	}
	return dotScale{half: max(min(most, 4*half)*1.2, 0.1)}
}

func (w *writer) dots() string {
	var b strings.Builder
	s := w.scale()
	fmt.Fprintf(&b, `<svg class="dots" viewBox="0 0 %g %g" role="img" aria-label="Directions of the rounds about their middle against the limit">`, dotsWidth, dotsHeight)
	limit := w.red.Comparison.Limit
	top, _ := s.y(limit.Seconds() / 2)
	bottom, _ := s.y(-limit.Seconds() / 2)
	fmt.Fprintf(&b, `<rect x="%g" y="%.1f" width="%g" height="%.1f" class="band"/>`, dotsLeft, top, dotsWidth-dotsLeft-4, bottom-top)
	for _, sec := range []float64{limit.Seconds() / 2, 0, -limit.Seconds() / 2} {
		y, _ := s.y(sec)
		fmt.Fprintf(&b, `<line x1="%g" y1="%.1f" x2="%g" y2="%.1f" class="lead"/><text x="%g" y="%.1f" class="scale">%s</text>`,
			dotsLeft, y, dotsWidth-4, y, dotsLeft-6, y+4, w.departed(reduce.FromSeconds(sec)))
	}
	step := (dotsWidth - dotsLeft - 4) / float64(max(len(w.red.Comparison.Targets), 1))
	for i, t := range w.red.Comparison.Targets {
		w.targetDots(&b, s, t, dotsLeft+step*float64(i), step)
		if every := int(math.Ceil(18 / step)); (i+1)%every == 0 {
			fmt.Fprintf(&b, `<text x="%.1f" y="%g" class="label">%d</text>`, dotsLeft+step*(float64(i)+0.5), dotsTop+dotsPlot+16, i+1)
		}
	}
	fmt.Fprintf(&b, `<text x="%g" y="%g" class="label">target number, as in the horizon plan</text></svg>`, (dotsWidth+dotsLeft)/2, dotsHeight-4)
	return b.String()
}

// targetDots draws one target's rounds side by side in the strip from x.
func (w *writer) targetDots(b *strings.Builder, s dotScale, t booking.TargetSpread, x, width float64) {
	if len(t.Directions) == 0 {
		return
	}
	first := t.Directions[0].Direction
	lo, hi := 0.0, 0.0
	for _, d := range t.Directions {
		off := d.Direction.Sub(first).Seconds()
		lo, hi = min(lo, off), max(hi, off)
	}
	step := width / float64(len(t.Directions)+1)
	for i, d := range t.Directions {
		off := d.Direction.Sub(first).Seconds() - (lo+hi)/2
		y, beyond := s.y(off)
		cx := x + step*float64(i+1)
		class := "dot"
		if math.Abs(off) > w.red.Comparison.Limit.Seconds()/2 {
			class = "dot out"
		}
		if beyond {
			fmt.Fprintf(b, `<path d="M%.1f %.1f l-4 %g h8 z" class="%s"/>`, cx, y, math.Copysign(7, off), class)
		} else {
			fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="2.6" class="%s"/>`, cx, y, class)
		}
		if width > 30*float64(len(t.Directions))/4 {
			fmt.Fprintf(b, `<text x="%.1f" y="%.1f" class="tiny">%d</text>`, cx+6, y-3, d.Round)
		}
	}
}
