package sheet

import (
	"fmt"
	"html/template"
	"strings"

	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
)

// A strip draws the rounds of one target against the limit: two bars stand one
// limit apart, grey between them, through all rows of the table. A dot per round
// stands in a lane of its own, round 1 on top; a left-out round is a ring. The bars
// stand where most rounds fit between them, so that an odd round stands outside
// alone; beyond the strip it is an arrow at its end.
type strip struct{ mm, row float64 }

// panel is the share of the strip between the bars.
const panel = 0.42

// A lane is one round of the strip.
type lane struct {
	round int
	off   float64 // seconds, less the direction
	out   bool    // left out
}

func (s strip) draw(w *writer, d reduction.DirectionResult) page.Plot {
	var lanes []lane
	for _, r := range w.shownRounds() {
		if own, ok := r.Direction(d.Target); ok {
			lanes = append(lanes, lane{r.Number, own.Sub(d.Direction).Seconds(), r.LeftOut != nil})
		}
	}
	limit := w.red.Comparison.Limit.Seconds()
	middle := most(lanes, limit)
	x := func(off float64) float64 { return s.mm * (0.5 + panel*(off-middle)/limit) }
	lo, hi := s.mm*(0.5-panel/2), s.mm*(0.5+panel/2)
	var b strings.Builder
	fmt.Fprintf(&b, `<rect class="band" x="%.2f" y="0" width="%.2f" height="%g"/><path class="bar" d="M%.2f 0V%gM%.2f 0V%g"/>`, lo, hi-lo, s.row, lo, s.row, hi, s.row)
	for i, l := range lanes {
		y := s.row * (float64(i) + 1) / float64(len(lanes)+1)
		r := min(0.45, s.row/float64(2*len(lanes)+1))
		switch at := x(l.off); {
		case at < 0:
			fmt.Fprintf(&b, `<path class="side" d="M1.2 %.2fl-.9 .6l.9 .6"/>`, y-.6)
		case at > s.mm:
			fmt.Fprintf(&b, `<path class="side" d="M%.2f %.2fl.9 .6l-.9 .6"/>`, s.mm-1.2, y-.6)
		case l.out:
			fmt.Fprintf(&b, `<circle class="ring" cx="%.2f" cy="%.2f" r="%.2f"/>`, at, y, r)
		default:
			fmt.Fprintf(&b, `<circle cx="%.2f" cy="%.2f" r="%.2f"/>`, at, y, r)
		}
	}
	return page.Plot{SVG: template.HTML(b.String()), Width: s.mm, Height: s.row, Alt: w.stripWords(d, lanes)}
}

// most is the middle of the rounds that fit between the bars where most of them
// do.
func most(lanes []lane, limit float64) float64 {
	best, middle := 0, 0.0
	for _, from := range lanes {
		n, hi := 0, from.off
		for _, l := range lanes {
			if !l.out && l.off >= from.off && l.off <= from.off+limit {
				n, hi = n+1, max(hi, l.off)
			}
		}
		if n > best {
			best, middle = n, (from.off+hi)/2
		}
	}
	return middle
}

// stripWords tell what the strip shows.
func (w *writer) stripWords(d reduction.DirectionResult, lanes []lane) string {
	unit := reduce.SmallMark(w.unit())
	var parts []string
	for _, l := range lanes {
		r, _ := w.setup.Round(l.round)
		text := fmt.Sprintf("round %d %s%s", l.round, w.departure(reduction.WorkRound(w.setup, r), d), unit)
		if l.out {
			text += " left out"
		}
		parts = append(parts, text)
	}
	text := d.Target + ": " + strings.Join(parts, ", ")
	if d.Compared > 1 {
		text += fmt.Sprintf("; spread %s%s against the limit of %s", w.unsigned(d.Spread, 1), unit, w.size(w.red.Comparison.Limit))
	}
	return text
}
