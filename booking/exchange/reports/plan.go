package reports

import (
	"math"

	"example.org/readback/booking/network"
)

// Plans is what the plans of books bring, before anything is read.
type Plans struct {
	Books []PlanOfBook `json:"books"`
}

// A PlanOfBook is what the plan of one book brings.
type PlanOfBook struct {
	Book
	Setups  []PlannedSetup  `json:"setups"`
	Datum   string          `json:"datum"`
	Stated  bool            `json:"sigma_stated" what:"the standard deviation of a direction is stated or comes from rounds; else it is taken from the least count"`
	Places  []ExpectedPlace `json:"places"`
	Lost    []string        `json:"without_place" what:"points that the plan gives no place"`
	Weakest string          `json:"weakest,omitempty" what:"the place with the longest half axis, of those not known"`
	Within  *float64        `json:"weakest_semi_major_95_m,omitempty"`
	More    *OneMoreRound   `json:"one_more_round,omitempty" what:"where one more round helps the weakest place most; none where none does"`
	Wanted  *WantedRounds   `json:"wanted,omitempty"`
}

// A PlannedSetup is one line of the plan.
type PlannedSetup struct {
	Station string `json:"station"`
	Rounds  int    `json:"rounds"`
}

// An ExpectedPlace is a place with the standard deviations it will have.
type ExpectedPlace struct {
	PlaceAt
	Known bool     `json:"known"`
	SDE   *float64 `json:"sd_east_m,omitempty"`
	SDN   *float64 `json:"sd_north_m,omitempty"`
	SDH   *float64 `json:"sd_height_m,omitempty" what:"against the known heights; where none is known, against the first of the plan"`
}

// OneMoreRound is what one more round at a setup buys.
type OneMoreRound struct {
	Line    int      `json:"line" what:"of the plan, from 1"`
	Station string   `json:"station"`
	Within  *float64 `json:"weakest_semi_major_95_m,omitempty" what:"then"`
}

// WantedRounds is what a wanted precision takes.
type WantedRounds struct {
	Want    *float64 `json:"semi_major_95_m,omitempty"`
	Rounds  int      `json:"rounds,omitempty" what:"at every setup; left out where not even the most that can be planned reach it"`
	Reached *float64 `json:"weakest_semi_major_95_m,omitempty" what:"with those rounds, or with the most"`
}

// PlanOf returns the JSON of what a plan brings.
func PlanOf(b Book, e *network.Expected) PlanOfBook {
	out := PlanOfBook{Book: b, Setups: []PlannedSetup{}, Datum: e.Datum(), Stated: e.Stated, Places: []ExpectedPlace{}, Lost: []string{}, Weakest: e.Weakest}
	out.Lost = append(out.Lost, e.Lost...)
	for _, m := range e.Setups {
		out.Setups = append(out.Setups, PlannedSetup{m.Station, m.Sights[0].Rounds})
	}
	for i, p := range e.Adjusted.Places {
		if p.Lost {
			continue
		}
		x := p.Ellipse95()
		out.Places = append(out.Places, ExpectedPlace{
			PlaceAt{e.Names[i], rounded(p.At.E), rounded(p.At.N), p.Fixed, rounded(x.A), rounded(x.B), rounded(x.Bearing.Degrees())},
			e.Known(i), rounded(math.Sqrt(p.Covariance.EE)), rounded(math.Sqrt(p.Covariance.NN)), heightSD(e, i)})
	}
	if e.Weakest != "" {
		out.Within = rounded(e.Within)
	}
	if e.More != "" {
		out.More = &OneMoreRound{e.MoreAt, e.More, rounded(e.MoreTo)}
	}
	if e.Reached > 0 {
		out.Wanted = &WantedRounds{rounded(e.Want), e.Rounds, rounded(e.Reached)}
	}
	return out
}

// heightSD is the standard deviation that the height of a point will have; nil where it
// gets none.
func heightSD(e *network.Expected, i int) *float64 {
	if h := e.Heights; h != nil && !h.Lost[i] {
		return rounded(h.SD[i])
	}
	return nil
}
