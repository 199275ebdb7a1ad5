package adjust

import (
	"os"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// TestMain holds the table of the largest differences to printed figures.
func TestMain(m *testing.M) {
	os.Exit(testdata.Differences(m, "differences-adjust.md", func(quantity string) string {
		switch quantity {
		case "direction in gon":
			return " gon"
		case "sum of squares":
			return "″²"
		case "redundancy number", "tau statistic", "normal deviate":
			return ""
		}
		return "″"
	}))
}

// at reads a written angle or ends the test.
func at(t testing.TB, s string) reduce.Angle {
	t.Helper()
	return testdata.Parsed(t, reduce.ParseDMS, s)
}

// meetsAngle holds an angle against a printed one; the difference is in seconds.
func meetsAngle(t *testing.T, f testdata.Printed, quantity string, got reduce.Angle, printed string) {
	t.Helper()
	f.MeetsBy(t, quantity, (got - at(t, printed)).Wrap().Seconds(), printed)
}
