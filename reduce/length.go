package reduce

import (
	"fmt"
	"strings"
)

// A Length is a whole number of nanometres: a slope distance, an instrument
// height or a target height. Metres and international feet with up to six
// decimals are exact. Range: 9,223,372 kilometres either way.
type Length int64

// Units of a Length. The US survey foot is 1200/3937 m and is not a whole
// number of nanometres; LengthUnit.Nanometres rounds it.
const (
	Nanometre  Length = 1
	Micrometre        = 1_000 * Nanometre
	Millimetre        = 1_000 * Micrometre
	Metre             = 1_000 * Millimetre
	Foot              = 304_800 * Micrometre
)

// Metres returns the length as a float64 in metres.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// Feet returns the length as a float64 in international feet.
func (l Length) Feet() float64 { return float64(l) / float64(Foot) }

// Format returns the length in metres or feet with the given number of
// decimals, rounded half away from zero, a minus sign before everything.
func (l Length) Format(u LengthUnit, places int) string {
	q := u.size()
	for i := 0; i < places && q > 1; i++ {
		q /= 10
	}
	sign := ""
	r := Length(Angle(l).Div(int64(q)))
	if r < 0 {
		sign, r = "−", -r
	}
	if places <= 0 {
		return fmt.Sprintf("%s%d", sign, r)
	}
	pow := Length(1)
	for i := 0; i < places; i++ {
		pow *= 10
	}
	return fmt.Sprintf("%s%d.%0*d", sign, r/pow, places, r%pow)
}

// A LengthUnit is the unit a distance or a height is read in.
type LengthUnit uint8

// The units of length. The numbers are stored: they never change meaning.
const (
	Metres LengthUnit = 1
	Feet   LengthUnit = 2 // international foot, 0.3048 m
)

// String returns "m" or "ft", the words of the readings file.
func (u LengthUnit) String() string {
	if u == Feet {
		return "ft"
	}
	return "m"
}

func (u LengthUnit) size() Length {
	if u == Feet {
		return Foot
	}
	return Metre
}

// ParseLength reads a plain decimal of metres or feet, not negative, with up to
// six decimals, under 1,000,000.
func ParseLength(s string, u LengthUnit) (Length, error) {
	t := strings.TrimSpace(s)
	whole, dec, _ := strings.Cut(t, ".")
	for i := 0; i < len(s); i++ {
		if c := s[i]; c != '.' && c != ' ' && (c < '0' || c > '9') {
			return 0, bad(s, i, ErrSyntax, "a length is a plain decimal, such as 12.345")
		}
	}
	switch {
	case whole == "" && dec == "":
		return 0, bad(s, 0, ErrIncomplete, "no digits yet")
	case strings.ContainsAny(t, " ") || strings.Contains(dec, "."):
		return 0, bad(s, len(whole), ErrSyntax, "a length is one plain decimal, such as 12.345")
	case number(whole) >= 1_000_000:
		return 0, bad(s, 0, ErrRange, "longer than a line of sight can be")
	case len(strings.TrimRight(dec, "0")) > 6:
		return 0, bad(s, len(s)-1, ErrPrecision, "more than six decimals")
	}
	step, l := u.size(), Length(number(whole))*u.size()
	for i := 0; i < len(dec) && i < 6; i++ {
		step /= 10
		l += Length(dec[i]-'0') * step
	}
	return l, nil
}
