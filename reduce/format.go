package reduce

import (
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
	var room [40]byte
	b := room[:0]
	r := a.Round(step)
	if r < 0 {
		b, r = append(b, "−"...), -r
	}
	if u == GonUnit {
		return string(appendDecimal(b, r, Gon, places, 1))
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

// FormatAgainst prints a small angle, with its sign, and the limit it is held
// against, so that the figures show what was judged: as FormatSmall and FormatSize
// do, and with more decimals where those would look alike and the angles are not:
// +4.52″ and 4.50″, not +4.5″ and 4.5″.
func (a Angle) FormatAgainst(limit Angle, u Unit) (value, bound string) {
	value, bound = a.FormatSmall(u), limit.FormatSize(u)
	for places := 2; places <= 6 && a.Abs() != limit && value[signLength(value):] == bound; places++ {
		if u != GonUnit {
			value, bound = a.FormatSeconds(places), limit.FormatSeconds(places)[1:]
			continue
		}
		sign := "+"
		if a < 0 {
			sign = "−"
		}
		value, bound = sign+(1000*a.Abs()).Format(GonUnit, places)+" mgon", (1000*limit).Format(GonUnit, places)+" mgon"
	}
	return value, bound
}

// SizeAgainst is FormatAgainst without the sign.
func (a Angle) SizeAgainst(limit Angle, u Unit) (value, bound string) {
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
