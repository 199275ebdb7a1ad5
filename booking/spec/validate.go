package spec

import (
	"fmt"
	"math"
	"slices"

	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// Validate returns what is missing from a Spec or contradicts itself, field by
// field in the order of the form; none when it can be opened. The rules stand
// here and nowhere else.
func (s Spec) Validate() []field.Fault {
	var faults []field.Fault
	wrong := func(f field.Name, format string, args ...any) {
		faults = append(faults, field.Fault{Field: f, Text: fmt.Sprintf(format, args...)})
	}
	s.validateNames(wrong)
	s.validateInstrument(wrong)
	least := LeastRounds
	if s.KeyedAfterwards != nil {
		least = 1
	}
	if s.Rounds < least || s.Rounds > MaxRounds {
		wrong(field.Rounds, "%d rounds: expected %d to %d", s.Rounds, least, MaxRounds)
	}
	if t := len(s.Targets); t*s.Rounds > maxPlanned && s.KeyedAfterwards == nil && t <= MaxTargets && s.Rounds <= MaxRounds {
		wrong(field.Rounds, "%d targets in %d rounds: expected at most %d directions in one setup, that is %d rounds for so many targets; observe the others in a second setup",
			t, s.Rounds, maxPlanned, maxPlanned/t)
	}
	s.validateOrder(wrong)
	if s.Plan < QuarterPlan || s.Plan > FreePlan {
		wrong(field.Plan, "the circle plan is not known")
	}
	l := s.Limits
	for _, x := range []struct {
		field field.Name
		value reduce.Angle
	}{{field.LimitRounds, l.Rounds.Value}, {field.LimitClosing, l.ROMisclosure.Value}, {field.LimitTwoC, l.TwoC.Value}, {field.LimitIndex, l.Index.Value}, {field.LimitFigure, l.Figure.Value}} {
		if x.value <= 0 || x.value > reduce.Degree {
			wrong(x.field, "the %s must be over 0 and at most a degree", x.field)
		}
	}
	if !(math.Abs(s.Refraction) < MaxRefraction) {
		wrong(field.Refraction, "a refraction coefficient of %g: expected one between −%d and %d, such as 0.13", s.Refraction, MaxRefraction, MaxRefraction)
	}
	if s.Making != nil {
		s.Making.validate(wrong)
	}
	if s.Before.Lengths != nil {
		faults = append(faults, s.Before.Lengths.Validate(s.LengthUnit)...)
	}
	return faults
}

// validateOrder finds what an order of observing does not allow.
func (s Spec) validateOrder(wrong func(field.Name, string, ...any)) {
	switch n := s.Repetitions; {
	case s.Order > ByRepetition:
		wrong(field.Order, "the order of observing is not known")
	case s.Order != ByRepetition && n != 0:
		wrong(field.Order, "only the order by repetition repeats an angle, not %s", s.Order)
	case s.Order != ByRepetition:
	case n < 2 || n > MaxRepetitions:
		wrong(field.Order, "%d repetitions: expected 2 to %d", n, MaxRepetitions)
	case len(s.Targets) > 1 || len(s.Targets) == 0 && s.KeyedAfterwards == nil:
		wrong(field.Order, "by repetition one angle is measured in a setup: name one target, and not %d", len(s.Targets))
	case s.CloseHalves || len(s.MoreROs) > 0:
		wrong(field.Order, "by repetition the circle is carried on: no half closes on the RO")
	}
}

// ValidateInstead is Validate of a spec that takes the place of another: what stood
// there already, in a book of before a rule, is no reason to refuse the rest.
func (s Spec) ValidateInstead(of Spec) []field.Fault {
	before := of.Validate()
	return slices.DeleteFunc(s.Validate(), func(f field.Fault) bool { return slices.Contains(before, f) })
}

// validateInstrument finds what cannot be of an instrument.
func (s Spec) validateInstrument(wrong func(field.Name, string, ...any)) {
	i := s.Instrument
	if !i.Unit.Known() {
		wrong(field.Unit, "the instrument's unit is none of dms, gon, deg, mil")
	}
	if i.LeastCount <= 0 || i.LeastCount > reduce.Degree {
		wrong(field.LeastCount, "the least count must be over 0 and at most a degree")
	}
	if i.Sigma < 0 || i.Sigma > reduce.Degree {
		wrong(field.Sigma, "the stated σ of a direction must be from 0 to a degree")
	}
	if i.SigmaUpright < 0 || i.SigmaUpright > reduce.Degree {
		wrong(field.SigmaUpright, "the stated σ of an altitude must be from 0 to a degree")
	}
	if i.Circle != faces.Zenith && i.Circle != faces.Horizon {
		wrong(field.Circle, "the vertical circle is graduated neither from the zenith nor from the horizon")
	}
	if i.DistanceSD < 0 || i.DistanceSD > lengths.Metre {
		wrong(field.DistanceSD, "the stated σ of a distance must be from 0 to a metre")
	}
	if !(i.DistancePPM >= 0 && i.DistancePPM <= 1000) {
		wrong(field.DistancePPM, "the stated σ of a distance must grow by 0 to 1000 mm a kilometre")
	}
}

// validateNames finds names that are missing, given twice, or the station itself.
func (s Spec) validateNames(wrong func(field.Name, string, ...any)) {
	if blank(s.Station) {
		wrong(field.Station, "give the name of the station")
	}
	if blank(s.RO) {
		wrong(field.RO, "give the name of the reference object")
	}
	if n := len(s.Targets) + len(s.HeightsOnly); n > MaxTargets {
		wrong(field.Targets, "%d targets: expected %d at most", n, MaxTargets)
	}
	seen := map[string]bool{}
	for i, t := range s.Sighted() {
		of := field.Targets
		if i == 0 {
			of = field.RO
		}
		switch {
		case blank(t):
			if i > 0 {
				wrong(of, "a target has no name")
			}
		case t == s.Station:
			wrong(of, "“%s” is the station itself and cannot be sighted from it", t)
		case seen[t]:
			wrong(of, "“%s” is named twice", t)
		}
		seen[t] = true
	}
	for _, n := range s.NoVertical {
		if !seen[n] {
			wrong(field.NoVertical, "“%s” is not sighted", n)
		}
	}
	for _, n := range s.NoDistance {
		if !seen[n] {
			wrong(field.NoDistance, "“%s” is not sighted", n)
		}
	}
	for i, n := range s.MoreROs {
		switch {
		case !slices.Contains(s.Targets, n):
			wrong(field.MoreROs, "“%s” is no target: a further reference object is sighted in its place among the targets", n)
		case slices.Contains(s.MoreROs[:i], n):
			wrong(field.MoreROs, "“%s” is named twice", n)
		}
	}
	if len(s.MoreROs) > 0 && !s.CloseHalves {
		wrong(field.MoreROs, "further reference objects close the halves as the RO does: let it close them too")
	}
	if len(s.Targets) == 0 && s.KeyedAfterwards == nil { // paper is taken as far as it went
		wrong(field.Targets, "name at least one target")
	}
}
