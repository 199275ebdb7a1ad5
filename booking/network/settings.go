package network

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// A setting is a number that figures and the network are worked with, under its name.
type setting struct {
	name string
	what string
	unit string
	most float64
	some bool // it must be more than nothing
	of   func(*Settings) (get func() float64, put func(float64))
}

// plain is a setting in metres or another plain number.
func plain(at func(*Settings) *float64) func(*Settings) (func() float64, func(float64)) {
	return func(s *Settings) (func() float64, func(float64)) {
		p := at(s)
		return func() float64 { return *p }, func(x float64) { *p = x }
	}
}

// millimetre is a setting in millimetres of what is kept in metres.
func millimetre(at func(*Settings) *float64) func(*Settings) (func() float64, func(float64)) {
	return func(s *Settings) (func() float64, func(float64)) {
		p := at(s)
		return func() float64 { return math.Round(*p*1e9) / 1e6 }, func(x float64) { *p = x / 1000 }
	}
}

// lengthOf is a setting in metres of what is kept as a length.
func lengthOf(at func(*spec.Lengths) *lengths.Length) func(*Settings) (func() float64, func(float64)) {
	return func(s *Settings) (func() float64, func(float64)) {
		p := at(&s.Lengths)
		return func() float64 { return p.Metres() }, func(x float64) { *p = lengths.FromMetres(x) }
	}
}

// seconds is a setting that is an angle.
func seconds(at func(*Settings) *reduce.Angle) func(*Settings) (func() float64, func(float64)) {
	return func(s *Settings) (func() float64, func(float64)) {
		p := at(s)
		return func() float64 { return p.Seconds() }, func(x float64) { *p = reduce.FromSeconds(x) }
	}
}

// settings lists them all, in the order they are printed.
var settings = []setting{
	{"least-ratio", "linear misclosure, at most 1 in this", "", 1e6, true, plain(func(s *Settings) *float64 { return &s.LeastRatio })},
	{"direction-sd", "σ of a direction, both faces, one round; 0: as stated, else from the rounds", "″", 3600, false, seconds(func(s *Settings) *reduce.Angle { return &s.AngleSD })},
	{"distance-sd", "σ of a distance where none is stated", "mm", 1000, false, millimetre(func(s *Settings) *float64 { return &s.LengthSD })},
	{"distance-ppm", "σ of a distance, what it grows by with the distance", "mm a km", 1000, false, plain(func(s *Settings) *float64 { return &s.LengthPPM })},
	{"centring", "σ of an instrument or target over its mark", "m", 1, false, plain(func(s *Settings) *float64 { return &s.Centring })},
	{"known-sd", "σ of known coordinates; 0 holds them", "m", 10, false, plain(func(s *Settings) *float64 { return &s.KnownSD })},
	{"entry-sd", "σ of one known station against another, for the check of a sight while it is keyed", "m", 10, true, plain(func(s *Settings) *float64 { return &s.PlaceSD })},
	{"bearing-sd", "σ of known bearings", "″", 3600, false, seconds(func(s *Settings) *reduce.Angle { return &s.BearingSD })},
	{"grid-scale", "scale of the grid on its middle meridian; 0: distances are not brought to a grid", "", 1.1, false, plain(func(s *Settings) *float64 { return &s.GridScale })},
	{"grid-east", "easting of that meridian", "m", 1e8, false, plain(func(s *Settings) *float64 { return &s.GridEast })},
	{"bearing-zero", "bearings are printed as counted clockwise from: 0 north, 180 south", "°", 180, false, func(s *Settings) (func() float64, func(float64)) {
		return func() float64 { return s.Zero.Degrees() }, func(x float64) { s.Zero = reduce.FromDegrees(x) }
	}},
	{"bearing-quadrants", "1: bearings are printed within their quadrant, such as N 45°10′20″ E", "", 1, false, func(s *Settings) (func() float64, func(float64)) {
		return func() float64 {
			if s.Quadrants {
				return 1
			}
			return 0
		}, func(x float64) { s.Quadrants = x == 1 }
	}},
	{"altitude-sd", "σ of an altitude where none is stated", "″", 3600, false, seconds(func(s *Settings) *reduce.Angle { return &s.AltitudeSD })},
	{"height-sd", "σ of an instrument or target height", "m", 1, false, plain(func(s *Settings) *float64 { return &s.HeightSD })},
	{"pair-distance", "distance there and back, largest difference", "m", 10, true, plain(func(s *Settings) *float64 { return &s.DistanceConstant })},
	{"pair-distance-ppm", "what that largest difference grows by with the distance", "ppm", 1e5, false, plain(func(s *Settings) *float64 { return &s.DistancePPM })},
	{"pair-height", "height there and back, largest difference, times √km", "m", 10, true, plain(func(s *Settings) *float64 { return &s.HeightPerRootKm })},
	{"least-height", "largest difference of heights, never under", "m", 10, false, plain(func(s *Settings) *float64 { return &s.HeightLeast })},
	{"ring-height", "heights round a figure, largest misclosure, times √km", "m", 10, true, plain(func(s *Settings) *float64 { return &s.RingPerRootKm })},
	{"risk", "risk of the test of the whole network", "", 0.5, true, plain(func(s *Settings) *float64 { return &s.Limits.GlobalRisk })},
	{"slip-risk", "risk of the test of one observation", "", 0.5, true, plain(func(s *Settings) *float64 { return &s.Limits.LocalRisk })},
	{"instrument-least", "instrument height, plausible from", "m", 100, false, lengthOf(func(l *spec.Lengths) *lengths.Length { return &l.LeastInstrument })},
	{"instrument-most", "instrument height, plausible up to", "m", 100, true, lengthOf(func(l *spec.Lengths) *lengths.Length { return &l.MostInstrument })},
	{"height-again", "instrument height measured again, largest difference; else Hold", "m", 1, true, lengthOf(func(l *spec.Lengths) *lengths.Length { return &l.Again })},
	{"target-most", "target height, plausible up to", "m", 100, true, lengthOf(func(l *spec.Lengths) *lengths.Length { return &l.MostTarget })},
	{"distance-least", "slope distance, plausible from", "m", 1e5, false, lengthOf(func(l *spec.Lengths) *lengths.Length { return &l.LeastSlope })},
	{"distance-most", "slope distance, plausible up to", "m", 1e5, true, lengthOf(func(l *spec.Lengths) *lengths.Length { return &l.MostSlope })},
	{"distance-known", "least difference from a known distance that is reported", "m", 100, true, lengthOf(func(l *spec.Lengths) *lengths.Length { return &l.Known })},
}

// check says what was expected where a value does not do.
func (x setting) check(value float64) error {
	switch {
	case x.name == "bearing-zero" && value != 0 && value != 180:
		return errors.New("expected 0 for north or 180 for south")
	case x.name == "bearing-quadrants" && value != 0 && value != 1:
		return errors.New("expected 1 for quadrants or 0 for the full circle")
	case x.name == "grid-scale" && value > 0 && value < 0.9:
		return errors.New("expected one near 1, such as 0.9996, or 0 for no grid")
	case x.some && !(value > 0 && value <= x.most):
		return fmt.Errorf("expected a number over 0, up to %s", plainText(x.most))
	case !(value >= 0 && value <= x.most):
		return fmt.Errorf("expected a number from 0 to %s", plainText(x.most))
	}
	return nil
}

// plainText prints a number without an exponent.
func plainText(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// With returns the settings with one of them replaced; from is said beside limits that
// have a source. The error names the setting and what was expected.
func (s Settings) With(name string, value float64, from string) (Settings, error) {
	i := slices.IndexFunc(settings, func(x setting) bool { return x.name == name })
	if i < 0 {
		return s, fmt.Errorf("%q is not a setting of figures", name)
	}
	x := settings[i]
	if err := x.check(value); err != nil {
		return s, fmt.Errorf("--%s %g: %w", x.name, value, err)
	}
	_, put := x.of(&s)
	put(value)
	switch name {
	case "least-ratio":
		s.LeastRatioFrom = from
	case "pair-distance", "pair-distance-ppm":
		s.DistanceFrom = from
	case "pair-height", "least-height", "ring-height":
		s.HeightFrom = from
	}
	return s, nil
}

// Recorded lays what a book has recorded over the settings.
func (s Settings) Recorded(values []event.FigureValue) (Settings, error) {
	var err error
	for _, v := range values {
		if v.Value == nil {
			continue
		}
		if s, err = s.With(v.Name, *v.Value, "set in the book"); err != nil {
			return s, err
		}
	}
	return s, nil
}

// Accepts says why settings cannot be set in a book that has recorded others: the rule of
// each, and that of those that belong together.
func Accepts(recorded []event.FigureValue, e event.FiguresSet) error {
	stay := slices.DeleteFunc(slices.Clone(recorded), func(v event.FigureValue) bool {
		return slices.ContainsFunc(e.Values, func(x event.FigureValue) bool { return x.Name == v.Name })
	})
	s, err := DefaultSettings().Recorded(append(stay, e.Values...))
	if faults := s.Lengths.Validate(lengths.Metres); err == nil && len(faults) > 0 {
		err = errors.New(faults[0].Text)
	}
	return err
}

// A Setting is one setting as it stands.
type Setting struct {
	Name, What, Unit string
	Value            float64
	Recorded         bool // in the book
}

// Text prints the value with its unit.
func (x Setting) Text() string {
	return strings.TrimSpace(x.Number() + " " + x.Unit)
}

// Number prints the value without its unit, as it is keyed.
func (x Setting) Number() string { return plainText(x.Value) }

// Check says what was expected where another value does not do for the setting; it is
// what With asks.
func (x Setting) Check(value float64) error {
	return settings[slices.IndexFunc(settings, func(s setting) bool { return s.name == x.Name })].check(value)
}

// Says tells what the setting is, and where it comes from if the book has it.
func (x Setting) Says() string {
	if x.Recorded {
		return x.What + " (set in the book)"
	}
	return x.What
}

// List returns every setting as it stands, told which the book has recorded.
func (s Settings) List(recorded []event.FigureValue) []Setting {
	var out []Setting
	for _, x := range settings {
		get, _ := x.of(&s)
		out = append(out, Setting{x.name, x.what, x.unit, get(), slices.ContainsFunc(recorded, func(v event.FigureValue) bool { return v.Name == x.name })})
	}
	return out
}
