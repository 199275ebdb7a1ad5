package booking

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/readback/reduce"
)

// An Instrument is the theodolite as its crew states it.
type Instrument struct {
	Name       string        `json:"name"`
	Serial     string        `json:"serial,omitempty"`
	LeastCount reduce.Angle  `json:"least_count"`
	Unit       reduce.Unit   `json:"unit"`
	Sigma      reduce.Angle  `json:"sigma,omitempty"` // stated standard deviation of one direction on both faces in one round; 0: not stated
	Circle     reduce.Circle `json:"circle"`          // how the vertical circle is graduated

	// Stated standard deviation of one distance: a constant and a part that grows
	// with the distance, in millionths. 0: not stated.
	DistanceSD  reduce.Length `json:"distance_sd,omitempty"`
	DistancePPM float64       `json:"distance_ppm,omitempty"`
}

// A CirclePlan says where the horizontal circle is set for each round.
type CirclePlan uint8

// The circle plans. The numbers are stored: they never change meaning.
const (
	QuarterPlan CirclePlan = 1 // 0°–1°, 90°–91°, 180°–181°, 270°–271°
	SpreadPlan  CirclePlan = 2 // 180°/n apart, with micrometer offsets of 10′/n
	FreePlan    CirclePlan = 3 // the circle is not set; the crew turns it as it likes
)

// A Spec is what is agreed before the first sight: who, where, with what, to
// which targets, and what will be held against the readings.
type Spec struct {
	Station         string             `json:"station"`
	RO              string             `json:"ro"`
	Targets         []string           `json:"targets"`                // clockwise from the RO, without it
	HeightsOnly     []string           `json:"heights_only,omitempty"` // sighted for the vertical circle and distances, in no round
	Instrument      Instrument         `json:"instrument"`
	Observer        string             `json:"observer"`
	Booker          string             `json:"booker"`
	Weather         string             `json:"weather,omitempty"`
	Rounds          int                `json:"rounds"` // rounds planned: 2 to 24, in a setup keyed afterwards 1 to 24
	CloseHalves     bool               `json:"close_halves,omitempty"`
	ClosingRule     reduce.ClosingRule `json:"closing_rule,omitempty"`
	Plan            CirclePlan         `json:"plan"`
	Limits          Limits             `json:"limits"`
	Verticals       bool               `json:"verticals,omitempty"`
	Distances       bool               `json:"distances,omitempty"`
	LengthUnit      reduce.LengthUnit  `json:"length_unit"`
	Refraction      float64            `json:"refraction"` // coefficient k, |k| < 5; 0.13 unless set
	KeyedAfterwards *KeyedAfterwards   `json:"keyed_afterwards,omitempty"`
}

// KeyedAfterwards marks a setup that was booked on paper first.
type KeyedAfterwards struct {
	By   string `json:"by"`   // who keyed it in
	File string `json:"file"` // the file it came from
}

// MaxTargets is the largest number of targets of a setup, the RO not counted.
const MaxTargets = 60

// MaxRounds is the largest number of rounds that can be planned.
const MaxRounds = 24

// MaxRefraction is what a refraction coefficient k stays under, without its sign:
// |k| > 1 is seen over hot ground, 5 is no longer air.
const MaxRefraction = 5

// DefaultRefraction is the refraction coefficient k used unless another is set.
const DefaultRefraction = 0.13

// ErrSpec is wrapped by every error of Spec.Validate.
var ErrSpec = errors.New("the setup cannot be opened")

// Validate tells what is missing from a Spec or contradicts itself.
func (s Spec) Validate() error {
	wrong := func(format string, args ...any) error {
		return fmt.Errorf("%w: %s", ErrSpec, fmt.Sprintf(format, args...))
	}
	if strings.TrimSpace(s.Station) == "" {
		return wrong("the station has no name")
	}
	if strings.TrimSpace(s.RO) == "" {
		return wrong("the reference object has no name")
	}
	seen := map[string]bool{s.Station: true}
	if n := len(s.Targets) + len(s.HeightsOnly); n > MaxTargets {
		return wrong("%d targets: expected %d at most", n, MaxTargets)
	}
	for _, t := range s.Sighted() {
		if strings.TrimSpace(t) == "" {
			return wrong("a target has no name")
		}
		if t == s.Station {
			return wrong("%q is the station itself and cannot be sighted from it", t)
		}
		if seen[t] {
			return wrong("%q is named twice", t)
		}
		seen[t] = true
	}
	if err := s.validateInstrument(wrong); err != nil {
		return err
	}
	return s.validateNumbers(wrong)
}

// validateNumbers holds the plan, the limits and what is stated of distances. A
// setup keyed live is planned by its crew; one keyed afterwards is taken as far
// as the paper went.
func (s Spec) validateNumbers(wrong func(string, ...any) error) error {
	least := LeastRounds
	if s.KeyedAfterwards != nil {
		least = 1
	}
	l := s.Limits
	for _, v := range []reduce.Angle{l.Rounds.Value, l.ROMisclosure.Value, l.TwoC.Value, l.Index.Value, l.Figure.Value} {
		if v <= 0 || v > reduce.Degree {
			return wrong("a limit must be more than nothing and at most a degree")
		}
	}
	switch i := s.Instrument; {
	case s.Rounds < least || s.Rounds > MaxRounds:
		return wrong("%d rounds: plan %d to %d", s.Rounds, least, MaxRounds)
	case len(s.Targets) == 0 && s.KeyedAfterwards == nil:
		return wrong("no target is named")
	case s.KeyedAfterwards == nil && (blank(s.Observer) || blank(s.Booker) || blank(s.Instrument.Name)):
		return wrong("observer, booker and instrument are named")
	case !(math.Abs(s.Refraction) < MaxRefraction):
		return wrong("a refraction coefficient of %g: it lies between −%d and %d", s.Refraction, MaxRefraction, MaxRefraction)
	case i.Sigma < 0 || i.Sigma > reduce.Degree:
		return wrong("the stated σ of a direction must be nothing to a degree")
	case i.DistanceSD < 0 || i.DistanceSD > reduce.Metre:
		return wrong("the stated σ of a distance must be nothing to a metre")
	case !(i.DistancePPM >= 0 && i.DistancePPM <= 1000):
		return wrong("the stated σ of a distance grows by nothing to 1000 mm in a kilometre")
	}
	return nil
}

func (s Spec) validateInstrument(wrong func(string, ...any) error) error {
	i := s.Instrument
	switch {
	case i.Unit != reduce.DMS && i.Unit != reduce.GonUnit:
		return wrong("the instrument's unit is neither dms nor gon")
	case i.LeastCount <= 0 || i.LeastCount > reduce.Degree:
		return wrong("the least count must be more than nothing and at most a degree")
	case i.Circle != reduce.Zenith && i.Circle != reduce.Horizon:
		return wrong("the vertical circle is graduated neither from the zenith nor from the horizon")
	case s.Plan < QuarterPlan || s.Plan > FreePlan:
		return wrong("the circle plan is not known")
	}
	return nil
}

// Names returns the RO and the targets, clockwise: what a round sights.
func (s Spec) Names() []string {
	return append([]string{s.RO}, s.Targets...)
}

// Sighted returns everything that is sighted from the station: Names, and what
// is sighted for heights only.
func (s Spec) Sighted() []string {
	return append(s.Names(), s.HeightsOnly...)
}

// Places returns the number of decimals a circle reading of the instrument has.
func (i Instrument) Places() int { return reduce.Places(i.Unit, i.LeastCount) }

// CircleStart returns where the circle is set on face left to the RO for the
// round with this setting (1, 2, …): from inclusive to to exclusive. ok is false
// when the circle is not set.
//
// Source: common practice (0°–1°, 90°–91°, 180°–181°, 270°–271°); NBR 13133 3.19
// for the spread of 180°/n.
func (s Spec) CircleStart(setting int) (from, to reduce.Angle, ok bool) {
	width := reduce.Degree
	if s.Instrument.Unit == reduce.GonUnit {
		width = reduce.Gon
	}
	k := reduce.Angle(setting - 1)
	switch s.Plan {
	case QuarterPlan:
		from = (k * reduce.QuarterTurn).Normalize()
	case SpreadPlan:
		n := int64(max(s.Rounds, 1))
		from = (k * (reduce.HalfTurn.Div(n) + (10 * reduce.Arcminute).Div(n))).Normalize()
	default:
		return 0, 0, false
	}
	return from, from + width, true
}
