package reductions

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/faces"
)

// A Printer writes the reductions of one setup after the other, in room that it takes
// again. The zero value is ready.
type Printer struct {
	press page.Press
	writer
}

// Table writes the reductions of a setup as text: every round with its readings,
// the directions, the verticals, the verdict with its reasons and the limits
// with their sources. named is as for Of.
func (p *Printer) Table(w io.Writer, s booking.Setup, named bool) error {
	r := reduction.Of(s)
	p.begin(formOf(s))
	p.head(s, named)
	for _, round := range r.Rounds {
		p.round(round, s)
	}
	p.directions(s, r)
	p.verticals(r)
	v := check.JudgeReduction(s, r)
	p.verdict(v)
	p.suspects(v)
	p.limits(r.Comparison.Limits)
	return p.press.Text(w, p.page, 0)
}

// A writer sets the page of one setup.
type writer struct {
	form
	page page.Page
	room []string // for the rows of the tables
	used int      // cells of it
	cols []page.Column
}

// begin begins the page of another setup.
func (p *writer) begin(f form) {
	clear(p.room[:p.used])
	p.form, p.page.Blocks, p.used, p.cols = f, p.page.Blocks[:0], 0, p.cols[:0]
}

// row takes a row of so many empty cells out of the room: a file of readings has some
// ten tables for each setup.
func (p *writer) row(n int) []string {
	if p.used+n > len(p.room) {
		p.room, p.used = make([]string, max(n, 2*len(p.room), 256)), 0
	}
	p.used += n
	return p.room[p.used-n : p.used : p.used]
}

// line says a sentence behind a lead.
func (p *writer) line(lead, format string, args ...any) {
	p.page.Say(lead, fmt.Sprintf(format, args...))
}

// part begins a part of the page with its title.
func (p *writer) part(format string, args ...any) {
	p.page.Add(page.Gap{})
	p.line("", format, args...)
}

func (p *writer) head(s booking.Setup, named bool) {
	i := s.Spec.Instrument
	p.line("", "Setup %d: %s", s.Number, s.Spec.Station)
	if named {
		p.line("", "Reference object %s", s.Spec.RO)
	}
	p.line("", "Read in %s; least count %s; vertical circle from the %s", i.Unit.Name(), p.unsigned(i.LeastCount), i.Circle)
	switch o := s.Spec.Order; o {
	case spec.ByHalves:
	case spec.ByRepetition:
		p.line("", "Observed by repetition, %d times on each face", s.Spec.Repetitions)
	default:
		p.line("", "Observed %s", o)
	}
}

func (p *writer) round(w reduction.RoundWork, s booking.Setup) {
	p.page.Add(page.Gap{})
	switch {
	case w.Void != nil:
		p.line("", "Round %d, void: %s", w.Number, w.Void.Reason)
	case w.LeftOut != nil:
		p.line("", "Round %d, left out: %s", w.Number, w.LeftOut.Reason)
	default:
		p.line("", "Round %d", w.Number)
	}
	rows := append(make([][]string, 0, 1+len(w.Pairs)), []string{"target", "FL", "FR", "2c", "mean", "direction"})
	for _, q := range w.Pairs {
		if q.FL == nil && q.FR == nil {
			continue
		}
		row := p.row(6)
		row[0], row[1], row[2] = q.Target, reading(q.FL, p.spec), reading(q.FR, p.spec)
		if q.Closing {
			row[0] += " (closing)"
		}
		if q.HasPair {
			row[3], row[4] = p.small(q.TwoC), p.direction(q.Mean)
		}
		if q.HasDirection {
			row[5] = p.direction(q.Direction)
		}
		if q.SumFL == nil && q.SumFR == nil {
			rows = append(rows, row)
			continue
		}
		sum := []string{fmt.Sprintf("  after %d", s.Spec.Repetitions), reading(q.SumFL, p.spec), reading(q.SumFR, p.spec), "", row[4], row[5]}
		row[4], row[5] = "", "" // the means are those of the repetitions
		rows = append(rows, row, sum)
	}
	p.table(rows)
	for _, x := range w.Repeated {
		p.line("  ", "%s mean of %d less the single angle: %s", x.Face, s.Spec.Repetitions, p.small(x.Off()))
	}
	for _, x := range w.Closings {
		on := ""
		if x.Target != p.spec.RO {
			on = " on " + x.Target
		}
		p.line("  ", "%s closes%s with %s", x.Face, on, p.small(x.Misclosure))
	}
	for _, q := range s.Readings {
		if q.Slot.Repeat > 0 && q.Slot.Round == w.Number && q.Counts() {
			p.line("  ", "read again: %s %s %s", q.Slot.Face, q.Slot.Target, reading(&q, p.spec))
		}
		if q.LeftOut != nil && q.Slot.Round == w.Number {
			p.line("  ", "left out: %s %s %s (%s)", q.Slot.Face, q.Slot.Target, reading(&q, p.spec), q.LeftOut.Reason)
		}
		if q.Struck != nil && q.Slot.Round == w.Number {
			p.line("  ", "struck: %s %s %s (%s)", q.Slot.Face, q.Slot.Target, reading(&q, p.spec), q.Struck.Reason)
		}
	}
}

func (p *writer) directions(s booking.Setup, r reduction.Reduction) {
	if len(r.Directions) == 0 {
		return
	}
	p.part("Directions from %s", p.spec.RO)
	rows := append(make([][]string, 0, 1+len(r.Directions)), []string{"target", "direction", "sd", "spread", "rounds", ""})
	for _, d := range r.Directions {
		row := p.row(6)
		row[0], row[1], row[4] = d.Target, p.direction(d.Direction), strconv.Itoa(d.Rounds)
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
		p.line("  ", "One direction, both faces, one round: s₀ = %s from %d degrees of freedom. sd is that of the angle from %s.", p.deviation(r.S0), r.Dof, p.spec.RO)
	}
	for _, t := range append(check.PrecisionOf(s, r).Sentences(), instrument.SampleFrom(s, r).Sentences()...) {
		p.line("  ", "%s", t)
	}
}

func (p *writer) verticals(r reduction.Reduction) {
	if len(r.Verticals) == 0 {
		return
	}
	p.part("Verticals and distances")
	rows := [][]string{{"target", "FL", "FR", "altitude", "index", "gradient", "slope m", "horizontal m", "", "height difference m", ""}}
	if i := p.spec.Instrument; i.Sigma > 0 && i.DistanceSD > 0 {
		rows[0][8], rows[0][10] = "sd mm", "sd mm"
	}
	for _, v := range r.Verticals {
		row := p.row(len(rows[0]))
		row[0], row[1], row[2] = v.Target, reading(v.FL, p.spec), reading(v.FR, p.spec)
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
			row[9] = decimal.Sprintf("%+.3f", v.Rise)
		}
		if v.RiseSD > 0 {
			row[10] = fmt.Sprintf("%.1f", 1000*v.RiseSD)
		}
		rows = append(rows, row)
	}
	p.table(rows)
	p.made(r)
}

// made prints the distances made right, where that is agreed.
func (p *writer) made(r reduction.Reduction) {
	if p.spec.Making == nil {
		return
	}
	rows := [][]string{{"target", "displayed m", "air", "prism", "to level", "sea level", "scale", "horizontal m"}}
	for _, v := range r.Verticals {
		if v.Work != nil {
			rows = append(rows, append([]string{v.Target}, v.Work.Lines()...))
		}
	}
	if len(rows) == 1 {
		return
	}
	p.part("Distances corrected")
	p.table(rows)
	for _, t := range r.MadeSentences(p.spec.Making, p.clock) {
		p.line("  ", "%s", t)
	}
}

// clock is the time of day of a note; a setup keyed afterwards has none.
func (p *writer) clock(at time.Time) string {
	if p.spec.KeyedAfterwards != nil {
		return ""
	}
	return at.UTC().Format("15:04 UTC")
}

func (p *writer) verdict(v check.Verdict) {
	p.page.Add(page.Gap{})
	if v.Lift {
		p.line("", "Verdict: Lift. Every check is met.")
		return
	}
	p.line("", "Verdict: Hold.")
	for _, c := range v.Checks {
		if c.Met {
			continue
		}
		p.line("  - ", "%s", c.Text)
		if c.Again != "" {
			p.line("    ", "To do: %s.", c.Again)
		}
	}
}

// suspects names the readings that explain a misfit and what settles it.
func (p *writer) suspects(v check.Verdict) {
	found := v.Culprits
	if len(found.Suspects) == 0 {
		return
	}
	p.part("What does not fit")
	for _, k := range found.Suspects {
		p.line("  - ", "%s", k.Text)
	}
	if found.Remedy.Text != "" {
		p.line("    ", "To settle it: %s", found.Remedy.Text)
	}
}

func (p *writer) limits(l spec.Limits) {
	p.part("Limits")
	rows := append(make([][]string, 0, 6), []string{"check", "limit", "from"})
	for _, k := range []struct {
		name string
		spec.Limit
	}{{"rounds agree", l.Rounds}, {"RO misclosure", l.ROMisclosure}, {"spread of 2c", l.TwoC}, {"spread of index error", l.Index}, {"figure, times √n angles", l.Figure}} {
		rows = append(rows, []string{k.name, p.unsigned(k.Value), k.From})
	}
	p.table(rows)
	if p.spec.CloseHalves {
		rule := "the mean of its opening and closing means"
		if p.spec.ClosingRule == faces.ClosingSpread {
			rule = "its opening mean, with the closing error spread over the round"
		}
		p.line("  ", "The direction of %s in a round is %s.", p.spec.RO, rule)
	}
}

// table sets rows in columns two spaces apart, the first row being the head:
// names to the left, figures to the right, empty columns not at all.
func (p *writer) table(rows [][]string) {
	n := len(p.cols) // where the room for columns is made anew, what stands keeps the old one
	for i, head := range rows[0] {
		c := page.Column{Head: head}
		for y := 1; y < len(rows) && i > 0 && !c.Right; y++ {
			c.Right = endsInFigures(rows[y][i])
		}
		p.cols = append(p.cols, c)
	}
	p.page.Add(page.Table{Indent: 2, Groups: page.Rows(rows[1:]...), Columns: p.cols[n:len(p.cols):len(p.cols)]})
}

// endsInFigures tells whether a cell holds a figure.
func endsInFigures(cell string) bool {
	r, _ := utf8.DecodeLastRuneInString(cell)
	return r >= '0' && r <= '9' || r == '″' || r == '°' || r == '%' || strings.HasSuffix(cell, " mgon") || strings.HasSuffix(cell, " mil")
}

// small prints a small angle with its sign: in seconds, or in milligon for a
// circle in gon; whole where that is exact, else with one decimal.
func (p *writer) small(a reduce.Angle) string {
	return a.FormatSmall(p.spec.Instrument.Unit)
}

func (p *writer) unsigned(a reduce.Angle) string { return a.FormatSize(p.spec.Instrument.Unit) }

// deviation prints a standard deviation given in seconds.
func (p *writer) deviation(seconds float64) string {
	return reduce.FormatDeviation(seconds, p.spec.Instrument.Unit, 1)
}

// gradient prints a gradient; straight up or down there is none.
func gradient(percent float64) string {
	if math.IsInf(percent, 0) {
		return "plumb"
	}
	return decimal.Sprintf("%+.3f %%", percent)
}
