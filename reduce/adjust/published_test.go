package adjust

import (
	"math"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// P25: station adjustment of two rounds after Hausbrandt and Weigel, gon (Polish course
// work, zanotowane.pl 1091/717): directions, [vv] 82.40, m₀ 4.5 cc, mK 3.2 cc.
func TestStation_TwoRoundsInGon(t *testing.T) {
	var sights []Sight
	for i, round := range [][]string{{"0.0000", "0.2977", "115.9872", "191.1496", "192.3077"}, {"0.0000", "0.2991", "115.9882", "191.1502", "192.3076"}} {
		for j, s := range round {
			a, err := reduce.ParseWritten(s, reduce.GonUnit)
			if err != nil {
				t.Fatal(err)
			}
			sights = append(sights, Sight{i, j, reduce.DirectionAt(a)})
		}
	}
	st := adjusted(t, sights, 2, 5)
	for j, want := range []float64{0, 0.29840, 115.98770, 191.14990, 192.30765} {
		testdata.Near(t, "direction, gon", float64(st.Directions[j].Angle())/float64(reduce.Gon), want, 0.000005)
	}
	cc := reduce.Gon.Seconds() / 10000
	vv := 0.0
	for _, v := range st.Residuals {
		vv += v * v / cc / cc
	}
	testdata.Near(t, "[vv], cc²", vv, 82.40, 0.005)
	testdata.Near(t, "m₀, cc", st.S0/cc, 4.539, 0.0005)
	testdata.Near(t, "mK, cc", st.MeanSD(1)/cc, 3.209, 0.0005)
}

// P39: rounds for a wanted precision (rule read at rpls.com; table computed): a direction
// has σ/√m, an angle σ·√(2/m), as the cofactors of complete rounds say.
func TestRoundsForAWantedPrecision(t *testing.T) {
	for _, c := range [][4]float64{{5, 2, 7, 13}, {5, 3, 3, 6}, {3, 1, 9, 18}, {2, 1, 4, 8}, {1, 0.5, 4, 8}} {
		least := func(sd func(st *Station) float64) float64 {
			for m := 1; ; m++ {
				var sights []Sight
				for i := range m {
					sights = append(sights, Sight{Round: i}, Sight{Round: i, Target: 1})
				}
				st := adjusted(t, sights, m, 2)
				if c[0]*sd(st) <= c[1]+1e-9 {
					return float64(m)
				}
			}
		}
		testdata.Near(t, "rounds for a direction", least(func(st *Station) float64 { return math.Sqrt(st.angleCofactor(0, 1) / 2) }), c[2], 0)
		testdata.Near(t, "rounds for an angle", least(func(st *Station) float64 { return math.Sqrt(st.angleCofactor(0, 1)) }), c[3], 0)
	}
}
