package reduce

import (
	"math"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

func TestOutlier_LimitsM12(t *testing.T) {
	f := testdata.Published(t, "M12")
	for _, l := range f.All("normal") {
		f.Meets(t, "normal limit", NormalLimit(testdata.Num(t, l[0])), l[1])
	}
	for _, l := range f.All("delta") {
		f.Meets(t, "non-centrality", nonCentrality(testdata.Num(t, l[0]), testdata.Num(t, l[1])), l[2])
	}
	for _, l := range f.All("tau") {
		n, dof := int(testdata.Num(t, l[1])), int(testdata.Num(t, l[2]))
		got := TauLimit(testdata.Num(t, l[0]), n, dof)
		f.Meets(t, "tau limit", got, l[3])
		if got > math.Sqrt(float64(dof)) {
			t.Errorf("tau limit %g above √%d", got, dof)
		}
	}
}

// S14: the two tests on the published adjustments S1 and S2, σ = 2″.
func TestOutlier_S14(t *testing.T) {
	for _, name := range []string{"S1", "S2"} {
		f := testdata.Published(t, name)
		sights, targets, observed := anglesAsRounds(t, f)
		st := adjust(t, sights, len(observed), targets)
		var largest, largestTau float64
		for i, want := range strings.Fields(f.One(t, "tau")[0]) {
			// One direction of an angle has half its variance and half its residual.
			tau, ok := Tau(st.Residuals[2*i], st.Redundancy(2*i), st.S0)
			if !ok {
				t.Fatal("no redundancy")
			}
			f.Meets(t, "tau statistic", tau, want)
			w, _ := normalDeviate(st.Residuals[2*i], st.Redundancy(2*i), 2/math.Sqrt2)
			largest, largestTau = max(largest, w), max(largestTau, tau)
			if name == "S1" {
				f.Meets(t, "normal deviate", w, strings.Fields(f.One(t, "w")[0])[i])
			}
		}
		if name == "S2" { // flagged with the stated σ, not with the estimated one
			f.Meets(t, "normal deviate", largest, f.One(t, "wmax")[0])
			if largest < NormalLimit(0.001) || largestTau > TauLimit(0.05, 14, 8) {
				t.Errorf("S2: w %.3f, tau %.3f: want the first over its limit and the second under", largest, largestTau)
			}
		} else if largestTau > TauLimit(0.05, 8, 4) {
			t.Errorf("S1: tau %.3f rejected", largestTau)
		}
	}
}

// What another round would buy: the least slip that can be told falls with the
// rounds. The redundancies are M12's (from memory), (n−1)(t−1)/(n·t).
func TestDetectableAfterRounds(t *testing.T) {
	if d := DetectableAfterRounds(1, 4, 5, 0.001, 0.8); !math.IsInf(d, 1) {
		t.Errorf("one round reveals %g", d)
	}
	testdata.Near(t, "two rounds", DetectableAfterRounds(2, 4, 5, 0.001, 0.8), 5*4.132/math.Sqrt(3.0/8), 0.01)
	last := math.Inf(1)
	for n := 2; n <= 8; n++ {
		d := DetectableAfterRounds(n, 4, 5, 0.001, 0.8)
		if d >= last {
			t.Errorf("%d rounds: %g not below %g", n, d, last)
		}
		last = d
	}
}

func TestOutlier_NothingToTest(t *testing.T) {
	inf := math.Inf(1)
	if _, ok := normalDeviate(3, 0, 1); ok {
		t.Error("a reading nothing checks was tested")
	}
	if _, ok := Tau(3, 0.5, 0); ok {
		t.Error("tested against no scatter")
	}
	for _, x := range []float64{NormalLimit(0), NormalLimit(1), NormalLimit(math.NaN()), TauLimit(0.05, 8, 1), TauLimit(0.05, 0, 4), nonCentrality(.05, 1),
		DetectableError(0, 5, .001, .8), DetectableAfterRounds(0, 0, 5, .001, .8)} {
		if x != inf {
			t.Errorf("got %g, want +Inf", x)
		}
	}
}
