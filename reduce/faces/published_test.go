package faces

import (
	"os"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// TestMain holds the table of the largest differences to printed figures.
func TestMain(m *testing.M) {
	os.Exit(testdata.Differences(m, "differences-faces.md", func(string) string { return "″" }))
}

// meetsAngle holds an angle against a printed one; the difference is in seconds.
func meetsAngle(t *testing.T, f testdata.Printed, quantity string, got reduce.Angle, printed string) {
	t.Helper()
	f.MeetsBy(t, quantity, (got - at(t, printed)).Wrap().Seconds(), printed)
}

// dms is degrees, minutes and seconds as one Angle.
func dms(d, m int64, s float64) reduce.Angle {
	return reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.FromSeconds(s)
}

// at reads a written angle or ends the test.
func at(t testing.TB, s string) reduce.Angle {
	t.Helper()
	return testdata.Parsed(t, reduce.ParseDMS, s)
}
