package network

import "example.org/readback/reduce"

// small prints a small angle without its sign in the unit of the circle: seconds,
// from 100″ on degrees, minutes and seconds; milligon for gon.
func small(a reduce.Angle, u reduce.Unit) string {
	if u == reduce.DMS && a.Abs() >= 100*reduce.Arcsecond {
		return a.Abs().Format(reduce.DMS, 0)
	}
	return a.FormatSize(u)
}

// withSign prints a small angle with its sign.
func withSign(a reduce.Angle, u reduce.Unit) string {
	if a == 0 {
		return small(a, u)
	}
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
