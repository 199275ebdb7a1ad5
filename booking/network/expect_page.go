package network

import (
	"fmt"
	"math"
	"strings"

	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
)

// Page sets what a plan brings: places with their standard deviations and ellipses,
// what one more round buys, what nothing checks.
func (e *Expected) Page() page.Page {
	var p page.Page
	p.Say("", fmt.Sprintf("Expected of the %d planned setups, from the standard deviations alone: no reading is used", len(e.Setups)))
	p.Say("  ", e.Datum())
	p.Say("  ", e.taken())
	if !e.Stated {
		p.Say("  ", "The σ of directions is not stated and no rounds say it: it is taken from the least count. Say it with --direction-sd.")
	}
	var rows [][]string
	for i, x := range e.Adjusted.Places {
		if x.Lost {
			continue
		}
		east, north, note := "", "", "held"
		if !x.Fixed {
			east, north = fmt.Sprintf("%.1f", 1000*math.Sqrt(x.Covariance.EE)), fmt.Sprintf("%.1f", 1000*math.Sqrt(x.Covariance.NN))
			note = ellipse(x.Ellipse95())
		}
		if e.known[i] && !x.Fixed {
			note += " known"
		}
		rows = append(rows, []string{e.Names[i], minus(x.At.E), minus(x.At.N), east, north, note})
	}
	p.Add(page.Gap{}, tableOf(rows, page.Column{Head: "Place", Cols: 13},
		number("E m", 13), number("N m", 13), number("σE mm", 7), number("σN mm", 7), number("Ellipse 95 % mm", 22)))
	if s := e.heights(); s != "" {
		p.Say("  ", s)
	}
	if len(e.Lost) > 0 {
		p.Say("  ! ", "The plan does not fix the place of "+list(e.Lost)+": more sights or distances are needed, not more rounds.")
	}
	for _, s := range []string{e.next(), e.wanted(), e.unchecked()} {
		if s != "" {
			p.Say("  ", s)
		}
	}
	return p
}

// heights says the standard deviations that heights will have.
func (e *Expected) heights() string {
	h := e.Heights
	if h == nil {
		return ""
	}
	text, held := "σ of heights: ", ""
	if h.Free {
		for i := range h.SD {
			if held == "" && h.SD[i] == 0 && !h.Lost[i] {
				held = e.HeightNames[i]
			}
		}
		text = "No height is known: " + held + " is given one. σ of heights against it: "
	}
	var parts, lost []string
	for i, name := range e.HeightNames {
		switch {
		case h.Lost[i]:
			lost = append(lost, name)
		case h.SD[i] > 0:
			parts = append(parts, name+" "+metres(h.SD[i]))
		}
	}
	text += strings.Join(parts, ", ") + "."
	if len(lost) > 0 {
		text += " No height: " + list(lost) + "."
	}
	return text
}

// next says which place is the weakest and what one more round buys it.
func (e *Expected) next() string {
	switch {
	case e.Weakest == "":
		return ""
	case e.More == "" || metres(e.MoreTo) == metres(e.Within):
		return fmt.Sprintf("Weakest place: %s, within %s at 95 %%. One more round at any one setup brings it less than 0.1 mm nearer: centring, distances or known stations hold it there.", e.Weakest, metres(e.Within))
	}
	return fmt.Sprintf("Weakest place: %s, within %s at 95 %%. One more round at %s (line %d of the plan) helps most: %s.",
		e.Weakest, metres(e.Within), e.More, e.MoreAt, metres(e.MoreTo))
}

// wanted says how many rounds bring the weakest place within what is wanted.
func (e *Expected) wanted() string {
	switch {
	case e.Want == 0 || e.Weakest == "" || len(e.Lost) > 0:
		return ""
	case e.Rounds == 0:
		return fmt.Sprintf("Wanted: every place within %s at 95 %%. %d rounds at every setup, the most that can be planned, bring the weakest to %s: rounds alone do not reach it. More sights, distances or known stations are needed.",
			metres(e.Want), spec.MaxRounds, metres(e.Reached))
	}
	return fmt.Sprintf("Wanted: every place within %s at 95 %%. It takes %d rounds at every setup: the weakest is then within %s.", metres(e.Want), e.Rounds, metres(e.Reached))
}
