package reduce

import "fmt"

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

// FormatDirection is Format for a direction: it wraps into [0, full circle)
// after rounding, so 359°59′59.96″ at one place prints 0°00′00.0″.
func (a Angle) FormatDirection(u Unit, places int) string {
	return a.Round(quantum(u, places)).Normalize().Format(u, places)
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
