package tui

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/readback/booking/spec"
	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// a specField is one field of the form: what it is called and for, how it is filled from
// a Spec and read into one, and whose faults stand beside it. What is read together with
// others has its place among them instead of a way to be read.
type specField struct {
	label, hint string
	fill        func(from *spec.Spec) formField
	read        func(f *formField, into *spec.Spec) error
	limit       func(*spec.Limits) *spec.Limit
	made        func(*spec.MakingTexts) *string
	faults      []field.Name
}

// setupFields are the fields of the form but the ranges of heights and lengths.
var setupFields = [fRange]specField{
	fStation: asText("Station", "The point the tripod stands on.", func(s *spec.Spec) *string { return &s.Station }, field.Station),
	fRO: asText("Reference object", "RO: every direction is reduced to it. The targets may follow, commas between them.",
		func(s *spec.Spec) *string { return &s.RO }, field.RO),
	fTargets: asNames("Targets", "Clockwise from the RO, commas between them: Alder, Quarry, Mast",
		func(s *spec.Spec) *[]string { return &s.Targets }, field.Targets),
	fHeight: {label: "Instrument height", hint: "Measured before the first sight. May stay empty.", fill: func(*spec.Spec) formField { return textField("", "") }},
	fObserver: asText("Observer", "Who sights and calls. May be said later: Enter on an empty field reads the setup back.",
		func(s *spec.Spec) *string { return &s.Observer }, field.Observer),
	fBooker:     asText("Booker", "Who keys and reads back. May be said later.", func(s *spec.Spec) *string { return &s.Booker }, field.Booker),
	fInstrument: asText("Instrument", "What it is called. May be said later.", func(s *spec.Spec) *string { return &s.Instrument.Name }, field.Instrument),
	fSerial:     asText("Serial number", "", func(s *spec.Spec) *string { return &s.Instrument.Serial }),
	fUnit:       asChoice("Circle unit", "", units, func(s *spec.Spec) *reduce.Unit { return &s.Instrument.Unit }, field.Unit),
	fLeastCount: {label: "Least count", fill: func(s *spec.Spec) formField { return textField("", leastCountText(s.Instrument)) }, read: readLeastCount,
		faults: []field.Name{field.LeastCount}},
	fSigma: {label: "Stated σ", fill: func(s *spec.Spec) formField { return textField("", sigmasText(s.Instrument)) }, read: readSigmas,
		faults: []field.Name{field.Sigma, field.SigmaUpright}},
	fRounds: {label: "Rounds planned", hint: "At least two, which must agree.", fill: func(s *spec.Spec) formField { return textField("", itoa(s.Rounds)) }, read: readRounds,
		faults: []field.Name{field.Rounds}},
	fClose: asChoice("RO again closes each half", "The misclosure of every half is then held against its limit.", yesNo, func(s *spec.Spec) *bool { return &s.CloseHalves }),
	fRule:  asChoice("Closing RO", "What becomes of the second sight of the RO.", rules, func(s *spec.Spec) *faces.ClosingRule { return &s.ClosingRule }),
	fPlan: {label: "Circle settings", hint: "Where the circle is set for each round.",
		fill: func(s *spec.Spec) formField { return answers("", plans(s.Instrument.Unit), s.Plan) },
		read: func(f *formField, s *spec.Spec) error { s.Plan = chosen(f, plans(s.Instrument.Unit)); return nil }, faults: []field.Name{field.Plan}},
	fVerticals:  asChoice("Vertical circle", "Both faces on every target after the rounds.", yesNo, func(s *spec.Spec) *bool { return &s.Verticals }),
	fDistances:  asChoice("Distances", "Slope distance and target height for every target.", yesNo, func(s *spec.Spec) *bool { return &s.Distances }),
	fNoVertical: asNames("No vertical circle to", "", func(s *spec.Spec) *[]string { return &s.NoVertical }, field.NoVertical),
	fNoDistance: asNames("No distance to", "", func(s *spec.Spec) *[]string { return &s.NoDistance }, field.NoDistance),
	fOrder: {label: "Order of observing", hint: "By halves: face left, then face right back. Target by target: both faces at once.",
		fill: func(s *spec.Spec) formField { return answers("", orders, ordering{s.Order, s.Repetitions}) },
		read: func(f *formField, s *spec.Spec) error {
			o := chosen(f, orders)
			s.Order, s.Repetitions = o.order, o.times
			return nil
		},
		faults: []field.Name{field.Order}},
	fMoreROs: asNames("Further ROs", "Targets that each half closes on too, as a check: Mast. The RO must close it.",
		func(s *spec.Spec) *[]string { return &s.MoreROs }, field.MoreROs),
	fCircle: asChoice("Vertical circle from the", "A level line reads 90° from the zenith, 0° from the horizon.", circles,
		func(s *spec.Spec) *faces.Circle { return &s.Instrument.Circle }, field.Circle),
	fDistanceSD: asNumber("Stated σ of a distance", "Millimetres, the part that does not grow. Empty: not stated.",
		func(s *spec.Spec) float64 { return float64(s.Instrument.DistanceSD) / float64(lengths.Millimetre) },
		func(s *spec.Spec, mm float64) {
			s.Instrument.DistanceSD = lengths.Length(math.Round(mm * float64(lengths.Millimetre)))
		}, field.DistanceSD),
	fDistancePPM: asNumber("and per kilometre", "Millimetres for each kilometre. Empty: none.",
		func(s *spec.Spec) float64 { return s.Instrument.DistancePPM }, func(s *spec.Spec, x float64) { s.Instrument.DistancePPM = x }, field.DistancePPM),
	fLimitRounds: asLimit("Limit: rounds agree", func(l *spec.Limits) *spec.Limit { return &l.Rounds }, field.LimitRounds),
	fLimitRO:     asLimit("Limit: RO misclosure", func(l *spec.Limits) *spec.Limit { return &l.ROMisclosure }, field.LimitClosing),
	fLimitTwoC:   asLimit("Limit: spread of 2c", func(l *spec.Limits) *spec.Limit { return &l.TwoC }, field.LimitTwoC),
	fLimitIndex:  asLimit("Limit: spread of index", func(l *spec.Limits) *spec.Limit { return &l.Index }, field.LimitIndex),
	fLimitFigure: asLimit("Limit: figure, × √n", func(l *spec.Limits) *spec.Limit { return &l.Figure }, field.LimitFigure),
	fLength:      asChoice("Unit of length", "", lengthUnits, func(s *spec.Spec) *lengths.Unit { return &s.LengthUnit }),
	fRefraction: {label: "Refraction k", hint: "0.13 unless the site needs another.", read: readRefraction,
		fill: func(s *spec.Spec) formField { return textField("", strconv.FormatFloat(s.Refraction, 'g', -1, 64)) }, faults: []field.Name{field.Refraction}},
	fAir: asMaking("Air along the lines", "°C, hPa, per cent: 18 985 60. Or noted: that of the weather notes (D). Empty: none.",
		func(t *spec.MakingTexts) *string { return &t.Air }, field.Air),
	fCarrier: asMaking("Wave and refractivity", "Micrometres, and what the display counts with: 0.85 281.8. May stay empty.",
		func(t *spec.MakingTexts) *string { return &t.Carrier }, field.Carrier),
	fPPMSet: asMaking("ppm set on it", "Millionths the instrument adds by itself. Empty: none.", func(t *spec.MakingTexts) *string { return &t.PPMSet }, field.PPMSet),
	fPrism:  asMaking("Prism constant lacking", "Millimetres still to be added. Empty: none.", func(t *spec.MakingTexts) *string { return &t.Prism }, field.Prism),
	fSeaLevel: asMaking("To sea level from", "Height of the instrument in metres. Empty: not brought to sea level.",
		func(t *spec.MakingTexts) *string { return &t.SeaLevel }, field.SeaLevel),
	fScale:   asMaking("Scale factor", "Of the projection: 0.99985. Empty: 1.", func(t *spec.MakingTexts) *string { return &t.Scale }, field.Scale),
	fWeather: asText("Weather", "May stay empty.", func(s *spec.Spec) *string { return &s.Weather }),
}

// fieldOf tells where a fault of a Spec stands in the form.
var fieldOf = func() map[field.Name]int {
	of := map[field.Name]int{}
	for i, x := range setupFields {
		for _, f := range x.faults {
			of[f] = i
		}
	}
	of[field.InstrumentRange] = fRange + slices.Index(rangeNames[:], "instrument-least")
	of[field.DistanceRange] = fRange + slices.Index(rangeNames[:], "distance-least")
	return of
}()

// asText is a field of words.
func asText(label, hint string, at func(*spec.Spec) *string, faults ...field.Name) specField {
	return specField{label: label, hint: hint, faults: faults, fill: func(s *spec.Spec) formField { return textField("", *at(s)) },
		read: func(f *formField, s *spec.Spec) error { *at(s) = f.line(); return nil }}
}

// asNames is a field of names with commas between them.
func asNames(label, hint string, at func(*spec.Spec) *[]string, faults ...field.Name) specField {
	return specField{label: label, hint: hint, faults: faults, read: func(f *formField, s *spec.Spec) error { *at(s) = splitNames(f.Value()); return nil },
		fill: func(s *spec.Spec) formField {
			f := textField("", "")
			f.Text.in.CharLimit = 20 * mostText
			f.Text.Set(strings.Join(*at(s), ", "))
			return f
		}}
}

// asChoice is a field whose answer is chosen.
func asChoice[T comparable](label, hint string, cs []choice[T], at func(*spec.Spec) *T, faults ...field.Name) specField {
	return specField{label: label, hint: hint, faults: faults, fill: func(s *spec.Spec) formField { return answers("", cs, *at(s)) },
		read: func(f *formField, s *spec.Spec) error { *at(s) = chosen(f, cs); return nil }}
}

// asNumber is a field of a number that may stay empty.
func asNumber(label, hint string, get func(*spec.Spec) float64, set func(*spec.Spec, float64), fault field.Name) specField {
	return specField{label: label, hint: hint, faults: []field.Name{fault}, fill: func(s *spec.Spec) formField { return textField("", numberText(get(s))) },
		read: func(f *formField, s *spec.Spec) error {
			if f.line() == "" {
				return nil
			}
			x, err := decimal.Parse(f.Value())
			if set(s, x); err != nil {
				return errors.New("a plain decimal, or empty")
			}
			return nil
		}}
}

// asLimit is a field of one of the limits.
func asLimit(label string, at func(*spec.Limits) *spec.Limit, fault field.Name) specField {
	return specField{label: label, limit: at, faults: []field.Name{fault},
		fill: func(s *spec.Spec) formField {
			return textField("", smallText(at(&s.Limits).Value, s.Instrument.Unit.Small()))
		}}
}

// asMaking is a field of how distances are made.
func asMaking(label, hint string, at func(*spec.MakingTexts) *string, fault field.Name) specField {
	return specField{label: label, hint: hint, made: at, faults: []field.Name{fault}, fill: func(s *spec.Spec) formField {
		t := s.Making.Texts()
		return textField("", *at(&t))
	}}
}

// newForm makes the form, filled with what is proposed or agreed.
func newForm(last spec.Spec) form {
	f := form{Fields: make([]formField, numFields)}
	for i, x := range setupFields {
		f.Fields[i] = x.fill(&last)
		f.Fields[i].Label, f.Fields[i].Hint = x.label, x.hint
	}
	for i, x := range ranges(last.Lengths()) {
		f.Fields[fRange+i] = textField(rangeLabel(x, last.LengthUnit), rangeText(x, last.LengthUnit))
	}
	return f
}
