package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// The fields of the form, in order.
const (
	fStation = iota
	fRO
	fTargets
	fHeight
	fObserver
	fBooker
	fInstrument
	fSerial
	fUnit
	fLeastCount
	fSigma
	fRounds
	fClose
	fRule
	fPlan
	fVerticals
	fDistances
	fNoVertical
	fNoDistance
	fOrder
	fMoreROs
	fCircle
	fDistanceSD
	fDistancePPM
	fLimitRounds
	fLimitRO
	fLimitTwoC
	fLimitIndex
	fLimitFigure
	fLength
	fRefraction
	fAir
	fCarrier
	fPPMSet
	fPrism
	fSeaLevel
	fScale
	fWeather
	fRange    // the first of the ranges of heights and lengths
	numFields = fRange + len(rangeNames)
)

// isName tells whether a field takes names that may be known.
func isName(f int) bool { return f == fStation || f == fRO || f == fTargets }

// a choice is an answer that can be chosen, and what it stands for.
type choice[T comparable] struct {
	words string
	is    T
}

// The answers of the fields that are chosen from.
var (
	yesNo = []choice[bool]{{"no", false}, {"yes", true}}
	rules = []choice[faces.ClosingRule]{
		{"its mean counts once", faces.ClosingMean}, {"its error is spread over the round", faces.ClosingSpread}}
	orders      = orderChoices()
	units       = unitChoices()
	circles     = []choice[faces.Circle]{{"zenith", faces.Zenith}, {"horizon", faces.Horizon}}
	lengthUnits = []choice[lengths.Unit]{{"metres", lengths.Metres}, {"feet", lengths.Feet}, {"US survey feet", lengths.USFeet}}
)

// an ordering is an order of observing, and by repetition how often.
type ordering struct {
	order spec.Order
	times int
}

// orderChoices are the orders of observing, the usual number of repetitions first.
func orderChoices() (cs []choice[ordering]) {
	cs = append(cs, choice[ordering]{"by halves", ordering{order: spec.ByHalves}}, choice[ordering]{"target by target", ordering{order: spec.ByTarget}})
	repeated := func(n int) {
		cs = append(cs, choice[ordering]{fmt.Sprintf("repetition, %d times", n), ordering{spec.ByRepetition, n}})
	}
	repeated(spec.UsualRepetitions)
	for n := 2; n <= spec.MaxRepetitions; n++ {
		if n != spec.UsualRepetitions {
			repeated(n)
		}
	}
	return cs
}

func unitChoices() (cs []choice[reduce.Unit]) {
	for _, u := range reduce.Units() {
		cs = append(cs, choice[reduce.Unit]{u.Name(), u})
	}
	return cs
}

// answers makes a field that is chosen from cs, with the answer that stands for
// is, or the first where none does.
func answers[T comparable](label string, cs []choice[T], is T) formField {
	at := slices.IndexFunc(cs, func(c choice[T]) bool { return c.is == is })
	return formField{Label: label, Choices: words(cs), At: max(at, 0)}
}

func words[T comparable](cs []choice[T]) []string {
	ws := make([]string, len(cs))
	for i, c := range cs {
		ws[i] = c.words
	}
	return ws
}

// chosen is what the answer of a field stands for, which is chosen from cs.
func chosen[T comparable](f *formField, cs []choice[T]) T { return cs[f.At].is }

// plans are the circle plans, said in the unit of the circle.
func plans(u reduce.Unit) []choice[spec.CirclePlan] {
	at := func(quarters reduce.Angle) string { return wholeText(quarters*reduce.QuarterTurn, u) }
	quarter, spread := "0°, 90°, 180°, 270°", "180° over the rounds, and minutes"
	if u.Decimal() {
		quarter = "0, " + at(1) + ", " + at(2) + ", " + at(3) + u.Mark()
		spread = at(2) + u.Mark() + " over the rounds, and small steps"
	}
	return []choice[spec.CirclePlan]{{quarter, spec.QuarterPlan}, {spread, spec.SpreadPlan}, {"not set", spec.FreePlan}}
}

// splitNames takes a list of names apart.
func splitNames(text string) []string {
	var out []string
	for _, n := range strings.Split(text, ",") {
		if n = strings.Join(strings.Fields(n), " "); n != "" {
			out = append(out, n)
		}
	}
	return out
}

// numberText is a number as it is keyed, empty for none.
func numberText(x float64) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// leastCount prints the least count with its unit.
func leastCount(i spec.Instrument) string {
	return leastCountText(i) + reduce.SmallMark(i.Unit)
}

// leastCountText is the least count as it is keyed.
func leastCountText(i spec.Instrument) string {
	return smallText(i.LeastCount, i.Unit.Small())
}

// wholeText is a whole figure of the circle without its mark.
func wholeText(a reduce.Angle, u reduce.Unit) string { return strconv.Itoa(int(a / u.Whole())) }

// smallText is a small angle as it is keyed, empty for none.
func smallText(a, unit reduce.Angle) string {
	if a == 0 {
		return ""
	}
	return decimalText(a, unit)
}

// decimalText prints an angle as an exact decimal of a unit, with up to six
// decimals.
func decimalText(a, unit reduce.Angle) string {
	whole, rest := a/unit, a%unit
	if rest == 0 {
		return strconv.FormatInt(int64(whole), 10)
	}
	dec := make([]byte, 0, 6)
	for i := 0; i < 6 && rest != 0; i++ {
		rest *= 10
		dec = append(dec, byte('0'+rest/unit))
		rest %= unit
	}
	return strconv.FormatInt(int64(whole), 10) + "." + string(dec)
}

// parseDecimal reads a plain decimal of a unit exactly.
func parseDecimal(text string, unit reduce.Angle) (reduce.Angle, bool) {
	n, err := reduce.ParseMillionths(text)
	whole, rest := reduce.Angle(n/1e6)*unit, reduce.Angle(n%1e6)*unit
	return whole + rest/1e6, err == nil && rest%1e6 == 0
}

// hint says what a field is for, in the unit that the form is in.
func (s *setupScreen) hint(i int) string {
	u, usual := s.circleUnit(), spec.DefaultLimits(s.leastCount())
	unit, quarter := u.SmallName(), wholeText(reduce.QuarterTurn, u)+u.Mark()
	if i == fSigma || i >= fLimitRounds && i <= fLimitFigure {
		if text := s.contradiction(i); text != "" {
			return text
		}
	}
	switch {
	case i >= fRange:
		x := ranges(s.lengths)[i-fRange]
		return capital(x.What) + ". In this setup alone; empty: " + rangeText(x, s.lengthUnit()) + " " + lengthMark(s.lengthUnit()) + ", as in the book."
	case i == fHeight && chosen(&s.form.Fields[fDistances], yesNo):
		return "Measured before the first sight. The distances need it."
	case i == fLeastCount:
		return "The least difference the circle shows, in " + unit + "."
	case i == fSigma:
		return "Of one direction on both faces, in " + unit + ". A second figure is that of an altitude. Empty: not stated."
	case i >= fLimitRounds && i <= fLimitFigure:
		return "In " + unit + ". From " + setupFields[i].limit(&usual).From + " unless the crew sets another."
	case i == fCircle && u.Decimal():
		return "A level line reads " + quarter + " from the zenith, 0" + u.Mark() + " from the horizon."
	case i == fOrder && chosen(&s.form.Fields[fOrder], orders).order == spec.ByRepetition:
		return "One angle, turned so many times: only with an instrument whose circle can be carried."
	case i == fPlan && u.Decimal():
		return "Where the circle is set for each round: quarters of " + quarter + "."
	}
	return s.form.Fields[i].Hint
}
