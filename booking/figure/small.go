package figure

import (
	"strings"

	"example.org/readback/reduce"
)

// small prints a small angle without its sign in the unit of the circle: seconds,
// from 100″ on degrees, minutes and seconds; milligon for gon.
func small(a reduce.Angle, u reduce.Unit) string {
	a = a.Abs()
	if u == reduce.GonUnit {
		return strings.TrimSuffix((1000*a).Format(reduce.GonUnit, 1), ".0") + " mgon"
	}
	if a >= 100*reduce.Arcsecond {
		return a.Format(reduce.DMS, 0)
	}
	places := 1
	if a%reduce.Arcsecond == 0 {
		places = 0
	}
	return strings.TrimPrefix(a.FormatSeconds(places), "+")
}

// withSign prints a small angle with its sign.
func withSign(a reduce.Angle, u reduce.Unit) string {
	if a < 0 {
		return "−" + small(a, u)
	}
	return "+" + small(a, u)
}

func gonMark(u reduce.Unit) string {
	if u == reduce.GonUnit {
		return " gon"
	}
	return ""
}
