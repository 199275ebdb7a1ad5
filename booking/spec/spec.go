package spec

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// An Instrument is the theodolite as its crew states it.
type Instrument struct {
	Name       string       `json:"name"`
	Serial     string       `json:"serial,omitempty"`
	LeastCount reduce.Angle `json:"least_count"`
	Unit       reduce.Unit  `json:"unit"`
	Sigma      reduce.Angle `json:"sigma,omitempty"` // stated standard deviation of one direction on both faces in one round; 0: not stated
	// SigmaUpright is the stated standard deviation of one altitude on both faces; 0:
	// that of directions.
	SigmaUpright reduce.Angle `json:"sigma_verticals,omitempty"`
	Circle       faces.Circle `json:"circle"` // how the vertical circle is graduated

	// Stated standard deviation of one distance: a constant and a part that grows
	// with the distance, in millionths. 0: not stated.
	DistanceSD  lengths.Length `json:"distance_sd,omitempty"`
	DistancePPM float64        `json:"distance_ppm,omitempty"`
}

// A CirclePlan says where the horizontal circle is set for each round.
type CirclePlan uint8

// The circle plans. The numbers are stored: they never change meaning.
const (
	QuarterPlan CirclePlan = 1 // 0°–1°, 90°–91°, 180°–181°, 270°–271°
	SpreadPlan  CirclePlan = 2 // 180°/n apart, with micrometer offsets of 10′/n
	FreePlan    CirclePlan = 3 // the circle is not set; the crew turns it as it likes
)

// String says where the circle is set.
func (p CirclePlan) String() string {
	switch p {
	case QuarterPlan:
		return "a quarter of the circle apart"
	case SpreadPlan:
		return "spread over half the circle"
	case FreePlan:
		return "not set"
	}
	return fmt.Sprintf("plan %d", uint8(p))
}

// A Spec is what is agreed before the first sight: who, where, with what, to
// which targets, and what will be held against the readings.
type Spec struct {
	Station         string            `json:"station"`
	RO              string            `json:"ro"`
	Targets         []string          `json:"targets"`                // clockwise from the RO, without it
	HeightsOnly     []string          `json:"heights_only,omitempty"` // sighted for the vertical circle and distances, in no round
	Instrument      Instrument        `json:"instrument"`
	Observer        string            `json:"observer"`
	Booker          string            `json:"booker"`
	Weather         string            `json:"weather,omitempty"`
	Rounds          int               `json:"rounds"` // rounds planned: 2 to 24, in a setup keyed afterwards 1 to 24
	Order           Order             `json:"order,omitempty"`
	Repetitions     int               `json:"repetitions,omitempty"`  // of the angle, by repetition: 2 to 24
	CloseHalves     bool              `json:"close_halves,omitempty"` // the RO again closes each half; by target, each round on both faces
	MoreROs         []string          `json:"more_ros,omitempty"`     // further reference objects, of the targets: each half closes on them too
	ClosingRule     faces.ClosingRule `json:"closing_rule,omitempty"`
	Plan            CirclePlan        `json:"plan"`
	Limits          Limits            `json:"limits"`
	Verticals       bool              `json:"verticals,omitempty"`
	Distances       bool              `json:"distances,omitempty"`
	NoVertical      []string          `json:"no_vertical,omitempty"` // sighted, and no vertical circle read to them
	NoDistance      []string          `json:"no_distance,omitempty"` // no distance and no target height: a spire
	LengthUnit      lengths.Unit      `json:"length_unit"`
	Refraction      float64           `json:"refraction"`       // coefficient k, |k| < 5; 0.13 unless set
	Making          *DistanceMaking   `json:"making,omitempty"` // the corrections of distances; nil: none
	KeyedAfterwards *KeyedAfterwards  `json:"keyed_afterwards,omitempty"`
	Before          Before            `json:"before,omitzero"` // what the book knew when the setup was opened
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

// maxPlanned is the largest number of targets times rounds that are planned of a setup
// that is booked at the instrument, 12 targets in 12 rounds or 60 in 2: what one reading
// takes to check and to judge grows with it, and the observer waits. Rounds are added on
// Hold up to maxUsed, one at least whatever the targets, and up to maxUsedRounds.
const (
	maxPlanned    = 144
	maxUsed       = maxPlanned + MaxTargets
	maxUsedRounds = MaxRounds + 6
)

// MostUsed is the largest number of rounds that are used of a setup booked at the
// instrument.
func (s Spec) MostUsed() int { return min(maxUsedRounds, maxUsed/max(len(s.Targets), 1)) }

// MaxRefraction is what a refraction coefficient k stays under, without its sign:
// |k| > 1 is seen over hot ground, 5 is no longer air.
const MaxRefraction = 5

// DefaultRefraction is the refraction coefficient k used unless another is set.
const DefaultRefraction = 0.13

// FirstSpec is what the form of the first setup of a book begins with, where nothing else is
// said.
func FirstSpec() Spec {
	lc := 5 * reduce.Arcsecond
	return Spec{
		Rounds: 2, ClosingRule: faces.ClosingMean, Plan: QuarterPlan, Verticals: true,
		Instrument: Instrument{LeastCount: lc, Unit: reduce.DMS, Circle: faces.Zenith},
		Limits:     DefaultLimits(lc), LengthUnit: lengths.Metres, Refraction: DefaultRefraction,
	}
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

// AltitudeSigma returns the stated standard deviation of one altitude on both faces:
// its own, else that of a direction; 0: not stated.
func (i Instrument) AltitudeSigma() reduce.Angle { return cmp.Or(i.SigmaUpright, i.Sigma) }

// Places returns the number of decimals a circle reading of the instrument has.
func (i Instrument) Places() int { return reduce.Places(i.Unit, i.LeastCount) }

// CircleStart returns where the circle is set on face left to the RO for the
// round with this setting (1, 2, …): from inclusive to to exclusive. ok is false
// when the circle is not set.
//
// Source: common practice (0°–1°, 90°–91°, 180°–181°, 270°–271°); NBR 13133 3.19
// for the spread of 180°/n.
func (s Spec) CircleStart(setting int) (from, to reduce.Angle, ok bool) {
	width := s.Instrument.Unit.Whole()
	if s.Instrument.Unit == reduce.MilUnit {
		width = 20 * reduce.Mil // about what a degree is
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

// OneAngle takes the order by halves for a spec carried on to more than one target; by
// repetition no half is closed.
func (s Spec) OneAngle() Spec {
	switch {
	case s.Order != ByRepetition:
	case len(s.Targets) > 1:
		s.Order, s.Repetitions = ByHalves, 0
	default:
		s.CloseHalves, s.MoreROs = false, nil
	}
	return s
}

func blank(s string) bool { return strings.TrimSpace(s) == "" }
