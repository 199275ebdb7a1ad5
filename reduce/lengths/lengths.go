// Package lengths holds exact lengths, their units, and how they are keyed and printed.
package lengths

import (
	"fmt"

	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
)

// A Length is a whole number of nanometres: a slope distance, an instrument
// height or a target height. Exact in this unit: metres with up to nine
// decimals, international feet with up to five. A length keyed in any unit with
// up to six decimals is printed again as it was keyed. Range: 9,223,372
// kilometres either way.
type Length int64

// Units of a Length. The US survey foot, 1200/3937 m, is no whole number of
// nanometres: see USFeet.
const (
	nanometre  Length = 1
	micrometre        = 1_000 * nanometre
	Millimetre        = 1_000 * micrometre
	Metre             = 1_000 * Millimetre
)

// InternationalFoot is the foot since 1959 in metres; the foot of the older United
// States surveys, 1200/3937 m, is 2 parts in a million longer. (definitions)
const InternationalFoot = 0.3048

// Metres returns the length as a float64 in metres.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// In returns the length as a float64 in the unit u.
func (l Length) In(u Unit) float64 {
	num, den := u.millionth()
	return float64(l) * float64(den) / float64(num) / millionths
}

// FromMetres returns the Length nearest to m metres.
func FromMetres(m float64) Length { return Length(decimal.Round(m * float64(Metre))) }

// A Unit is the unit a distance or a height is read in.
type Unit uint8

// The units of length. The numbers are stored: they never change meaning.
const (
	Metres Unit = 1
	Feet   Unit = 2 // international foot, 0.3048 m
	USFeet Unit = 3 // US survey foot, 1200/3937 m
)

// String returns "m", "ft" or "usft"; the first two are words of the readings
// file.
func (u Unit) String() string {
	switch u {
	case Feet:
		return "ft"
	case USFeet:
		return "usft"
	}
	return "m"
}

const millionths = 1_000_000

// millionth returns a millionth of the unit in nanometres as a fraction.
func (u Unit) millionth() (num, den int64) {
	switch u {
	case Feet:
		return 3048, 10
	case USFeet:
		return 1_200_000, 3937
	}
	return 1000, 1
}

// Format returns the length in the unit with the given number of decimals, 0 to
// 6, rounded half away from zero to a millionth of the unit and from there to the
// decimals; a minus sign stands before everything.
func (l Length) Format(u Unit, places int) string {
	places = max(0, min(places, 6))
	num, den := u.millionth()
	r := scale(int64(l), den, num)
	step := int64(1)
	for range 6 - places {
		step *= 10
	}
	r = decimal.Div(r, step)
	sign := ""
	if r < 0 {
		sign, r = "−", -r
	}
	if places == 0 {
		return fmt.Sprintf("%s%d", sign, r)
	}
	one := millionths / step
	return fmt.Sprintf("%s%d.%0*d", sign, r/one, places, r%one)
}

// scale returns n·num/den rounded half away from zero, without overflow: the
// whole part and the rest are scaled by themselves.
func scale(n, num, den int64) int64 {
	return n/den*num + decimal.Div(n%den*num, den)
}

// Parse reads a plain decimal of the unit, not negative, with up to six decimals behind a
// full stop or a comma, under 1,000,000. Spaces before and after do not count. The error
// is a *reduce.ParseError.
func Parse(s string, u Unit) (Length, error) {
	n, err := reduce.ParseMillionths(s)
	if err != nil {
		return 0, err
	}
	num, den := u.millionth()
	return Length(scale(n, num, den)), nil
}
