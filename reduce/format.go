package reduce

import (
	"fmt"
	"strings"
)

// Format returns the angle in the unit u with the given number of decimals (of
// the second, of the gon), rounded half away from zero before it is split, so
// that 59.96″ at one place carries into the minute. A minus sign stands before
// everything. Degrees are not padded: 5°04′09″, −0°00′12″, 360°00′00″. More
// places than the angle holds, 6 of the second and 7 of the gon, are not printed.
func (a Angle) Format(u Unit, places int) string {
	places = held(u, places)
	step := quantum(u, places)
	sign := ""
	r := a.Round(step)
	if r < 0 {
		sign, r = "−", -r
	}
	if u == GonUnit {
		return sign + decimal(r, Gon, places)
	}
	d, r := r/Degree, r%Degree
	m, s := r/Arcminute, r%Arcminute
	return fmt.Sprintf("%s%d°%02d′%s″", sign, d, m, padded(s, places))
}

// FormatSeconds returns the angle in seconds with its sign and the given number
// of decimals: +12.5″, −6″.
func (a Angle) FormatSeconds(places int) string {
	places = held(DMS, places)
	r := a.Round(quantum(DMS, places))
	sign := "+"
	if r < 0 {
		sign, r = "−", -r
	}
	return sign + decimal(r, Arcsecond, places) + "″"
}

// FormatSmall returns a small angle with its sign in the small unit of the
// circle: seconds, or milligon where it is divided in gon; whole where that is
// exact, else with one decimal: +12.5″, −6″, +1.9 mgon.
func (a Angle) FormatSmall(u Unit) string {
	if u != GonUnit {
		if a%Arcsecond == 0 {
			return a.FormatSeconds(0)
		}
		return a.FormatSeconds(1)
	}
	sign := "+"
	if a < 0 {
		sign, a = "−", -a
	}
	return sign + strings.TrimSuffix((1000*a).Format(GonUnit, 1), ".0") + " mgon"
}

// FormatSize is FormatSmall without the sign.
func (a Angle) FormatSize(u Unit) string {
	return strings.TrimPrefix(a.Abs().FormatSmall(u), "+")
}

// String prints the exact angle in degrees, minutes and seconds. It does not
// know the unit of the booking; screens and files use Format.
func (a Angle) String() string {
	places := 0
	for q := Arcsecond; places < 6 && a%q != 0; q /= 10 {
		places++
	}
	return a.Format(DMS, places)
}

// held returns places within what an Angle holds.
func held(u Unit, places int) int {
	if u == GonUnit {
		return max(0, min(places, 7))
	}
	return max(0, min(places, 6))
}

// quantum is the size of the last printed digit.
func quantum(u Unit, places int) Angle {
	if u == GonUnit {
		return quantumOf(Gon, held(u, places))
	}
	return quantumOf(Arcsecond, held(u, places))
}

// decimal prints r as a decimal number of unit, r being rounded already.
func decimal(r, unit Angle, places int) string {
	whole, frac := r/unit, r%unit
	if places <= 0 {
		return fmt.Sprintf("%d", whole)
	}
	return fmt.Sprintf("%d.%0*d", whole, places, frac/quantumOf(unit, places))
}

// padded prints seconds with two digits before the point.
func padded(s Angle, places int) string {
	t := decimal(s, Arcsecond, places)
	if s < 10*Arcsecond {
		return "0" + t
	}
	return t
}

// quantumOf is unit with its point moved by places.
func quantumOf(unit Angle, places int) Angle {
	for ; places > 0; places-- {
		unit /= 10
	}
	return unit
}
