package network

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/reduce"
	"example.org/readback/reduce/places"
)

// check is the sentence that speaks against lifting the tripod: the adjustment
// fails, and the setup that still stands is concerned. ok is false otherwise.
func (t *Together) check() (c check.Check, ok bool) {
	if t == nil || !t.Failed || !t.concerned() {
		return c, false
	}
	return check.Check{Name: "network", Text: t.Verdict(), Again: t.Again(), From: t.risks()}, true
}

// concerned tells whether the setup that still stands may be what is wrong: an
// explanation names it, or nothing is named.
func (t *Together) concerned() bool {
	if t.setups[t.current] == nil {
		return false
	}
	if len(t.Search.Best) == 0 || !t.Search.Explains {
		return true
	}
	return slices.ContainsFunc(t.Search.Best, t.here)
}

// here tells whether an explanation can be looked at from the tripod that stands.
func (t *Together) here(e places.Explanation) bool {
	part := t.setups[t.current]
	if part == nil {
		return false
	}
	for _, i := range e.Observations {
		o := t.Observed[i]
		if o.Setup == t.current || o.Kind == places.Distance && o.To == part.summary.Station {
			return true
		}
	}
	switch e.Fault {
	case places.OneStation:
		return e.Set == part.set
	case places.OnePoint:
		name := t.Names[e.Point]
		return name == part.summary.Station || slices.ContainsFunc(t.Observed, func(o Observed) bool { return o.Setup == t.current && o.To == name })
	}
	return false
}

// Verdict says how the adjustment stands.
func (t *Together) Verdict() string {
	switch {
	case t.Adjusted == nil:
		return "The network does not settle: an observation or a name is grossly wrong. " + t.cause()
	case t.Adjusted.Dof == 0:
		return "Nothing checks the network: there are no more observations than it needs."
	case !t.Failed:
		return "The network agrees: " + t.global() + "."
	}
	text := "The network does not agree: " + t.global() + "."
	if g := t.Adjusted.Global; g.Statistic <= t.mostS0Squared() {
		text = "One observation does not fit the network, which agrees as a whole: " + t.global() + "."
	}
	return text + " " + t.cause()
}

// global says s₀² with its limits.
func (t *Together) global() string {
	g := t.Adjusted.Global
	text := fmt.Sprintf("s₀² %.2f, limits %.2f and %.2f with %d more observations than needed", g.Statistic, g.Low, g.High, t.Adjusted.Dof)
	if g.Statistic < g.Low {
		text += "; the standard deviations are stated larger than they are"
	}
	if !t.Stated && g.Statistic > g.High {
		text += fmt.Sprintf("; σ is assumed, not known: s₀² counts only over %.2f", t.mostS0Squared())
	}
	return text
}

func (t *Together) risks() string {
	return fmt.Sprintf("χ² at %g %%, single observations at %g %% risk", 100*t.limits.GlobalRisk, 100*t.limits.LocalRisk)
}

// cause names what explains the misfit; what cannot be told apart is told together.
func (t *Together) cause() string {
	best := t.phrases()
	switch {
	case len(best) == 0:
		return "No one thing explains it."
	case !t.Search.Explains:
		return "No one thing explains all of it; without " + best[0] + " most of the misfit is gone."
	case len(best) == 1:
		return "One thing explains it: " + best[0] + "."
	}
	return "It cannot be told which is wrong: each of these alone explains it: " + strings.Join(best, "; ") + "."
}

// phrases names the explanations, each once. The two directions of a set that has
// no others are the angle between them.
func (t *Together) phrases() []string {
	var out []string
	for _, e := range t.Search.Best {
		if s := t.phrase(e); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	const most = 6
	if len(out) > most {
		out = append(out[:most], fmt.Sprintf("and %d more", len(out)-most))
	}
	return out
}

func (t *Together) phrase(e places.Explanation) string {
	switch e.Fault {
	case places.OneObservation:
		return t.observation(e.Observations[0])
	case places.OneSight:
		o := t.Observed[e.Observations[0]]
		return fmt.Sprintf("the sight of %s from %s (setup %d), another mark or a wrong name", o.To, o.From, o.Setup)
	case places.OneLine:
		o := t.Observed[e.Observations[0]]
		return fmt.Sprintf("the distances of the line %s–%s, all alike", o.From, o.To)
	case places.AngleAndLength:
		return t.observation(e.Observations[0]) + " together with " + t.observation(e.Observations[1])
	case places.OnePoint:
		return "the coordinates of " + t.Names[e.Point]
	}
	return fmt.Sprintf("the place of the instrument at %s (setup %d)", t.Names[e.Point], t.setupOf(e.Set))
}

// observation names one observation.
func (t *Together) observation(i int) string {
	o := t.Observed[i]
	switch o.Kind {
	case places.Distance:
		return fmt.Sprintf("the distance %s–%s (setup %d)", o.From, o.To, o.Setup)
	case places.Bearing:
		return fmt.Sprintf("the known bearing from %s to %s", o.From, o.To)
	case places.Direction:
		if m := t.setups[o.Setup].summary; len(m.Sights) == 2 {
			return fmt.Sprintf("the angle at %s between %s and %s (setup %d)", o.From, m.Sights[0].Target, m.Sights[1].Target, o.Setup)
		}
		return fmt.Sprintf("the direction from %s to %s (setup %d)", o.From, o.To, o.Setup)
	}
	return "the coordinates of " + o.From
}

func (t *Together) setupOf(set int) int {
	for number, p := range t.setups {
		if p.set == set {
			return number
		}
	}
	return 0
}

// Again says what to measure again, from the tripod that stands where it can be.
func (t *Together) Again() string {
	if len(t.Search.Best) == 0 || !t.Search.Explains {
		return "look at the names and at the known coordinates, then observe the stations again one by one"
	}
	for _, e := range t.Search.Best {
		if t.here(e) {
			return "before this tripod is lifted, " + t.remedy(e)
		}
	}
	return t.remedy(t.Search.Best[0])
}

func (t *Together) remedy(e places.Explanation) string {
	switch e.Fault {
	case places.OnePoint:
		return "check the coordinates of " + t.Names[e.Point] + " and which mark is sighted under that name"
	case places.OneStation:
		return fmt.Sprintf("check which mark the instrument stands over at %s", t.Names[e.Point])
	}
	o := t.Observed[e.Observations[0]]
	switch {
	case e.Fault == places.OneSight:
		return fmt.Sprintf("ask which mark is sighted as %s from %s, and sight it again", o.To, o.From)
	case o.Kind == places.Distance:
		return fmt.Sprintf("measure the distance %s–%s again, from either end, and its vertical circle", o.From, o.To)
	case o.Kind == places.Bearing:
		return fmt.Sprintf("check the known bearing from %s to %s", o.From, o.To)
	}
	text := fmt.Sprintf("observe %s again from %s with another target beside it", o.To, o.From)
	if e.Fault == places.AngleAndLength {
		d := t.Observed[e.Observations[1]]
		text += fmt.Sprintf(", and measure the distance %s–%s again", d.From, d.To)
	}
	return text
}

// Datum says what the network stands on.
func (t *Together) Datum() string {
	a := t.Adjusted
	switch {
	case a.Free && a.Turned:
		return "Datum: no known station; free, the bearing known."
	case a.Free:
		return "Datum: free, no known station and no known bearing: places and ellipses are against each other (inner constraints)."
	case a.Known == 1 && !a.Turned:
		return "Datum: one known station; turned freely about it."
	case a.Known == 1:
		return "Datum: one known station and a known bearing."
	}
	return fmt.Sprintf("Datum: %d known stations.", a.Known)
}

// unchecked lists what nothing checks.
func (t *Together) unchecked() string {
	var out []string
	for i, r := range t.Adjusted.Residuals {
		if r.Used && !r.Checked() && t.Observed[i].Setup > 0 {
			if s := t.observation(i); !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	if len(out) == 0 {
		return ""
	}
	const most = 8
	if len(out) > most {
		out = append(out[:most], fmt.Sprintf("and %d more", len(out)-most))
	}
	return "Nothing checks: " + strings.Join(out, ", ") + "."
}

// weakest returns the largest half axis of an ellipse of 95 %, and whose it is.
func (t *Together) weakest(a *places.Adjusted) (float64, string) {
	largest, name := 0.0, ""
	for p, x := range a.Places {
		if e := t.Ellipse95(x); !x.Lost && e.A > largest+1e-7 {
			largest, name = e.A, t.Names[p]
		}
	}
	return largest, name
}

// metres prints a small length in millimetres, or in metres from 1 m on.
func metres(m float64) string {
	if m >= 1 {
		return fmt.Sprintf("%.2f m", m)
	}
	return fmt.Sprintf("%.1f mm", 1000*m)
}

// residual prints a residual or a slip in the small unit of its kind.
func residual(k places.Kind, v float64, u reduce.Unit) string {
	switch {
	case math.IsInf(v, 1):
		return "none shows"
	case k == places.Direction || k == places.Bearing:
		return negative(v, reduce.FormatDeviation(math.Abs(reduce.FromRadians(v).Seconds()), u, 1))
	}
	return negative(v, fmt.Sprintf("%.1f mm", math.Abs(1000*v)))
}

// negative sets a minus before the size of a negative value; nothing before a nought.
func negative(v float64, size string) string {
	if v < 0 && strings.ContainsAny(size, "123456789") {
		return "−" + size
	}
	return size
}

// taken says with which standard deviations and where they are set.
func (t *Together) taken() string {
	s := t.settings
	direction := "as stated, or from the rounds"
	if s.AngleSD > 0 {
		direction = small(s.AngleSD, t.unit) + ", set"
	}
	known := metres(s.KnownSD)
	if s.KnownSD <= 0 || t.knownSeen == 1 {
		known = "held"
	}
	return fmt.Sprintf("σ: one direction of one round %s; distances %s + %g ppm where none is stated; centring %s; known stations %s; known bearings %s.",
		direction, metres(s.LengthSD), s.LengthPPM, metres(s.Centring), known, small(s.BearingSD, t.unit))
}
