package reduce

import (
	"fmt"
	"math"
	"strings"
)

// FormatDeviation prints a small worked angle without its sign, given in seconds,
// in the small unit of the circle: with the given number of decimals of the
// second, or one more of the milligon, which has about a third of its worth.
func FormatDeviation(seconds float64, u Unit, places int) string {
	if u == GonUnit {
		return fmt.Sprintf("%.*f mgon", places+1, seconds/Milligon.Seconds())
	}
	return fmt.Sprintf("%.*f″", places, seconds)
}

// FormatSigned is FormatDeviation with the sign: +12.5″, −3.86 mgon.
func FormatSigned(seconds float64, u Unit, places int) string {
	if u == GonUnit {
		return strings.Replace(fmt.Sprintf("%+.*f mgon", places+1, seconds/Milligon.Seconds()), "-", "−", 1)
	}
	return FromSeconds(seconds).FormatSeconds(places)
}

// FormatBare is FormatSigned for a column whose head says the unit: +12.5, −3.86.
// What prints as zero has no sign.
func FormatBare(seconds float64, u Unit, places int) string {
	s := strings.TrimSuffix(strings.TrimSuffix(FormatSigned(seconds, u, places), " mgon"), "″")
	if strings.Trim(s, "+−0.") == "" {
		return strings.TrimLeft(s, "+−")
	}
	return s
}

// FormatTick prints seconds for a scale, with their sign and to a tenth of the small
// unit of the circle: +2.5″, −4″; milligon bare: a scale says its unit once.
func FormatTick(seconds float64, u Unit) string {
	size, mark := 1.0, "″"
	if u == GonUnit {
		size, mark = Milligon.Seconds(), ""
	}
	if x := math.Round(10*seconds/size) / 10; x != 0 {
		return strings.Replace(fmt.Sprintf("%+.4g", x), "-", "−", 1) + mark
	}
	return "0" + mark
}

// SmallMark is SmallUnit as it stands behind a figure: 12.5″, 3.86 mgon.
func SmallMark(u Unit) string {
	if u == GonUnit {
		return " mgon"
	}
	return "″"
}

// SmallUnit names the small unit of the circle, for the head of a column.
func SmallUnit(u Unit) string {
	if u == GonUnit {
		return "mgon"
	}
	return "″"
}
