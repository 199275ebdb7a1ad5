package check

import (
	"math"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
)

// published.md S15: F16 complete against σ₀ = 6″: T = 630/36 = 17.5 > χ²₀.₉₅(3) =
// 7.815, rejected.
func TestPrecision_AgainstStated(t *testing.T) {
	s := booking.Setup{Spec: testSpec()}
	s.Spec.Instrument.Sigma = 6 * reduce.Arcsecond
	r := reduction.Reduction{S0: math.Sqrt(630.0 / 3), Dof: 3, Least: 0.375}
	p := PrecisionOf(s, r)
	if !p.Stated.Possible || p.Stated.Passed || math.Abs(p.Stated.Statistic-17.5) > 0.05 || math.Abs(p.Stated.High-7.815) > 0.0005 {
		t.Errorf("%+v", p.Stated)
	}
}

// Redundancy of complete rounds: (n−1)(t−1)/(n·t); published.md M12, from memory.
func TestReduce_LeastRedundancy(t *testing.T) {
	b := newBench(t, testSpec())
	for _, k := range []string{
		"0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15",
		"90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15",
	} {
		b.key(k)
	}
	r := reduction.Of(b.s)
	if want := 1.0 * 3 / (2 * 4); math.Abs(r.Least-want) > 1e-9 {
		t.Errorf("%v, want %v", r.Least, want)
	}
	p := PrecisionOf(b.s, r)
	if p.Detectable <= p.Another {
		t.Errorf("another round buys nothing: %v, %v", p.Detectable, p.Another)
	}
	if len(p.Sentences()) != 3 {
		t.Errorf("%q", p.Sentences())
	}
}

// With the RO closed, s₀ over what it is of σ on average has the variance σ²: a
// plain experiment with 300 stations of 16 degrees of freedom each, four standard
// errors. As printed it is lower: a mean of two sights counts as one pointing.
func TestReduce_ClosedROMakesS0Low(t *testing.T) {
	const n, sigma = 300, 4.0
	sum, raw, dof := 0.0, 0.0, 0
	for seed := range uint64(n) {
		s, err := observer.New(observer.Options{Seed: seed + 1, Targets: 4, Rounds: 5, LeastCount: reduce.Arcsecond / 10, CloseHalves: true,
			Sigma: reduce.FromSeconds(sigma * math.Sqrt2), NoVerticals: true}).Book()
		if err != nil {
			t.Fatal(err)
		}
		r := reduction.Of(s)
		dof = r.Dof
		raw += r.S0 * r.S0 / n
		sum += r.S0 * r.S0 / (r.Low * r.Low) / n
	}
	if math.Abs(sum/(sigma*sigma)-1) > 4*math.Sqrt(2/float64(n*dof)) {
		t.Errorf("s₀² is %.3f, expected σ² %.3f", sum, sigma*sigma)
	}
	if want := sigma * sigma * (1 - 1.0/10); math.Abs(raw/want-1) > 4*math.Sqrt(2/float64(n*dof)) {
		t.Errorf("as printed s₀² is %.3f, expected %.3f", raw, want)
	}
}
