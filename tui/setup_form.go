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

// limitOffset leads from fRounds to the first limit.
const limitOffset = fLimitRounds - fRounds

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

// newForm makes the form, filled with what is proposed or agreed.
func newForm(last spec.Spec) form {
	f := form{Fields: make([]formField, numFields)}
	text := func(i int, label, value string) {
		f.Fields[i] = formField{Label: label, Text: newTextLine()}
		if i == fTargets {
			f.Fields[i].Text.in.CharLimit = 20 * mostText
		}
		f.Fields[i].Text.Set(value)
	}
	text(fStation, "Station", last.Station)
	text(fRO, "Reference object", last.RO)
	text(fTargets, "Targets", strings.Join(last.Targets, ", "))
	text(fHeight, "Instrument height", "")
	text(fRounds, "Rounds planned", itoa(last.Rounds))
	f.Fields[fClose] = answers("RO again closes each half", yesNo, last.CloseHalves)
	f.Fields[fRule] = answers("Closing RO", rules, last.ClosingRule)
	f.Fields[fPlan] = answers("Circle settings", plans(last.Instrument.Unit), last.Plan)
	f.Fields[fVerticals] = answers("Vertical circle", yesNo, last.Verticals)
	f.Fields[fDistances] = answers("Distances", yesNo, last.Distances)
	text(fNoVertical, "No vertical circle to", strings.Join(last.NoVertical, ", "))
	text(fNoDistance, "No distance to", strings.Join(last.NoDistance, ", "))
	f.Fields[fOrder] = answers("Order of observing", orders, ordering{last.Order, last.Repetitions})
	text(fMoreROs, "Further ROs", strings.Join(last.MoreROs, ", "))
	text(fObserver, "Observer", last.Observer)
	text(fBooker, "Booker", last.Booker)
	text(fInstrument, "Instrument", last.Instrument.Name)
	text(fSerial, "Serial number", last.Instrument.Serial)
	f.Fields[fUnit] = answers("Circle unit", units, last.Instrument.Unit)
	text(fLeastCount, "Least count", leastCountText(last.Instrument))
	text(fSigma, "Stated σ", sigmasText(last.Instrument))
	f.Fields[fCircle] = answers("Vertical circle from the", circles, last.Instrument.Circle)
	text(fDistanceSD, "Stated σ of a distance", millimetresText(last.Instrument.DistanceSD))
	text(fDistancePPM, "and per kilometre", ppmText(last.Instrument.DistancePPM))
	labels := []string{"Limit: rounds agree", "Limit: RO misclosure", "Limit: spread of 2c", "Limit: spread of index", "Limit: figure, × √n"}
	for i, l := range limitList(last.Limits) {
		text(fLimitRounds+i, labels[i], smallText(l.Value, last.Instrument.Unit.Small()))
	}
	f.Fields[fLength] = answers("Unit of length", lengthUnits, last.LengthUnit)
	text(fRefraction, "Refraction k", strconv.FormatFloat(last.Refraction, 'g', -1, 64))
	made := last.Making.Texts()
	text(fAir, "Air along the lines", made.Air)
	text(fCarrier, "Wave and refractivity", made.Carrier)
	text(fPPMSet, "ppm set on it", made.PPMSet)
	text(fPrism, "Prism constant lacking", made.Prism)
	text(fSeaLevel, "To sea level from", made.SeaLevel)
	text(fScale, "Scale factor", made.Scale)
	text(fWeather, "Weather", last.Weather)
	for i, x := range ranges(last.Lengths()) {
		text(fRange+i, rangeLabel(x, last.LengthUnit), rangeText(x, last.LengthUnit))
	}
	return f
}

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

func limitList(l spec.Limits) []spec.Limit {
	return []spec.Limit{l.Rounds, l.ROMisclosure, l.TwoC, l.Index, l.Figure}
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

// millimetresText is a length in millimetres as it is keyed, empty for none.
func millimetresText(l lengths.Length) string {
	if l == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(l)/float64(lengths.Millimetre), 'f', -1, 64)
}

func ppmText(p float64) string {
	if p == 0 {
		return ""
	}
	return strconv.FormatFloat(p, 'f', -1, 64)
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
	text = strings.ReplaceAll(strings.TrimSpace(text), ",", ".")
	whole, dec, _ := strings.Cut(text, ".")
	n, err := strconv.ParseUint("0"+whole, 10, 20)
	if err != nil || text == "" || text == "." || len(dec) > 6 {
		return 0, false
	}
	a := reduce.Angle(n) * unit
	for _, c := range dec {
		if c < '0' || c > '9' {
			return 0, false
		}
		if unit%10 != 0 && c != '0' {
			return 0, false
		}
		unit /= 10
		a += reduce.Angle(c-'0') * unit
	}
	return a, true
}

// hints say what a field is for.
var hints = map[int]string{
	fStation: "The point the tripod stands on.", fRO: "RO: every direction is reduced to it. The targets may follow, commas between them.",
	fTargets: "Clockwise from the RO, commas between them: Alder, Quarry, Mast", fHeight: "Measured before the first sight. May stay empty.",
	fObserver: "Who sights and calls. May be said later: Enter on an empty field reads the setup back.", fBooker: "Who keys and reads back. May be said later.", fInstrument: "What it is called. May be said later.", fRounds: "At least two, which must agree.",
	fOrder:   "By halves: face left, then face right back. Target by target: both faces at once.",
	fMoreROs: "Targets that each half closes on too, as a check: Mast. The RO must close it.",
	fClose:   "The misclosure of every half is then held against its limit.", fRule: "What becomes of the second sight of the RO.",
	fPlan: "Where the circle is set for each round.", fVerticals: "Both faces on every target after the rounds.",
	fDistances: "Slope distance and target height for every target.", fCircle: "A level line reads 90° from the zenith, 0° from the horizon.",
	fDistanceSD: "Millimetres, the part that does not grow. Empty: not stated.", fDistancePPM: "Millimetres for each kilometre. Empty: none.",
	fAir:     "°C, hPa, per cent: 18 985 60. Or noted: that of the weather notes (D). Empty: none.",
	fCarrier: "Micrometres, and what the display counts with: 0.85 281.8. May stay empty.",
	fPPMSet:  "Millionths the instrument adds by itself. Empty: none.", fPrism: "Millimetres still to be added. Empty: none.",
	fSeaLevel: "Height of the instrument in metres. Empty: not brought to sea level.", fScale: "Of the projection: 0.99985. Empty: 1.",
	fRefraction: "0.13 unless the site needs another.", fWeather: "May stay empty.",
}

// hint says what a field is for, in the unit that the form is in.
func (s *setupScreen) hint(i int) string {
	u := s.circleUnit()
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
		return "In " + unit + ". From " + limitList(spec.DefaultLimits(s.leastCount()))[i-fLimitRounds].From + " unless the crew sets another."
	case i == fCircle && u.Decimal():
		return "A level line reads " + quarter + " from the zenith, 0" + u.Mark() + " from the horizon."
	case i == fOrder && chosen(&s.form.Fields[fOrder], orders).order == spec.ByRepetition:
		return "One angle, turned so many times: only with an instrument whose circle can be carried."
	case i == fPlan && u.Decimal():
		return "Where the circle is set for each round: quarters of " + quarter + "."
	}
	return hints[i]
}
