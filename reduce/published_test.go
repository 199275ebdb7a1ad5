package reduce

import (
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// TestMain holds the table of the largest differences to printed figures.
func TestMain(m *testing.M) { os.Exit(testdata.Differences(m, "differences.md", unitOf)) }

// unitOf names the unit a quantity's difference is in; statistics and limits have
// none.
func unitOf(quantity string) string {
	for _, u := range []struct{ unit, words string }{
		{" %", "gradient"}, {" gon", "direction in gon,gon"}, {" mil", "horizontal angle in mils"},
		{" m or ft", "curvature,curvature and refraction,height,height difference,reciprocal height difference,horizontal distance,rise,slope less horizontal,standard deviation of HD"},
		{"″²", "sum of squares,pooled sum of squares,pooled variance"},
		{"", "1/F,F,Student's t,chi square,chi square limit,chi square statistic,factor on the stated value,k from a pair,non-centrality,normal deviate,normal limit,pooled degrees of freedom,redundancy number,tau limit,tau statistic"},
	} {
		if slices.Contains(strings.Split(u.words, ","), quantity) {
			return u.unit
		}
	}
	return "″"
}

// meetsAngle holds an angle against a printed one; the difference is in seconds.
func meetsAngle(t *testing.T, f testdata.Printed, quantity string, got Angle, printed string) {
	t.Helper()
	f.MeetsBy(t, quantity, (got - at(t, printed)).Wrap().Seconds(), printed)
}
