package reduce

import (
	"os"
	"testing"

	"example.org/readback/testdata"
)

// TestMain holds the table of the largest differences to printed figures.
func TestMain(m *testing.M) { os.Exit(testdata.Differences(m, "differences.md", unitOf)) }

// unitOf names the unit a quantity's difference is in.
func unitOf(quantity string) string {
	switch quantity {
	case "direction in gon", "gon":
		return " gon"
	case "horizontal angle in mils":
		return " mil"
	}
	return "″"
}

// dms is degrees, minutes and seconds as one Angle.
func dms(d, m int64, s float64) Angle {
	return Angle(d)*Degree + Angle(m)*Arcminute + FromSeconds(s)
}

// at reads a written angle or ends the test.
func at(t testing.TB, s string) Angle {
	t.Helper()
	return testdata.Parsed(t, ParseDMS, s)
}
