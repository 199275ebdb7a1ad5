package reduce

import (
	"fmt"
	"math"
	"strings"

	"example.org/readback/reduce/decimal"
)

// FormatDeviation prints a small worked angle without its sign, given in seconds,
// in the small unit of the circle: with the given number of decimals of the second;
// with one more of the milligon, which has about a third of its worth, three more of
// the mil and four more of the degree.
func FormatDeviation(seconds float64, u Unit, places int) string {
	n := of(u)
	return fmt.Sprintf("%.*f%s", places+n.finer, seconds/n.small.Seconds(), n.smallMark)
}

// FormatSigned is FormatDeviation with the sign: +12.5″, −3.86 mgon.
func FormatSigned(seconds float64, u Unit, places int) string {
	if n := of(u); u.Decimal() {
		return decimal.Sprintf("%+.*f%s", places+n.finer, seconds/n.small.Seconds(), n.smallMark)
	}
	return FromSeconds(seconds).FormatSeconds(places)
}

// FormatBare is FormatSigned for a column whose head says the unit: +12.5, −3.86.
// What prints as zero has no sign.
func FormatBare(seconds float64, u Unit, places int) string {
	s := strings.TrimSuffix(FormatSigned(seconds, u, places), SmallMark(u))
	if strings.Trim(s, "+−0.") == "" {
		return strings.TrimLeft(s, "+−")
	}
	return s
}

// FormatTick prints seconds for a scale, with their sign and to a tenth of the small
// unit of the circle, of degrees and mils finer: +2.5″, −4″; a unit that is a word is
// left out: a scale says it once.
func FormatTick(seconds float64, u Unit) string {
	n := of(u)
	fine := math.Pow10(n.fine)
	x := math.Round(fine*seconds/n.small.Seconds()) / fine
	if x == 0 {
		return WithoutWord("0"+n.smallMark, u)
	}
	return WithoutWord(decimal.Sprintf("%+.4g", x)+n.smallMark, u)
}

// WithoutWord takes the small unit off a figure where it is a word, which the head of
// a column then says: +3.86 mgon becomes +3.86, +12.5″ stays.
func WithoutWord(figure string, u Unit) string {
	if m := SmallMark(u); m[0] == ' ' {
		return strings.TrimSuffix(figure, m)
	}
	return figure
}

// SmallWord is SmallUnit where it is a word, which WithoutWord takes off; else empty.
func SmallWord(u Unit) string {
	if m := SmallMark(u); m[0] == ' ' {
		return m[1:]
	}
	return ""
}

// SmallMark is SmallUnit as it stands behind a figure: 12.5″, 3.86 mgon, 0.0012°.
func SmallMark(u Unit) string { return of(u).smallMark }

// SmallUnit names the small unit of the circle, for the head of a column.
func SmallUnit(u Unit) string { return of(u).smallName }
