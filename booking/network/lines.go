package network

import (
	"fmt"

	"example.org/readback/booking/check"
)

// LineChecks returns a sentence for every reciprocal check.
func (r Report) LineChecks() []check.Check {
	var out []check.Check
	for _, l := range r.Lines {
		out = append(out, r.lineCheck(l)...)
	}
	return out
}

func (r Report) lineCheck(l Line) []check.Check {
	var out []check.Check
	name := l.From + "–" + l.To
	if d := l.Distance; d != nil {
		c := check.Check{Name: "distance", Met: d.Within(), From: r.distanceFrom}
		c.Text = fmt.Sprintf("%s: distance %.3f m, there and back %s apart, limit %s.", name, d.Mean, millimetres(d.Difference), millimetres(d.Limit))
		if !c.Met {
			e := endsOf(l, *d, false)
			c.Text = fmt.Sprintf("%s: distance %.3f m from %s, %.3f m from %s, there and back %s apart, limit %s.",
				name, e.there, l.From, e.back, l.To, millimetres(d.Difference), millimetres(d.Limit))
			if l.supports != "" {
				c.Text += " " + l.supports
			}
			c.Again = r.measure(l, "the distance")
		}
		out = append(out, c)
	}
	if h := l.Height; h != nil {
		c := check.Check{Name: "height", Met: h.Within(), From: r.heightFrom}
		c.Text = fmt.Sprintf("%s: rise %s m, there and back %s apart, limit %s.", name, signed(h.Mean), millimetres(h.Difference), millimetres(h.Limit))
		if !c.Met {
			e := endsOf(l, *h, true)
			c.Text = fmt.Sprintf("%s: rise %s m from %s, %s m from %s, there and back %s apart, limit %s.",
				name, e.says(l.From, e.there), l.From, e.says(l.To, e.back), l.To, millimetres(h.Difference), millimetres(h.Limit))
		}
		switch {
		case l.riseSupports != "": // it is a slip, which shows no refraction
			c.Text += " " + l.riseSupports
		case l.KSD > 0 && l.KSD < mostKSD:
			c.Text += fmt.Sprintf(" The pair shows a refraction k of %.2f, standard deviation %.2f.", l.K, l.KSD)
		}
		if !c.Met {
			c.Again = r.measure(l, "the vertical circle, the distance and both heights")
		}
		out = append(out, c)
	}
	return out
}

// mostKSD is the standard deviation beyond which a coefficient of refraction from
// one pair says nothing (its usual values lie between 0 and 0.3): short lines.
const mostKSD = 0.3

// measure says from where to measure a line again.
func (r Report) measure(l Line, what string) string {
	switch r.Current.Station {
	case "":
	case l.From:
		return fmt.Sprintf("before this tripod is lifted, measure %s to %s again", what, l.To)
	case l.To:
		return fmt.Sprintf("before this tripod is lifted, measure %s to %s again", what, l.From)
	}
	return fmt.Sprintf("measure %s again from %s or from %s", what, l.From, l.To)
}

// millimetres prints a length of metres as millimetres without its sign.
func millimetres(m float64) string {
	if m < 0 {
		m = -m
	}
	return fmt.Sprintf("%.0f mm", 1000*m)
}

// minus prints metres to the millimetre, with a minus sign where there is one.
func minus(m float64) string {
	if m < -0.0005 {
		return fmt.Sprintf("−%.3f", -m)
	}
	return fmt.Sprintf("%.3f", max(m, 0))
}

// signed prints metres with a sign.
func signed(m float64) string {
	switch {
	case m <= -0.0005:
		return fmt.Sprintf("−%.3f", -m)
	case m < 0.0005:
		return "0.000"
	}
	return fmt.Sprintf("+%.3f", m)
}
