package network

import "example.org/readback/reduce"

// small prints a small angle without its sign in the unit of the circle: seconds,
// from 100″ on degrees, minutes and seconds; the small unit of a decimal circle.
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

// against prints a difference with its sign, or without where sign is false, and the
// limit it is held against, so that the figures show what was judged.
func against(a, limit reduce.Angle, u reduce.Unit, sign bool) (miss, most string) {
	switch miss, most = small(a, u), small(limit, u); {
	case miss == most && sign:
		return a.FormatAgainst(limit, u)
	case miss == most:
		return a.SizeAgainst(limit, u)
	case sign:
		miss = withSign(a, u)
	}
	return miss, most
}
