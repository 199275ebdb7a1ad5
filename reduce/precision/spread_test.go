package precision

import (
	"math"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

func TestPool_S4(t *testing.T) {
	f := testdata.Published(t, "S4")
	for _, l := range f.All("station") {
		var spreads []Spread
		for _, x := range strings.Fields(l[1]) {
			uu, div, _ := strings.Cut(x, "/")
			d := testdata.Num(t, div)
			spreads = append(spreads, Spread{S: math.Sqrt(testdata.Num(t, uu) / d), Dof: int(d)})
		}
		p := Pool(spreads...)
		uu, div, _ := strings.Cut(l[2], "/")
		f.Meets(t, "pooled sum of squares", p.sumSquares(), uu)
		f.Meets(t, "pooled degrees of freedom", float64(p.Dof), div)
		f.Meets(t, "pooled variance", p.S*p.S, l[3])
	}
	if p := Pool(); p != (Spread{}) {
		t.Errorf("nothing pooled: %+v", p)
	}
}

func TestSampleSpread_F45(t *testing.T) {
	f := testdata.Published(t, "F45")
	var x []float64
	for _, s := range strings.Fields(f.One(t, "seconds")[0]) {
		x = append(x, testdata.Num(t, s))
	}
	mean, s := SampleSpread(x)
	f.Meets(t, "mean of repeated readings", mean, f.One(t, "mean")[0])
	f.Meets(t, "sum of squares", s.sumSquares(), f.One(t, "vv")[0])
	f.Meets(t, "s of one reading", s.S, f.One(t, "s")[0])
	sm := s.S / math.Sqrt(float64(len(x)))
	f.Meets(t, "s of the mean", sm, f.One(t, "smean")[0])
	f.Meets(t, "Student's t", StudentLimit(0.05, s.Dof), f.One(t, "t")[0])
	f.Meets(t, "95 % limits", StudentLimit(0.05, s.Dof)*sm, f.One(t, "limits")[0])
}

func TestPrecision_FactorsM3(t *testing.T) {
	f := testdata.Published(t, "M3")
	for _, l := range f.All("factor") {
		dof := int(testdata.Num(t, l[0]))
		s := Spread{S: 1, Dof: dof}
		f.Meets(t, "chi square", s.AgainstStated(1, 0.05).High, l[1])
		f.Meets(t, "factor on the stated value", StatedFactor(dof, 0.05), l[2])
		test := s.Against(s, 0.05)
		f.Meets(t, "F", test.High, l[3])
		f.Meets(t, "1/F", test.Low, l[4])
		f.Meets(t, "Student's t", StudentLimit(0.05, dof), l[5])
	}
}

func TestAgainstStated_S15(t *testing.T) {
	f := testdata.Published(t, "S15")
	s := Spread{S: testdata.Num(t, f.One(t, "s")[0]), Dof: 99}
	test := s.AgainstStated(testdata.Num(t, f.One(t, "sigma")[0]), 0.05)
	f.Meets(t, "chi square statistic", test.Statistic, f.One(t, "statistic")[0])
	f.Meets(t, "chi square limit", test.High, f.One(t, "limit")[0])
	for _, l := range f.All("station") {
		dof := int(testdata.Num(t, l[1]))
		s := Spread{S: math.Sqrt(testdata.Num(t, l[0]) / float64(dof)), Dof: dof}
		test := s.AgainstStated(testdata.Num(t, l[2]), 0.05)
		f.Meets(t, "chi square statistic", test.Statistic, l[3])
		f.Meets(t, "chi square limit", test.High, l[4])
		if test.Passed != (l[5] == "yes") || !test.Possible {
			t.Errorf("station %v: %+v", l, test)
		}
	}
}

// The interval's ends are where the one-sided tests at half the risk turn.
func TestConfidence(t *testing.T) {
	s := Spread{S: 5, Dof: 32}
	low, high := s.Confidence(0.95)
	testdata.Near(t, "upper end", s.sumSquares()/(low*low), chiQuantile(0.975, 32), 1e-9)
	testdata.Near(t, "lower end", s.sumSquares()/(high*high), chiQuantile(0.025, 32), 1e-9)
	if !(low < 5 && 5 < high) {
		t.Errorf("%g to %g", low, high)
	}
	if lo, hi := (Spread{}).Confidence(0.95); lo != 0 || !math.IsInf(hi, 1) {
		t.Error("an interval out of nothing")
	}
}

func TestPrecision_NothingToTest(t *testing.T) {
	none := Spread{}
	for _, x := range []Test{none.AgainstStated(1, .05), (Spread{1, 3}).AgainstStated(0, .05), none.Against(Spread{1, 1}, .05), (Spread{1, 1}).Against(none, .05)} {
		if x.Possible || x.Passed {
			t.Errorf("%+v", x)
		}
	}
	if !math.IsInf(StatedFactor(0, .05), 1) || !math.IsInf(StudentLimit(.05, 0), 1) {
		t.Error("a factor without degrees of freedom")
	}
}

func TestSampleSpread_OfTooFew(t *testing.T) {
	if m, s := SampleSpread(nil); m != 0 || s != (Spread{}) {
		t.Error("nothing has a spread")
	}
	if m, s := SampleSpread([]float64{3}); m != 3 || s != (Spread{}) {
		t.Error("one value has no spread")
	}
}

// What a limit of Student's is at least is held against the quantiles of gonum, from one
// degree of freedom to ten thousand: above the normal limit, and within two in a hundred from thirty on (our own figure).
func TestStudentLeast(t *testing.T) {
	for _, alpha := range []float64{0.5, 0.2, 0.05, 0.02, 1e-3, 1e-4, 1e-6} {
		for dof := 1.0; dof < 1e4; dof *= 1.07 {
			least, limit, normal := StudentLeast(alpha, dof), StudentLimit(alpha, dof), NormalLimit(alpha)
			if !(least < limit && least > normal) || dof > 30 && least < 0.98*limit {
				t.Errorf("risk %g, %.2f degrees of freedom: at least %.6f, Student's %.6f, normal %.6f", alpha, dof, least, limit, normal)
			}
		}
	}
	if StudentLeast(0.05, 0.5) != 0 || StudentLeast(0, 5) != 0 {
		t.Error("a limit where there is none")
	}
}
