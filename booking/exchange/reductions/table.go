package reductions

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/instrument"
	"example.org/readback/reduce"
)

// Table writes the reductions of a setup as text: every round with its readings,
// the directions, the verticals, the verdict with its reasons and the limits
// with their sources. named is as for Of.
func Table(w io.Writer, s booking.Setup, named bool) error {
	r := s.Reduce()
	p := &page{form: formOf(s)}
	p.head(s, named)
	for _, round := range r.Rounds {
		p.round(round, s)
	}
	p.directions(s, r)
	p.verticals(r)
	p.verdict(check.JudgeReduction(s, r))
	p.suspects(s)
	p.limits()
	_, err := io.WriteString(w, p.text.String())
	return err
}

// A page gathers the text of one setup.
type page struct {
	form
	text strings.Builder
}

func (p *page) line(format string, args ...any) {
	p.text.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " ") + "\n")
}

func (p *page) head(s booking.Setup, named bool) {
	i := s.Spec.Instrument
	p.line("Setup %d: %s", s.Number, s.Spec.Station)
	if named {
		p.line("Reference object %s", s.Spec.RO)
	}
	unit := "degrees, minutes, seconds"
	if i.Unit == reduce.GonUnit {
		unit = "gon"
	}
	p.line("Read in %s; least count %s; vertical circle from the %s", unit, p.unsigned(i.LeastCount), i.Circle)
}

func (p *page) round(w booking.RoundWork, s booking.Setup) {
	p.line("")
	switch {
	case w.Void != nil:
		p.line("Round %d, void: %s", w.Number, w.Void.Reason)
	case w.LeftOut != nil:
		p.line("Round %d, left out: %s", w.Number, w.LeftOut.Reason)
	default:
		p.line("Round %d", w.Number)
	}
	rows := [][]string{{"target", "FL", "FR", "2c", "mean", "direction"}}
	for _, q := range w.Pairs {
		if q.FL == nil && q.FR == nil {
			continue
		}
		row := []string{q.Target, reading(q.FL, p.spec), reading(q.FR, p.spec), "", "", ""}
		if q.Closing {
			row[0] += " (closing)"
		}
		if q.HasPair {
			row[3], row[4] = p.small(q.TwoC), p.direction(q.Mean)
		}
		if q.HasDirection {
			row[5] = p.direction(q.Direction)
		}
		rows = append(rows, row)
	}
	p.table(rows)
	for i, m := range []*reduce.Angle{w.ClosingFL, w.ClosingFR} {
		if m != nil {
			p.line("  %s closes with %s", []string{"FL", "FR"}[i], p.small(*m))
		}
	}
	for _, q := range s.Readings {
		if q.Struck != nil && q.Slot.Round == w.Number {
			p.line("  struck: %s %s %s (%s)", q.Slot.Face, q.Slot.Target, reading(&q, p.spec), q.Struck.Reason)
		}
	}
}

func (p *page) directions(s booking.Setup, r booking.Reduction) {
	if len(r.Directions) == 0 {
		return
	}
	p.line("")
	p.line("Directions from %s", p.spec.RO)
	rows := [][]string{{"target", "direction", "sd", "spread", "rounds", ""}}
	for _, d := range r.Directions {
		row := []string{d.Target, p.direction(d.Direction), "", "", fmt.Sprint(d.Rounds), ""}
		if r.Dof > 0 {
			row[2] = p.deviation(d.SD)
		}
		if d.Compared > 1 {
			row[3], row[5] = p.unsigned(d.Spread), "agrees"
			if !d.Agrees {
				row[5] = "does not agree"
			}
		}
		rows = append(rows, row)
	}
	p.table(rows)
	if r.Dof > 0 {
		p.line("  One direction, both faces, one round: s₀ = %s from %d degrees of freedom. sd is that of the angle from %s.", p.deviation(r.S0), r.Dof, p.spec.RO)
	}
	for _, t := range append(check.PrecisionOf(s, r).Sentences(), instrument.SampleOf(s).Sentences()...) {
		p.line("  %s", t)
	}
}

func (p *page) verticals(r booking.Reduction) {
	if len(r.Verticals) == 0 {
		return
	}
	p.line("")
	p.line("Verticals and distances")
	rows := [][]string{{"target", "FL", "FR", "altitude", "index", "gradient", "slope m", "horizontal m", "", "height difference m", ""}}
	if i := p.spec.Instrument; i.Sigma > 0 && i.DistanceSD > 0 {
		rows[0][8], rows[0][10] = "sd mm", "sd mm"
	}
	for _, v := range r.Verticals {
		row := []string{v.Target, reading(v.FL, p.spec), reading(v.FR, p.spec), "", "", "", "", "", "", "", ""}
		if v.HasPair {
			row[3] = p.altitude(v.Altitude)
			row[4], row[5] = p.small(v.Index), gradient(v.Gradient)
		}
		if v.Slope != nil {
			row[6] = fmt.Sprintf("%.3f", v.Slope.Length().Metres())
		}
		if v.HasHorizontal {
			row[7] = fmt.Sprintf("%.3f", v.Horizontal)
		}
		if v.HorizontalSD > 0 {
			row[8] = fmt.Sprintf("%.1f", 1000*v.HorizontalSD)
		}
		if v.HasRise {
			row[9] = signed("%+.3f", v.Rise)
		}
		if v.RiseSD > 0 {
			row[10] = fmt.Sprintf("%.1f", 1000*v.RiseSD)
		}
		rows = append(rows, row)
	}
	p.table(rows)
}

func (p *page) verdict(v check.Verdict) {
	p.line("")
	if v.Lift {
		p.line("Verdict: Lift. Every check is met.")
		return
	}
	p.line("Verdict: Hold.")
	for _, c := range v.Checks {
		if c.Met {
			continue
		}
		p.line("  - %s", c.Text)
		if c.Again != "" {
			p.line("    To do: %s.", c.Again)
		}
	}
}

// suspects names the readings that explain a misfit and what settles it.
func (p *page) suspects(s booking.Setup) {
	found := check.Culprits(s)
	if len(found.Suspects) == 0 {
		return
	}
	p.line("")
	p.line("What does not fit")
	for _, k := range found.Suspects {
		p.line("  - %s", k.Text)
	}
	if found.Remedy.Text != "" {
		p.line("    To settle it: %s", found.Remedy.Text)
	}
}

func (p *page) limits() {
	l := p.spec.Limits
	p.line("")
	p.line("Limits")
	rows := [][]string{{"check", "limit", "from"}}
	for _, k := range []struct {
		name string
		booking.Limit
	}{{"rounds agree", l.Rounds}, {"RO misclosure", l.ROMisclosure}, {"spread of 2c", l.TwoC}, {"spread of index error", l.Index}, {"figure, times √n angles", l.Figure}} {
		rows = append(rows, []string{k.name, p.unsigned(k.Value), k.From})
	}
	p.table(rows)
	if p.spec.CloseHalves {
		rule := "the mean of its opening and closing means"
		if p.spec.ClosingRule == reduce.ClosingSpread {
			rule = "its opening mean, with the closing error spread over the round"
		}
		p.line("  The direction of %s in a round is %s.", p.spec.RO, rule)
	}
}

// table writes rows in columns two spaces apart: names to the left, figures to
// the right, empty columns not at all.
func (p *page) table(rows [][]string) {
	var width []int
	var figures []bool
	for n, row := range rows {
		for i, cell := range row {
			if i == len(width) {
				width, figures = append(width, 0), append(figures, false)
			}
			width[i] = max(width[i], utf8.RuneCountInString(cell))
			figures[i] = figures[i] || i > 0 && n > 0 && endsInFigures(cell)
		}
	}
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			if width[i] == 0 {
				continue
			}
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
			if figures[i] {
				cell, pad = pad+cell, ""
			}
			b.WriteString("  " + cell + pad)
		}
		p.line("%s", b.String())
	}
}

// endsInFigures tells whether a cell holds a figure.
func endsInFigures(cell string) bool {
	r, _ := utf8.DecodeLastRuneInString(cell)
	return r >= '0' && r <= '9' || r == '″' || r == '%' || strings.HasSuffix(cell, " mgon")
}

// small prints a small angle with its sign: in seconds, or in milligon for a
// circle in gon; whole where that is exact, else with one decimal.
func (p *page) small(a reduce.Angle) string {
	return a.FormatSmall(p.spec.Instrument.Unit)
}

func (p *page) unsigned(a reduce.Angle) string { return a.FormatSize(p.spec.Instrument.Unit) }

// deviation prints a standard deviation given in seconds.
func (p *page) deviation(seconds float64) string {
	if p.spec.Instrument.Unit != reduce.GonUnit {
		return fmt.Sprintf("%.1f″", seconds)
	}
	return fmt.Sprintf("%.2f mgon", seconds/reduce.Milligon.Seconds())
}

// signed prints a number with a minus sign that is one.
func signed(format string, v float64) string {
	return strings.Replace(fmt.Sprintf(format, v), "-", "−", 1)
}

// gradient prints a gradient; straight up or down there is none.
func gradient(percent float64) string {
	if math.IsInf(percent, 0) {
		return "plumb"
	}
	return signed("%+.3f %%", percent)
}
