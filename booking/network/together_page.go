package network

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/readback/booking/page"
	"example.org/readback/reduce/places"
)

// mostObservations bounds the table of observations of a page.
const mostObservations = 60

// set sets the adjustment of everything: how it stands, places with their ellipses,
// heights, and every observation judged.
func (t *Together) set(p *page.Page) {
	if t == nil || len(t.setups) < 2 && t.knownSeen == 0 {
		return
	}
	p.Add(page.Gap{})
	p.Say("", "Everything together, by least squares")
	mark, role := "  + ", page.Base
	if t.Failed {
		mark, role = "  ! ", page.Stop
	}
	p.Add(page.Para{Lead: mark, Text: t.Verdict() + " (" + t.risks() + ")", Role: role})
	if t.Failed {
		p.Say("    ", upper(t.Again())+".")
	}
	if t.Adjusted == nil {
		return
	}
	p.Say("  ", t.Datum())
	t.setPlaces(p)
	t.setComponents(p)
	for _, s := range []string{t.taken(), t.unchecked(), t.Next()} {
		if s != "" {
			p.Say("  ", s)
		}
	}
	for _, w := range t.Danger {
		p.Say("  ! ", fmt.Sprintf("%s lies near the circle through the marks it is placed by (%.3f of the radius off it): its place is weak. Sight another mark, or measure a distance.", w.Station, w.Danger))
	}
	t.setObservations(p)
	t.setLevels(p)
}

// setPlaces prints the places and the ellipses that hold them with a chance of 95 %.
func (t *Together) setPlaces(p *page.Page) {
	var rows [][]string
	var lost []string
	for i, x := range t.Adjusted.Places {
		switch {
		case x.Lost || !t.Placed[i]:
			lost = append(lost, t.Names[i])
			continue
		case x.Fixed:
			rows = append(rows, []string{t.Names[i], minus(x.At.E), minus(x.At.N), "held"})
			continue
		}
		note := ellipse(t.Ellipse95(x))
		if t.known[i] {
			note += " known"
		}
		rows = append(rows, []string{t.Names[i], minus(x.At.E), minus(x.At.N), note})
	}
	p.Add(page.Gap{}, tableOf(rows, page.Column{Head: "Place", Cols: 16},
		number("E m", 14), number("N m", 14), number("Ellipse 95 % mm", 24)))
	if len(lost) > 0 {
		p.Say("  ", "No place follows yet for "+list(lost)+".")
	}
}

// setComponents says what the residuals say of the standard deviations.
func (t *Together) setComponents(p *page.Page) {
	for i, word := range []string{"directions", "distances"} {
		if c := t.Parts[i]; c.Factor > 0 {
			p.Say("  ", fmt.Sprintf("The %s scatter %.2f times as much as their standard deviations say (from %.1f more than needed).", word, c.Factor, c.Redundancy))
		}
	}
	if !t.Stated {
		p.Say("  ", "The σ of directions is not stated and the rounds are too few to say it: it is taken from the least count.")
	}
	if t.pope() {
		p.Say("  ", "The scatter is larger than that: single observations are judged by it (τ), and the ellipses grow with it.")
	}
}

// setObservations prints every observation with its residual, the normalised one, the
// redundancy and the smallest slip that would show; the largest w first where there
// are too many.
func (t *Together) setObservations(p *page.Page) {
	order := make([]int, 0, len(t.Observed))
	for i, r := range t.Adjusted.Residuals {
		if r.Used {
			order = append(order, i)
		}
	}
	cut := len(order) > mostObservations
	if cut {
		slices.SortStableFunc(order, func(a, b int) int {
			return cmp.Compare(math.Round(t.Adjusted.Residuals[b].W*1e6), math.Round(t.Adjusted.Residuals[a].W*1e6))
		})
		order = order[:mostObservations]
		slices.Sort(order)
	}
	var rows [][]string
	for _, i := range order {
		o, r := t.Observed[i], t.Adjusted.Residuals[i]
		what := o.From + " " + o.To
		switch o.Kind {
		case places.East:
			what = o.From + " E known"
		case places.North:
			what = o.From + " N known"
		case places.Bearing:
			what = o.From + " " + o.To + " known"
		case places.Distance:
			what = o.From + "–" + o.To
		}
		w := "–"
		if r.Checked() {
			w = fmt.Sprintf("%.2f", t.test(r))
		}
		rows = append(rows, []string{what, residual(o.Kind, r.V, t.unit), w, fmt.Sprintf("%.2f", r.Redundancy), residual(o.Kind, r.Detectable, t.unit)})
	}
	p.Add(page.Gap{}, tableOf(rows, page.Column{Head: "Observation", Cols: 26},
		number("v", 12), number(t.testName(), 7), number("r", 6), number("slip that shows", 17)))
	if cut {
		p.Say("  ", fmt.Sprintf("The %d with the largest w of %d.", mostObservations, len(t.Observed)))
	}
	p.Say("  ", fmt.Sprintf("v adjusted − observed; %s beyond %.2f does not fit; r the part of a slip that shows.", t.testName(), t.testLimit()))
}

// setLevels prints the heights of the weighted network.
func (t *Together) setLevels(p *page.Page) {
	h := t.Heights
	if h == nil {
		return
	}
	var rows [][]string
	for i, x := range h.Heights {
		if h.Lost[i] {
			continue
		}
		note := "given"
		if h.SD[i] > 0 {
			note = metres(h.SD[i])
		}
		rows = append(rows, []string{t.HeightNames[i], minus(x), note})
	}
	p.Add(page.Gap{})
	text := t.heightsVerdict()
	if h.Free {
		text += " No height is known: the first is given 0."
	}
	p.Say("  ", text)
	p.Add(tableOf(rows, page.Column{Head: "Point", Cols: 16}, number("Height m", 14), number("σ", 12)))
}
