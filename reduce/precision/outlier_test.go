package precision

import (
	"math"
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
	if _, ok := Deviate(3, 0, 1); ok {
		t.Error("a reading nothing checks was tested")
	}
	if _, ok := Deviate(3, 0.5, 0); ok {
		t.Error("tested against no scatter")
	}
	for _, x := range []float64{NormalLimit(0), NormalLimit(1), NormalLimit(math.NaN()), TauLimit(0.05, 8, 1), TauLimit(0.05, 0, 4), nonCentrality(.05, 1),
		DetectableError(0, 5, .001, .8), DetectableAfterRounds(0, 0, 5, .001, .8)} {
		if x != inf {
			t.Errorf("got %g, want +Inf", x)
		}
	}
}

// P41: largest residual over its own standard deviation, σ from the same adjustment
// (J. Appl. Math. 2021, 1478843, table 1; two unknowns; α 0.10, 0.05, 0.01). n = 4 at
// 0.01 is a misprint there: 0.4142 for 1.4142.
func TestTauLimit_PublishedTable(t *testing.T) {
	for n, want := range map[int][3]float64{
		4: {1.4131, 1.4139, 1.4142}, 5: {1.6974, 1.7147, 1.7286}, 6: {1.8838, 1.9270, 1.9751}, 7: {2.0142, 2.0799, 2.1667}, 8: {2.1125, 2.1961, 2.3178},
		9: {2.1911, 2.2883, 2.4398}, 10: {2.2562, 2.3643, 2.5407}, 12: {2.3602, 2.4840, 2.6988}, 14: {2.4414, 2.5760, 2.8186}, 16: {2.5079, 2.6502, 2.9136},
	} {
		for i, alpha := range []float64{0.10, 0.05, 0.01} {
			testdata.Near(t, "tau limit", TauLimit(alpha, n, n-2), want[i], 0.0001)
		}
	}
	if d := TauLimit(0.01, 4, 2) - 0.4142; math.Abs(d) < 0.1 {
		t.Error("the misprint agrees")
	}
}
