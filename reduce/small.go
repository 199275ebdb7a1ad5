package reduce

import (
	"fmt"
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

// SmallUnit names the small unit of the circle, for the head of a column.
func SmallUnit(u Unit) string {
	if u == GonUnit {
		return "mgon"
	}
	return "″"
}
