package check

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// checkAgreement holds each target's spread over the used rounds against the
// limit.
func checkAgreement(s booking.Setup, r reduction.Reduction) []Check {
	var cs []Check
	for _, t := range r.Comparison.Targets {
		if len(t.Directions) < 2 {
			continue
		}
		c, word := agreement(t.Agrees, r)
		spread, limit := t.Spread.SizeAgainst(r.Comparison.Limit, s.Spec.Instrument.Unit)
		c.Text = fmt.Sprintf("The rounds %s on %s: spread %s, limit %s.", word, t.Target, spread, limit)
		cs = append(cs, c)
	}
	return cs
}

// agreement is a check whether rounds agree, and the word for how they stand.
func agreement(met bool, r reduction.Reduction) (c Check, word string) {
	c = Check{Name: "agreement", Met: met, From: r.Comparison.Limits.Rounds.From}
	if met {
		return c, "agree"
	}
	c.Again = "observe another round at the next circle setting"
	return c, "do not agree"
}

// checkWithoutRO holds the angles of each round without the RO against the limit.
func checkWithoutRO(s booking.Setup, r reduction.Reduction) []Check {
	var cs []Check
	for _, a := range r.Comparison.WithoutRO {
		c, word := agreement(a.Agrees, r)
		apart, limit := a.Spread.SizeAgainst(r.Comparison.Limit, s.Spec.Instrument.Unit)
		c.Text = fmt.Sprintf("Round %d lacks %s. Rounds %d and %d %s on the angle from %s to %s: difference %s, limit %s.",
			a.Round, s.Spec.RO, min(a.Round, a.Other), max(a.Round, a.Other), word, a.From, a.To, apart, limit)
		cs = append(cs, c)
	}
	return cs
}

// Apart says in one sentence on what the rounds of a setup with this spec do not
// agree, by how much each, and the limit, in the small unit of the circle with the
// decimals that show the judgement. It is empty where they agree.
func Apart(agreed spec.Spec, c reduction.Comparison) string {
	var on, by []string
	limit := ""
	add := func(what string, spread reduce.Angle) {
		much, most := spread.SizeAgainst(c.Limit, agreed.Instrument.Unit)
		on, by = append(on, what), append(by, much)
		if len(most) > len(limit) {
			limit = most
		}
	}
	for _, t := range c.Targets {
		if !t.Agrees {
			add(t.Target, t.Spread)
		}
	}
	for _, a := range c.WithoutRO {
		if !a.Agrees {
			add("the angle from "+a.From+" to "+a.To, a.Spread)
		}
	}
	switch len(on) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("The rounds do not agree on %s: spread %s, limit %s.", on[0], by[0], limit)
	}
	for i := range on {
		on[i] += " (spread " + by[i] + ")"
	}
	return fmt.Sprintf("The rounds do not agree on %s; limit %s.", strings.Join(on, ", "), limit)
}
