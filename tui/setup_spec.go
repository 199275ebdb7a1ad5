package tui

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/network"
	"example.org/readback/booking/spec"
	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/lengths"
)

// leastCount reads the least count in the form, that of a usual instrument while it
// does not read.
func (s *setupScreen) leastCount() reduce.Angle {
	if a, ok := parseDecimal(s.form.Fields[fLeastCount].Value(), s.leastUnit()); ok && a > 0 {
		return a
	}
	return s.circleUnit().UsualStep()
}

// leastUnit is what the small angles of the form are in.
func (s *setupScreen) leastUnit() reduce.Angle {
	return s.circleUnit().Small()
}

// circleUnit is the unit of the circle in the form.
func (s *setupScreen) circleUnit() reduce.Unit { return chosen(&s.form.Fields[fUnit], units) }

// lengthUnit is the unit of length in the form.
func (s *setupScreen) lengthUnit() lengths.Unit { return chosen(&s.form.Fields[fLength], lengthUnits) }

// spec reads the form. bad is the first field whose answer does not do, with its
// problem written beside it, −1 when there is none.
func (s *setupScreen) spec() (agreed spec.Spec, height string, bad int) {
	f := s.form.Fields
	bad = -1
	wrong := func(i int, problem string) {
		f[i].Problem = problem
		if bad < 0 || i < bad {
			bad = i
		}
	}
	for i := range f {
		f[i].Problem = ""
	}
	value := func(i int) string { return strings.Join(strings.Fields(f[i].Value()), " ") }
	agreed = spec.Spec{
		Station: value(fStation), RO: value(fRO),
		Targets: splitNames(f[fTargets].Value()), Observer: value(fObserver), Booker: value(fBooker),
		Weather: value(fWeather), Order: chosen(&f[fOrder], orders).order, Repetitions: chosen(&f[fOrder], orders).times, CloseHalves: chosen(&f[fClose], yesNo), ClosingRule: chosen(&f[fRule], rules),
		Plan: chosen(&f[fPlan], plans(s.circleUnit())), Verticals: chosen(&f[fVerticals], yesNo), Distances: chosen(&f[fDistances], yesNo),
		LengthUnit: chosen(&f[fLength], lengthUnits), MoreROs: splitNames(f[fMoreROs].Value()),
		NoVertical: splitNames(f[fNoVertical].Value()), NoDistance: splitNames(f[fNoDistance].Value()),
	}
	if s.amends {
		agreed.HeightsOnly, agreed.KeyedAfterwards, agreed.Before = s.was.HeightsOnly, s.was.KeyedAfterwards, s.was.Before
		lists := spec.Spec{NoVertical: agreed.NoVertical, NoDistance: agreed.NoDistance, MoreROs: agreed.MoreROs}.Rename(renames(s.was, agreed))
		agreed.NoVertical, agreed.NoDistance, agreed.MoreROs = lists.NoVertical, lists.NoDistance, lists.MoreROs
	}
	agreed.Instrument = spec.Instrument{Name: value(fInstrument), Serial: value(fSerial),
		Unit: chosen(&f[fUnit], units), Circle: chosen(&f[fCircle], circles)}
	s.numbers(&agreed, wrong)
	if l := s.lengthsOf(wrong); l != s.lengths {
		agreed.Before.Lengths = &l
	}
	faults := agreed.Validate()
	if s.amends {
		faults = agreed.ValidateInstead(s.was)
	}
	for _, x := range faults {
		if i, ok := fieldOf[x.Field]; ok && f[i].Problem == "" {
			wrong(i, x.Text)
		}
	}
	height = value(fHeight)
	if _, err := lengths.Parse(height, agreed.LengthUnit); height != "" && err != nil {
		wrong(fHeight, "a plain decimal of "+agreed.LengthUnit.String()+", such as 1.542")
	}
	if agreed.Distances && height == "" && !s.amends {
		wrong(fHeight, "distances need the height of the instrument")
	}
	return agreed, height, bad
}

// numbers reads the fields that hold numbers.
func (s *setupScreen) numbers(agreed *spec.Spec, wrong func(int, string)) {
	f := s.form.Fields
	n, err := strconv.Atoi(strings.TrimSpace(f[fRounds].Value()))
	if err != nil {
		wrong(fRounds, "a whole number of rounds")
	}
	agreed.Rounds = n
	lc, ok := parseDecimal(f[fLeastCount].Value(), s.leastUnit())
	if !ok {
		wrong(fLeastCount, "a decimal of "+s.circleUnit().SmallName()+", such as "+smallText(s.circleUnit().UsualStep(), s.leastUnit()))
	}
	agreed.Instrument.LeastCount = lc
	agreed.Instrument.Sigma, agreed.Instrument.SigmaUpright, ok = parseSigmas(f[fSigma].Value(), s.leastUnit())
	if !ok {
		wrong(fSigma, "a decimal of "+s.circleUnit().SmallName()+", a second one for altitudes, or empty")
	}
	k, err := decimal.Parse(f[fRefraction].Value())
	if err != nil {
		wrong(fRefraction, "a plain decimal, such as 0.13")
	}
	agreed.Refraction = k
	agreed.Instrument.DistanceSD = lengths.Length(math.Round(s.optional(fDistanceSD, wrong) * float64(lengths.Millimetre)))
	agreed.Instrument.DistancePPM = s.optional(fDistancePPM, wrong)
	agreed.Limits = s.limitsOf(wrong)
	making, faults := spec.MakingTexts{Air: f[fAir].Value(), Carrier: f[fCarrier].Value(), PPMSet: f[fPPMSet].Value(), Prism: f[fPrism].Value(), SeaLevel: f[fSeaLevel].Value(), Scale: f[fScale].Value()}.Parse()
	agreed.Making = making
	for _, x := range faults {
		wrong(fieldOf[x.Field], x.Text)
	}
}

// parseSigmas reads the stated σ of a direction, and behind it that of an altitude
// where it is another; nothing is not stated.
func parseSigmas(text string, unit reduce.Angle) (sigma, upright reduce.Angle, ok bool) {
	parts := strings.Fields(text)
	if len(parts) > 2 {
		return 0, 0, false
	}
	var out [2]reduce.Angle
	for i, t := range parts {
		if out[i], ok = parseDecimal(t, unit); !ok {
			return 0, 0, false
		}
	}
	return out[0], out[1], true
}

// sigmasText is what parseSigmas reads.
func sigmasText(i spec.Instrument) string {
	text := smallText(i.Sigma, i.Unit.Small())
	if i.SigmaUpright > 0 {
		text = cmp.Or(text, "0") + " " + smallText(i.SigmaUpright, i.Unit.Small())
	}
	return text
}

// contradiction says that the limit in a field contradicts the stated σ, empty where
// it does not; in the field of σ, the first limit that does.
func (s *setupScreen) contradiction(i int) string {
	f := s.form.Fields
	spec := spec.Spec{RO: f[fRO].Value(), Targets: splitNames(f[fTargets].Value()), CloseHalves: chosen(&f[fClose], yesNo), ClosingRule: chosen(&f[fRule], rules),
		MoreROs: splitNames(f[fMoreROs].Value()), Verticals: chosen(&f[fVerticals], yesNo), NoVertical: splitNames(f[fNoVertical].Value())}
	spec.Instrument.Unit = chosen(&f[fUnit], units)
	s.numbers(&spec, func(int, string) {})
	for _, c := range check.Contradictions(spec) {
		if i == fSigma || fieldOf[c.Field] == i {
			return c.Text
		}
	}
	return ""
}

// optional reads a field that may stay empty.
func (s *setupScreen) optional(i int, wrong func(int, string)) float64 {
	t := s.form.Fields[i].Value()
	if strings.TrimSpace(t) == "" {
		return 0
	}
	x, err := decimal.Parse(t)
	if err != nil {
		wrong(i, "a plain decimal, or empty")
	}
	return x
}

// lengthsOf reads the ranges of heights and lengths by the rule of the book's settings.
func (s *setupScreen) lengthsOf(wrong func(int, string)) spec.Lengths {
	set := network.Settings{Lengths: s.lengths}
	for i, x := range ranges(s.lengths) {
		v, ok, err := rangeOf(&s.form.Fields[fRange+i], x, s.lengthUnit())
		if err != nil {
			wrong(fRange+i, err.Error())
		} else if ok {
			set, _ = set.With(x.Name, v, "")
		}
	}
	return set.Lengths
}

// limitsOf reads the limits; one that is not what common practice gives was set
// by the crew.
func (s *setupScreen) limitsOf(wrong func(int, string)) spec.Limits {
	defaults := limitList(spec.DefaultLimits(s.leastCount()))
	var got [5]spec.Limit
	for i := range got {
		text := s.form.Fields[fLimitRounds+i].Value()
		if text == smallText(defaults[i].Value, s.leastUnit()) {
			if got[i] = defaults[i]; s.amends && limitList(s.was.Limits)[i].Value == got[i].Value {
				got[i] = limitList(s.was.Limits)[i]
			}
			continue
		}
		a, ok := parseDecimal(text, s.leastUnit())
		if !ok {
			wrong(fLimitRounds+i, "a decimal of "+s.circleUnit().SmallName()+", more than nothing")
		}
		got[i] = spec.Limit{Value: a, From: spec.SetByCrew}
		if was := limitList(s.was.Limits)[i]; s.amends && was.Value == a {
			got[i] = was
		}
	}
	return spec.Limits{Rounds: got[0], ROMisclosure: got[1], TwoC: got[2], Index: got[3], Figure: got[4]}
}

// fieldOf tells where a fault of a Spec stands in the form.
var fieldOf = map[field.Name]int{
	field.Station: fStation, field.RO: fRO, field.Targets: fTargets, field.Observer: fObserver, field.NoVertical: fNoVertical, field.NoDistance: fNoDistance,
	field.Booker: fBooker, field.Instrument: fInstrument, field.Unit: fUnit, field.LeastCount: fLeastCount,
	field.Sigma: fSigma, field.SigmaUpright: fSigma, field.Rounds: fRounds, field.Order: fOrder, field.MoreROs: fMoreROs, field.Plan: fPlan, field.Circle: fCircle,
	field.DistanceSD: fDistanceSD, field.DistancePPM: fDistancePPM, field.LimitRounds: fLimitRounds,
	field.LimitClosing: fLimitRO, field.LimitTwoC: fLimitTwoC, field.LimitIndex: fLimitIndex,
	field.LimitFigure: fLimitFigure, field.Refraction: fRefraction,
	field.Air: fAir, field.Carrier: fCarrier, field.PPMSet: fPPMSet, field.Prism: fPrism, field.SeaLevel: fSeaLevel, field.Scale: fScale,
}
