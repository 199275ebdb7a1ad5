package reports

import (
	"math"

	"example.org/readback/booking/network"
	"example.org/readback/reduce/places"
)

// A Together is everything booked in one adjustment.
type Together struct {
	Agrees       bool          `json:"agrees"`
	Verdict      string        `json:"verdict"`
	Again        string        `json:"again,omitempty" what:"what to measure again"`
	Datum        string        `json:"datum,omitempty"`
	Dof          int           `json:"dof"`
	S0Squared    *float64      `json:"s0_squared,omitempty"`
	Low          *float64      `json:"s0_squared_low,omitempty" what:"its limits by chi square"`
	High         *float64      `json:"s0_squared_high,omitempty"`
	Places       []PlaceAt     `json:"places"`
	Observations []Observation `json:"observations"`
	Heights      []HeightAt    `json:"heights"`
	Next         string        `json:"next,omitempty" what:"what one more round would bring"`
}

// A PlaceAt is an adjusted place with the ellipse that holds it with a chance of 95 %.
type PlaceAt struct {
	Name    string   `json:"name"`
	East    *float64 `json:"east_m,omitempty"`
	North   *float64 `json:"north_m,omitempty"`
	Held    bool     `json:"held"`
	Major   *float64 `json:"semi_major_95_m,omitempty"`
	Minor   *float64 `json:"semi_minor_95_m,omitempty"`
	Bearing *float64 `json:"ellipse_bearing_deg,omitempty"`
}

// An Observation is one observation judged: seconds for directions and bearings,
// metres for the rest.
type Observation struct {
	Kind       string   `json:"kind" what:"direction, distance, bearing, east or north"`
	Setup      int      `json:"setup,omitempty"`
	From       string   `json:"from"`
	To         string   `json:"to,omitempty"`
	Residual   *float64 `json:"residual,omitempty" what:"adjusted less observed"`
	Redundancy *float64 `json:"redundancy,omitempty"`
	W          *float64 `json:"w,omitempty" what:"residual over its own standard deviation; none where nothing checks it"`
	Detectable *float64 `json:"detectable,omitempty" what:"smallest slip that would show; none where nothing checks it"`
}

// A HeightAt is a height of the weighted network.
type HeightAt struct {
	Name   string   `json:"name"`
	Height *float64 `json:"height_m,omitempty"`
	SD     *float64 `json:"sd_m,omitempty"`
}

// togetherOf returns the JSON of the adjustment of everything; nil where nothing was
// sighted.
func togetherOf(t *network.Together) *Together {
	if t == nil {
		return nil
	}
	out := &Together{Agrees: !t.Failed, Verdict: t.Verdict(), Places: []PlaceAt{}, Observations: []Observation{}, Heights: []HeightAt{}, Next: t.Next()}
	if t.Failed {
		out.Again = t.Again()
	}
	if h := t.Heights; h != nil {
		for i, x := range h.Heights {
			if !h.Lost[i] {
				out.Heights = append(out.Heights, HeightAt{t.HeightNames[i], rounded(x), rounded(h.SD[i])})
			}
		}
	}
	a := t.Adjusted
	if a == nil {
		return out
	}
	out.Datum, out.Dof = t.Datum(), a.Dof
	if g := a.Global; g.Possible {
		out.S0Squared, out.Low, out.High = rounded(g.Statistic), rounded(g.Low), rounded(g.High)
	}
	for i, p := range a.Places {
		if t.Placed[i] && !p.Lost {
			e := t.Ellipse95(p)
			out.Places = append(out.Places, PlaceAt{t.Names[i], rounded(p.At.E), rounded(p.At.N), p.Fixed, rounded(e.A), rounded(e.B), rounded(e.Bearing.Degrees())})
		}
	}
	for i, r := range a.Residuals {
		if r.Used {
			out.Observations = append(out.Observations, observationOf(t.Observed[i], r))
		}
	}
	return out
}

func observationOf(o network.Observed, r places.Residual) Observation {
	words := map[places.Kind]string{places.Direction: "direction", places.Distance: "distance", places.Bearing: "bearing", places.East: "east", places.North: "north"}
	scale := 1.0
	if o.Kind == places.Direction || o.Kind == places.Bearing {
		scale = 180 * 3600 / math.Pi
	}
	j := Observation{Kind: words[o.Kind], Setup: o.Setup, From: o.From, To: o.To, Residual: rounded(r.V * scale), Redundancy: rounded(r.Redundancy)}
	if r.Checked() {
		j.W, j.Detectable = rounded(r.W), rounded(r.Detectable*scale)
	}
	return j
}
