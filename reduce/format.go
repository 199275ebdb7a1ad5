package reduce

import (
	"fmt"
	"strings"
)

// Format returns the angle in the unit u with the given number of decimals (of
// the second, of the gon, of the degree, of the mil), rounded half away from zero
// before it is split, so that 59.96″ at one place carries into the minute. A minus
// sign stands before everything. Degrees are not padded: 5°04′09″, −0°00′12″,
// 360°00′00″. A decimal has no mark behind it. More places than the angle holds, 6
// of the second, 7 of the gon, 8 of the degree, 5 of the mil, are not printed.
func (a Angle) Format(u Unit, places int) string {
	places = held(u, places)
	step := quantum(u, places)
	var room [40]byte
	b := room[:0]
	r := a.Round(step)
	if r < 0 {
		b, r = append(b, "−"...), -r
	}
	if u.Decimal() {
		return string(appendDecimal(b, r, u.Whole(), places, 1))
	}
	b = append(appendPadded(b, int64(r/Degree), 1), "°"...)
	b = append(appendPadded(b, int64(r%Degree/Arcminute), 2), "′"...)
	return string(append(appendDecimal(b, r%Arcminute, Arcsecond, places, 2), "″"...))
}

// FormatSeconds returns the angle in seconds with its sign and the given number
// of decimals: +12.5″, −6″.
func (a Angle) FormatSeconds(places int) string {
	places = held(DMS, places)
	r := a.Round(quantum(DMS, places))
	var room [40]byte
	b := room[:0]
	if r < 0 {
		b, r = append(b, "−"...), -r
	} else {
		b = append(b, '+')
	}
	return string(append(appendDecimal(b, r, Arcsecond, places, 1), "″"...))
}

// FormatSmall returns a small angle with its sign in the small unit of the
// circle: seconds, milligon, degrees or mils; whole where that is exact, else with
// one decimal, degrees with four and mils with three at the most: +12.5″, −6″,
// +1.9 mgon, +0.0012°, −0.35 mil.
func (a Angle) FormatSmall(u Unit) string {
	if !u.Decimal() {
		if a%Arcsecond == 0 {
			return a.FormatSeconds(0)
		}
		return a.FormatSeconds(1)
	}
	sign := "+"
	if a < 0 {
		sign, a = "−", -a
	}
	text := smallDecimal(a, u, of(u).fine)
	return sign + strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + SmallMark(u)
}

// smallDecimal prints an angle that is not negative as a decimal of the small unit.
func smallDecimal(a Angle, u Unit, places int) string {
	if u == GonUnit { // a milligon takes no more than four decimals itself
		a *= 1000
	}
	return a.Format(u, places)
}

// FormatSize is FormatSmall without the sign.
func (a Angle) FormatSize(u Unit) string {
	return strings.TrimPrefix(a.Abs().FormatSmall(u), "+")
}

// FormatAgainst prints a small angle, with its sign, and the limit it is held
// against, so that the figures show what was judged: as FormatSmall and FormatSize
// do, and with more decimals where those would look alike and the angles are not:
// +4.52″ and 4.50″, not +4.5″ and 4.5″.
func (a Angle) FormatAgainst(limit Angle, u Unit) (value, bound string) {
	value, bound = a.FormatSmall(u), limit.FormatSize(u)
	for places := of(u).fine + 1; places <= 8 && a.Abs() != limit && value[signLength(value):] == bound; places++ {
		if !u.Decimal() {
			value, bound = a.FormatSeconds(places), limit.FormatSeconds(places)[1:]
			continue
		}
		sign := "+"
		if a < 0 {
			sign = "−"
		}
		value, bound = sign+smallDecimal(a.Abs(), u, places)+SmallMark(u), smallDecimal(limit, u, places)+SmallMark(u)
	}
	return value, bound
}

// About prints about how large a gross difference is, without its sign: 1°00′, 82°,
// 1.1 gon. It is empty under ten minutes of arc, where the figure itself is printed.
func (a Angle) About(u Unit) string {
	a = a.Abs()
	switch {
	case a < 10*Arcminute:
		return ""
	case u.Decimal() && a < 10*u.Whole():
		return a.Format(u, 1) + u.Mark()
	case u.Decimal():
		return a.Format(u, 0) + u.Mark()
	case a < 10*Degree:
		a = a.Round(Arcminute)
		return fmt.Sprintf("%d°%02d′", a/Degree, a%Degree/Arcminute)
	}
	return fmt.Sprintf("%d°", a.Round(Degree)/Degree)
}

// SizeAgainst is FormatAgainst without the sign; a gross one beyond the limit is
// printed as About has it.
func (a Angle) SizeAgainst(limit Angle, u Unit) (value, bound string) {
	if gross := a.About(u); gross != "" && a.Abs() > limit {
		return "about " + gross, limit.FormatSize(u)
	}
	value, bound = a.Abs().FormatAgainst(limit, u)
	return value[1:], bound
}

// signLength is how many bytes the sign before a figure takes.
func signLength(figure string) int {
	if strings.HasPrefix(figure, "−") {
		return len("−")
	}
	return 1
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
	return max(0, min(places, of(u).most))
}

// quantum is the size of the last printed digit.
func quantum(u Unit, places int) Angle {
	if u.Decimal() {
		return quantumOf(u.Whole(), held(u, places))
	}
	return quantumOf(Arcsecond, held(u, places))
}

// appendDecimal prints r, not negative and rounded already, as a decimal number of
// unit with so many digits before the point at least.
func appendDecimal(b []byte, r, unit Angle, places, digits int) []byte {
	b = appendPadded(b, int64(r/unit), digits)
	if places <= 0 {
		return b
	}
	return appendPadded(append(b, '.'), int64(r%unit/quantumOf(unit, places)), places)
}

// appendPadded prints a whole number, not negative, with so many digits at least.
func appendPadded(b []byte, n int64, digits int) []byte {
	var d [20]byte
	i := len(d)
	for ; n > 0 || digits > 0; digits-- {
		i--
		d[i] = byte('0' + n%10)
		n /= 10
	}
	return append(b, d[i:]...)
}

// quantumOf is unit with its point moved by places.
func quantumOf(unit Angle, places int) Angle {
	for ; places > 0; places-- {
		unit /= 10
	}
	return unit
}
