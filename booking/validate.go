package booking

import (
	"fmt"
	"math"
	"slices"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// Validate returns what is missing from a Spec or contradicts itself, field by
// field in the order of the form; none when it can be opened. The rules stand
// here and nowhere else.
func (s Spec) Validate() []FieldFault {
	var faults []FieldFault
	wrong := func(f Field, format string, args ...any) {
		faults = append(faults, FieldFault{f, fmt.Sprintf(format, args...)})
	}
	s.validateNames(wrong)
	s.validateInstrument(wrong)
	least := LeastRounds
	if s.KeyedAfterwards != nil {
		least = 1
	}
	if s.Rounds < least || s.Rounds > MaxRounds {
		wrong(FieldRounds, "%d rounds: expected %d to %d", s.Rounds, least, MaxRounds)
	}
	if t := len(s.Targets); t*s.Rounds > maxPlanned && s.KeyedAfterwards == nil && t <= MaxTargets && s.Rounds <= MaxRounds {
		wrong(FieldRounds, "%d targets in %d rounds: expected at most %d directions in one setup, which are %d rounds for so many targets; take the others in a second setup",
			t, s.Rounds, maxPlanned, maxPlanned/t)
	}
	s.validateOrder(wrong)
	if s.Plan < QuarterPlan || s.Plan > FreePlan {
		wrong(FieldPlan, "the circle plan is not known")
	}
	l := s.Limits
	for _, x := range []struct {
		field Field
		value reduce.Angle
	}{{FieldLimitRounds, l.Rounds.Value}, {FieldLimitClosing, l.ROMisclosure.Value}, {FieldLimitTwoC, l.TwoC.Value}, {FieldLimitIndex, l.Index.Value}, {FieldLimitFigure, l.Figure.Value}} {
		if x.value <= 0 || x.value > reduce.Degree {
			wrong(x.field, "the %s must be more than nothing and at most a degree", x.field)
		}
	}
	if !(math.Abs(s.Refraction) < MaxRefraction) {
		wrong(FieldRefraction, "a refraction coefficient of %g: expected one between −%d and %d, such as 0.13", s.Refraction, MaxRefraction, MaxRefraction)
	}
	if s.Making != nil {
		s.Making.validate(wrong)
	}
	return faults
}

// validateOrder finds what an order of observing does not allow.
func (s Spec) validateOrder(wrong func(Field, string, ...any)) {
	switch n := s.Repetitions; {
	case s.Order > ByRepetition:
		wrong(FieldOrder, "the order of observing is not known")
	case s.Order != ByRepetition && n != 0:
		wrong(FieldOrder, "an angle is repeated by repetition only, not %s", s.Order)
	case s.Order != ByRepetition:
	case n < 2 || n > MaxRepetitions:
		wrong(FieldOrder, "%d repetitions: expected 2 to %d", n, MaxRepetitions)
	case len(s.Targets) > 1 || len(s.Targets) == 0 && s.KeyedAfterwards == nil:
		wrong(FieldOrder, "by repetition one angle is measured in a setup: name one target, and not %d", len(s.Targets))
	case s.CloseHalves || len(s.MoreROs) > 0:
		wrong(FieldOrder, "by repetition the circle is carried on: no half closes on the RO")
	}
}

// ValidateInstead is Validate of a spec that takes the place of another: what stood
// there already, in a book of before a rule, is no reason to refuse the rest.
func (s Spec) ValidateInstead(of Spec) []FieldFault {
	before := of.Validate()
	return slices.DeleteFunc(s.Validate(), func(f FieldFault) bool { return slices.Contains(before, f) })
}

// validateInstrument finds what cannot be of an instrument.
func (s Spec) validateInstrument(wrong func(Field, string, ...any)) {
	i := s.Instrument
	if !i.Unit.Known() {
		wrong(FieldUnit, "the instrument's unit is none of dms, gon, deg, mil")
	}
	if i.LeastCount <= 0 || i.LeastCount > reduce.Degree {
		wrong(FieldLeastCount, "the least count must be more than nothing and at most a degree")
	}
	if i.Sigma < 0 || i.Sigma > reduce.Degree {
		wrong(FieldSigma, "the stated σ of a direction must be nothing to a degree")
	}
	if i.SigmaUpright < 0 || i.SigmaUpright > reduce.Degree {
		wrong(FieldSigmaUpright, "the stated σ of an altitude must be nothing to a degree")
	}
	if i.Circle != faces.Zenith && i.Circle != faces.Horizon {
		wrong(FieldCircle, "the vertical circle is graduated neither from the zenith nor from the horizon")
	}
	if i.DistanceSD < 0 || i.DistanceSD > lengths.Metre {
		wrong(FieldDistanceSD, "the stated σ of a distance must be nothing to a metre")
	}
	if !(i.DistancePPM >= 0 && i.DistancePPM <= 1000) {
		wrong(FieldDistancePPM, "the stated σ of a distance grows by nothing to 1000 mm in a kilometre")
	}
}

// validateNames finds names that are missing, given twice, or the station itself.
func (s Spec) validateNames(wrong func(Field, string, ...any)) {
	if blank(s.Station) {
		wrong(FieldStation, "give the name of the station")
	}
	if blank(s.RO) {
		wrong(FieldRO, "give the name of the reference object")
	}
	if n := len(s.Targets) + len(s.HeightsOnly); n > MaxTargets {
		wrong(FieldTargets, "%d targets: expected %d at most", n, MaxTargets)
	}
	seen := map[string]bool{}
	for i, t := range s.Sighted() {
		field := FieldTargets
		if i == 0 {
			field = FieldRO
		}
		switch {
		case blank(t):
			if i > 0 {
				wrong(field, "a target has no name")
			}
		case t == s.Station:
			wrong(field, "“%s” is the station itself and cannot be sighted from it", t)
		case seen[t]:
			wrong(field, "“%s” is named twice", t)
		}
		seen[t] = true
	}
	for _, n := range s.NoVertical {
		if !seen[n] {
			wrong(FieldNoVertical, "“%s” is not sighted", n)
		}
	}
	for _, n := range s.NoDistance {
		if !seen[n] {
			wrong(FieldNoDistance, "“%s” is not sighted", n)
		}
	}
	for i, n := range s.MoreROs {
		switch {
		case !slices.Contains(s.Targets, n):
			wrong(FieldMoreROs, "“%s” is no target: a further reference object is sighted in its place among the targets", n)
		case slices.Contains(s.MoreROs[:i], n):
			wrong(FieldMoreROs, "“%s” is named twice", n)
		}
	}
	if len(s.MoreROs) > 0 && !s.CloseHalves {
		wrong(FieldMoreROs, "further reference objects close the halves as the RO does: let it close them too")
	}
	if len(s.Targets) == 0 && s.KeyedAfterwards == nil { // paper is taken as far as it went
		wrong(FieldTargets, "name at least one target")
	}
}
