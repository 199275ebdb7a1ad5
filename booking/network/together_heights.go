package network

import (
	"fmt"

	"example.org/readback/booking/check"
	"example.org/readback/reduce/precision"
)

// likeWorst is the part of the largest w from which on a rise is told beside the one
// that fits worst: the two can hardly be told apart.
const likeWorst = 0.95

// heightsFailed tells whether the network of heights fails its test, or one rise its own.
func (t *Together) heightsFailed() bool {
	h := t.Heights
	if h == nil || h.Dof < 1 {
		return false
	}
	largest := 0.0
	for _, r := range h.Residuals {
		if r.Checked() {
			largest = max(largest, r.W)
		}
	}
	return h.Global.Possible && h.Global.Statistic > h.Global.High || largest > precision.NormalLimit(t.limits.LocalRisk)
}

// worstRises are the rises that fit worst, those that can hardly be told apart
// together: their numbers.
func (t *Together) worstRises() []int {
	largest := 0.0
	for _, r := range t.Heights.Residuals {
		if r.Checked() {
			largest = max(largest, r.W)
		}
	}
	var out []int
	for i, r := range t.Heights.Residuals {
		if r.Checked() && largest > 0 && r.W >= likeWorst*largest {
			out = append(out, i)
		}
	}
	return out
}

// heightCheck is the sentence that speaks against lifting the tripod: the heights do
// not agree, and one of those that fit worst is a rise of the setup that stands, or
// to its station. ok is false otherwise.
func (t *Together) heightCheck() (c check.Check, ok bool) {
	if t == nil || !t.heightsFailed() || t.setups[t.current] == nil {
		return c, false
	}
	here := t.setups[t.current].summary.Station
	again := ""
	for _, i := range t.worstRises() {
		switch o := t.Rises[i]; {
		case o.Setup == t.current:
			again = "before this tripod is lifted, measure the vertical circle, the distance and both heights to " + o.To + " again"
		case again == "" && o.Setup > 0 && (o.To == here || o.From == here):
			other := o.From
			if other == here {
				other = o.To
			}
			again = "before this tripod is lifted, measure the rise to " + other + " from here"
		}
	}
	if again == "" {
		return c, false
	}
	return check.Check{Name: "heights together", Text: t.heightsVerdict(), Again: again, From: t.risks()}, true
}

// heightsVerdict says how the network of heights stands.
func (t *Together) heightsVerdict() string {
	h := t.Heights
	if h.Dof < 1 {
		return "Heights together: nothing checks them."
	}
	numbers := fmt.Sprintf("s₀² %.2f, limits %.2f and %.2f with %d more than needed", h.Global.Statistic, h.Global.Low, h.Global.High, h.Dof)
	if !t.heightsFailed() {
		return "Heights together agree: " + numbers + "."
	}
	var names []string
	for _, i := range t.worstRises() {
		o := t.Rises[i]
		from := "levelled"
		if o.Setup > 0 {
			from = fmt.Sprintf("setup %d", o.Setup)
		}
		names = append(names, fmt.Sprintf("the rise %s–%s (%s)", o.From, o.To, from))
	}
	const most = 6
	if len(names) > most {
		names = append(names[:most], fmt.Sprintf("%d more", len(names)-most))
	}
	return "Heights together do not agree: " + numbers + ". Worst fits " + list(names) + "."
}
