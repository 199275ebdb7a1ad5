package slope

import (
	"fmt"
	"math"
	"strings"

	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
)

// Air is the air along a line.
type Air struct {
	Celsius  float64 `json:"celsius"`
	Pressure float64 `json:"hpa"`                // at the instrument, not reduced to sea level
	Humidity float64 `json:"humidity,omitempty"` // per cent
}

// Vapour returns the partial pressure of water vapour in hPa: RH · 6.1121 ·
// exp(17.62 t/(243.12 + t)) (Magnus' formula, from memory). [IAG]
func (a Air) Vapour() float64 {
	return a.Humidity / 100 * 6.1121 * math.Exp(17.62*a.Celsius/(243.12+a.Celsius))
}

// Refractivity returns (n − 1)·10⁶ of the air for a carrier wave of lambda
// micrometres, visible or near infrared, the group refractivity:
//
//	Ng = 287.6155 + 4.88660/λ² + 0.06800/λ⁴
//	N  = (273.15/1013.25)·Ng·p/T − 11.27·e/T
//
// (Resolution 3 of the International Association of Geodesy, 1999, closed formula,
// good to 1 ppm; from memory, one published value held by a test.) [IAG]
func (a Air) Refractivity(lambda float64) float64 {
	square := lambda * lambda
	group := 287.6155 + 4.88660/square + 0.06800/(square*square)
	kelvin := a.Celsius + 273.15
	return float64(273.15/1013.25*group*a.Pressure/kelvin) - float64(11.27*a.Vapour()/kelvin)
}

// AtmospherePPM returns what a displayed distance must be lengthened by, in
// millionths: the refractivity the instrument counts with less that of the air,
// what was set on it already being taken off. [IAG]
func (a Air) AtmospherePPM(lambda, reference, set float64) float64 {
	return reference - a.Refractivity(lambda) - set
}

// A DistanceWork is a measured distance made right, one line a correction, metres.
type Work struct {
	Displayed  float64
	Atmosphere float64 // displayed · ppm
	Prism      float64 // constant of the reflector not yet in what was displayed
	Slope      float64 // the three together
	Bow        float64 // from the slope to the level at the instrument, curvature and refraction in it
	Horizontal float64
	SeaLevel   float64 // −HD·H/(R + H)
	Scale      float64 // (factor − 1) of what is left
	Grid       float64
}

// Lines prints the distance as it was displayed, the corrections as they are added,
// and what they make: metres with four decimals.
func (w Work) Lines() []string {
	out := []string{fmt.Sprintf("%.4f", w.Displayed)}
	for _, x := range []float64{w.Atmosphere, w.Prism, w.Bow, w.SeaLevel, w.Scale} {
		s := decimal.Sprintf("%+.4f", x)
		if !strings.ContainsAny(s, "123456789") {
			s = "0"
		}
		out = append(out, s)
	}
	return append(out, fmt.Sprintf("%.4f", w.Grid))
}

// A DistanceRule is what a distance is made right by.
type Rule struct {
	PPM        float64 // atmospheric correction, millionths; see Air.AtmospherePPM
	Prism      float64 // metres to add
	Refraction float64 // coefficient k
	Radius     float64 // metres; 0: EarthRadius
	SeaLevel   bool    // reduce to sea level
	Height     float64 // of the instrument's end, metres
	Scale      float64 // of the projection; 0: 1
}

// Correct makes a displayed slope distance right, of a line seen under an altitude.
// The horizontal distance is that at the level of the instrument:
//
//	HD = S·cos α − S²·cos α·sin α·(1 − k/2)/R  [TRADE]
func (r Rule) Correct(displayed float64, altitude reduce.Angle) Work {
	radius := r.Radius
	if radius == 0 {
		radius = EarthRadius
	}
	w := Work{Displayed: displayed, Prism: r.Prism, Atmosphere: float64(displayed * r.PPM * 1e-6)}
	w.Slope = displayed + w.Atmosphere + w.Prism
	sin, cos := math.Sincos(altitude.Radians())
	w.Horizontal = float64(w.Slope * cos)
	if r.Refraction != 1 { // 1 leaves both out, as in SlopeReduce
		w.Horizontal -= float64(w.Slope * w.Slope * cos * sin * (1 - float64(r.Refraction/2)) / radius)
	}
	w.Bow = w.Horizontal - w.Slope
	w.Grid = w.Horizontal
	if r.SeaLevel {
		w.SeaLevel = -w.Horizontal * r.Height / (radius + r.Height)
		w.Grid += w.SeaLevel
	}
	if r.Scale != 0 {
		w.Scale = float64(w.Grid * (r.Scale - 1))
		w.Grid += w.Scale
	}
	return w
}

// LineScale returns the scale of the projection along a line from that at both ends
// and in the middle, (a + 4m + b)/6. [SCALE]
func LineScale(a, middle, b float64) float64 { return (a + float64(4*middle) + b) / 6 }
