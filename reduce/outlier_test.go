package reduce

import (
	"math"
	"strings"
	"testing"
)

func TestOutlier_LimitsM12(t *testing.T) {
	f := published(t, "M12")
	for _, l := range f.all("normal") {
		f.meets(t, "normal limit", NormalLimit(num(t, l[0])), l[1])
	}
	for _, l := range f.all("delta") {
		f.meets(t, "non-centrality", nonCentrality(num(t, l[0]), num(t, l[1])), l[2])
	}
	for _, l := range f.all("tau") {
		n, dof := int(num(t, l[1])), int(num(t, l[2]))
		got := TauLimit(num(t, l[0]), n, dof)
		f.meets(t, "tau limit", got, l[3])
		if got > math.Sqrt(float64(dof)) {
			t.Errorf("tau limit %g above √%d", got, dof)
		}
	}
}

// S14: the two tests on the published adjustments S1 and S2, σ = 2″.
func TestOutlier_S14(t *testing.T) {
	for _, name := range []string{"S1", "S2"} {
		f := published(t, name)
		sights, targets, observed := anglesAsRounds(t, f)
		st := adjust(t, sights, len(observed), targets)
		var largest, largestTau float64
		for i, want := range strings.Fields(f.one(t, "tau")[0]) {
			// One direction of an angle has half its variance and half its residual.
			tau, ok := Tau(st.Residuals[2*i], st.Redundancy(2*i), st.S0)
			if !ok {
				t.Fatal("no redundancy")
			}
			f.meets(t, "tau statistic", tau, want)
			w, _ := normalDeviate(st.Residuals[2*i], st.Redundancy(2*i), 2/math.Sqrt2)
			largest, largestTau = max(largest, w), max(largestTau, tau)
			if name == "S1" {
				f.meets(t, "normal deviate", w, strings.Fields(f.one(t, "w")[0])[i])
			}
		}
		if name == "S2" { // flagged with the stated σ, not with the estimated one
			f.meets(t, "normal deviate", largest, f.one(t, "wmax")[0])
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
	near(t, "two rounds", DetectableAfterRounds(2, 4, 5, 0.001, 0.8), 5*4.132/math.Sqrt(3.0/8), 0.01)
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
