package landxml

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// angleText writes an angle that is not negative as the file's angularUnit wants
// it, from whole micro-arcseconds, so that 59.95″ carries into the minute and is
// never rounded to 60.
func angleText(a reduce.Angle, gon bool) string {
	if gon {
		return trimmed(a.Format(reduce.GonUnit, 7), 0)
	}
	d, r := a/reduce.Degree, a%reduce.Degree
	m, r := r/reduce.Arcminute, r%reduce.Arcminute
	return trimmed(fmt.Sprintf("%d.%02d%02d%06d", d, m, r/reduce.Arcsecond, r%reduce.Arcsecond), 4)
}

// trimmed takes the zeros off the end of a decimal, down to least decimals.
func trimmed(s string, least int) string {
	for strings.HasSuffix(s, "0") && len(s)-strings.Index(s, ".")-1 > least {
		s = s[:len(s)-1]
	}
	return strings.TrimSuffix(s, ".")
}

// lengthText writes a booked length in metres, exactly.
func lengthText(l lengths.Length) string {
	return trimmed(fmt.Sprintf("%d.%09d", l/lengths.Metre, l%lengths.Metre), 0)
}

// metresText writes a computed length in metres, to a tenth of a millimetre;
// nothing where it is no number.
func metresText(m float64) string {
	if math.IsNaN(m) || math.IsInf(m, 0) {
		return ""
	}
	return strconv.FormatFloat(m, 'f', 4, 64)
}

// timeText writes a moment with its zone.
func timeText(t time.Time) string {
	return t.UTC().Format(time.RFC3339)
}

// zenithReading turns a vertical circle reading into one of a circle graduated
// from the zenith: as read there; from a horizon circle 90° − V on face left and
// 450° − V on face right.
func zenithReading(r booking.Reading, c faces.Circle) reduce.Angle {
	switch {
	case c != faces.Horizon:
		return r.Angle()
	case r.Slot.Face == faces.FR:
		return (reduce.Turn + reduce.QuarterTurn - r.Angle()).Normalize()
	}
	return (reduce.QuarterTurn - r.Angle()).Normalize()
}

// clean returns s without what XML cannot hold: a control character is shown by
// its picture, so that two names do not become one.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < 0x20:
			return 0x2400 + r
		case r == 0xfffe || r == 0xffff:
			return 0xfffd
		}
		return r
	}, s)
}
