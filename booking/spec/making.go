package spec

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/readback/booking/spec/field"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/slope"
)

// A DistanceMaking says by what displayed slope distances are made right: the air
// along the line, what the instrument counted with, the reflector, and the plane the
// distances are brought to. What is left out is not corrected.
type DistanceMaking struct {
	Air      *slope.Air      `json:"air,omitempty"`
	AirNoted bool            `json:"air_noted,omitempty"` // that of the weather notes of the setup
	Carrier  *Carrier        `json:"carrier,omitempty"`   // nil: as DefaultCarrier
	PPMSet   float64         `json:"ppm_set,omitempty"`   // millionths that the instrument added by itself
	Prism    lengths.Length  `json:"prism,omitempty"`     // constant of the reflector that the display lacks
	SeaLevel *lengths.Length `json:"sea_level,omitempty"`
	Scale    float64         `json:"scale,omitempty"` // of the projection; 0: 1
}

// A Carrier is the wave an instrument measures with.
type Carrier struct {
	Micrometres  float64 `json:"micrometres"`
	Refractivity float64 `json:"refractivity"` // (n − 1)·10⁶ that the display counts with
}

// DefaultCarrier is near infrared, the display right in dry air of 15 °C and 1013.25
// hPa (common practice, no source): the refractivity is worked by [IAG] of reduce.
func DefaultCarrier() Carrier {
	const micrometres = 0.850
	return Carrier{micrometres, slope.Air{Celsius: 15, Pressure: 1013.25}.Refractivity(micrometres)}
}

// wave is the wave that is counted with.
func (m DistanceMaking) wave() Carrier {
	if m.Carrier != nil {
		return *m.Carrier
	}
	return DefaultCarrier()
}

// PPM is the correction for an air, millionths; nil is none.
func (m DistanceMaking) PPM(air *slope.Air) float64 {
	if air == nil {
		return 0
	}
	c := m.wave()
	return air.AtmospherePPM(c.Micrometres, c.Refractivity, m.PPMSet)
}

// Faults returns what cannot be, by field.
func (m DistanceMaking) Faults() []field.Fault {
	var out []field.Fault
	m.validate(func(f field.Name, format string, args ...any) {
		out = append(out, field.Fault{Field: f, Text: fmt.Sprintf(format, args...)})
	})
	return out
}

// validate finds what cannot be of air, an instrument or a projection.
func (m DistanceMaking) validate(wrong func(field.Name, string, ...any)) {
	in := func(x, least, most float64) bool { return x >= least && x <= most } // no NaN is
	if a := m.Air; a != nil && !(in(a.Celsius, -60, 60) && in(a.Pressure, 400, 1100) && in(a.Humidity, 0, 100)) {
		wrong(field.Air, "air of %g °C, %g hPa, %g %%: expected −60 to 60 °C, 400 to 1100 hPa, 0 to 100 %%", a.Celsius, a.Pressure, a.Humidity)
	}
	if c := m.Carrier; c != nil && !(in(c.Micrometres, 0.3, 2) && in(c.Refractivity, 200, 400)) {
		wrong(field.Carrier, "a wave of %g µm and a refractivity of %g: expected 0.3 to 2 µm and 200 to 400", c.Micrometres, c.Refractivity)
	}
	if !in(m.PPMSet, -1000, 1000) {
		wrong(field.PPMSet, "%g millionths: expected −1000 to 1000", m.PPMSet)
	}
	if !in(m.Prism.Metres(), -1, 1) {
		wrong(field.Prism, "a constant of %g mm: expected −1000 to 1000", 1000*m.Prism.Metres())
	}
	if m.SeaLevel != nil && !in(m.SeaLevel.Metres(), -500, 9000) {
		wrong(field.SeaLevel, "a height of %g m: expected −500 to 9000", m.SeaLevel.Metres())
	}
	if m.Scale != 0 && !in(m.Scale, 0.9, 1.1) {
		wrong(field.Scale, "a scale factor of %g: expected one near 1, such as 0.99985", m.Scale)
	}
}

// Making as it is keyed: six texts, each may be empty.
type MakingTexts struct{ Air, Carrier, PPMSet, Prism, SeaLevel, Scale string }

// Texts returns the settings as they are keyed.
func (m *DistanceMaking) Texts() MakingTexts {
	var t MakingTexts
	if m == nil {
		return t
	}
	plain := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	if m.AirNoted {
		t.Air = airNoted
	}
	if a := m.Air; a != nil {
		t.Air = plain(a.Celsius) + " " + plain(a.Pressure)
		if a.Humidity != 0 {
			t.Air += " " + plain(a.Humidity)
		}
	}
	if c := m.Carrier; c != nil {
		t.Carrier = plain(c.Micrometres) + " " + plain(c.Refractivity)
	}
	if m.PPMSet != 0 {
		t.PPMSet = plain(m.PPMSet)
	}
	if m.Prism != 0 {
		t.Prism = plain(float64(m.Prism) / float64(lengths.Millimetre))
	}
	if m.SeaLevel != nil {
		t.SeaLevel = plain(m.SeaLevel.Metres())
	}
	if m.Scale != 0 {
		t.Scale = plain(m.Scale)
	}
	return t
}

// Parse reads settings as they are keyed, numbers with blanks between them, a decimal
// comma as well as a point; nil where all are empty. What does not read is told by
// field. Three scale factors are those at the station, in the middle and at the
// far end of the lines: see reduce.LineScale.
func (t MakingTexts) Parse() (*DistanceMaking, []field.Fault) {
	var m DistanceMaking
	var faults []field.Fault
	read := func(f field.Name, text, expected string, counts ...int) []float64 {
		xs, ok := numbersOf(text, counts)
		if !ok {
			faults = append(faults, field.Fault{Field: f, Text: expected})
		}
		return xs
	}
	if strings.EqualFold(strings.TrimSpace(t.Air), airNoted) {
		m.AirNoted, t.Air = true, ""
	}
	if x := read(field.Air, t.Air, "°C, hPa and per cent of humidity, such as 18 985 60, or noted, or empty", 2, 3); len(x) > 0 {
		m.Air = &slope.Air{Celsius: x[0], Pressure: x[1]}
		if len(x) > 2 {
			m.Air.Humidity = x[2]
		}
	}
	if x := read(field.Carrier, t.Carrier, "micrometres and refractivity, such as 0.85 281.8, or empty", 2); len(x) > 0 {
		m.Carrier = &Carrier{x[0], x[1]}
	}
	if x := read(field.PPMSet, t.PPMSet, "millionths, such as 12, or empty", 1); len(x) > 0 {
		m.PPMSet = x[0]
	}
	if x := read(field.Prism, t.Prism, "millimetres, such as −30, or empty", 1); len(x) > 0 {
		m.Prism = lengths.FromMetres(x[0] / 1000)
	}
	if x := read(field.SeaLevel, t.SeaLevel, "metres above the sea, such as 412.5, or empty", 1); len(x) > 0 {
		height := lengths.FromMetres(x[0])
		m.SeaLevel = &height
	}
	switch x := read(field.Scale, t.Scale, "one scale factor, such as 0.99985, or those at both ends and in the middle, or empty", 1, 3); len(x) {
	case 1:
		m.Scale = x[0]
	case 3:
		m.Scale = slope.LineScale(x[0], x[1], x[2])
	}
	if m == (DistanceMaking{}) {
		return nil, faults
	}
	return &m, faults
}

// numbersOf reads as many numbers as one of counts says; none is well too.
func numbersOf(text string, counts []int) ([]float64, bool) {
	var out []float64
	for _, f := range strings.Fields(text) {
		x, err := decimal.Parse(f)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || math.Abs(x) > 1e6 {
			return nil, false
		}
		out = append(out, x)
	}
	if len(out) == 0 {
		return nil, true
	}
	for _, n := range counts {
		if len(out) == n {
			return out, true
		}
	}
	return nil, false
}

// Sentence says by what distances are made right.
func (m *DistanceMaking) Sentence() string {
	t := m.Texts()
	parts := []string{}
	c := m.wave()
	if m.Air != nil {
		parts = append(parts, fmt.Sprintf("air %g °C, %g hPa, %g %% (%+.1f ppm; N %.1f at %g µm, %g ppm set)", m.Air.Celsius, m.Air.Pressure, m.Air.Humidity, m.PPM(m.Air), c.Refractivity, c.Micrometres, m.PPMSet))
	}
	if m.AirNoted {
		parts = append(parts, fmt.Sprintf("the air that was noted (N %.1f at %g µm, %g ppm set)", c.Refractivity, c.Micrometres, m.PPMSet))
	}
	for _, x := range []struct{ word, text string }{{"prism constant %s mm", t.Prism}, {"sea level from %s m", t.SeaLevel}, {"scale factor %s", t.Scale}} {
		if x.text != "" {
			parts = append(parts, fmt.Sprintf(x.word, x.text))
		}
	}
	return "Distances corrected by: " + strings.Join(parts, "; ") + "."
}

// airNoted is what is keyed for the air where distances take that of the weather
// notes.
const airNoted = "noted"
