package adjust

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
)

// drawSights makes a station whose every target the RO's group reaches.
func drawSights(t *rapid.T) (sights []Sight, rounds, targets int) {
	rounds, targets = rapid.IntRange(1, 5).Draw(t, "rounds"), rapid.IntRange(2, 6).Draw(t, "targets")
	complete := rapid.Bool().Draw(t, "complete")
	base := make([]reduce.Angle, targets)
	for j := 1; j < targets; j++ {
		base[j] = reduce.Angle(rapid.Int64Range(0, int64(reduce.Turn)-1).Draw(t, "direction"))
	}
	for i := range rounds {
		start := reduce.Angle(rapid.Int64Range(0, int64(reduce.Turn)-1).Draw(t, "start"))
		for j := range targets {
			e := reduce.Angle(rapid.Int64Range(-20_000_000, 20_000_000).Draw(t, "error"))
			if complete || i == 0 || rapid.IntRange(0, 3).Draw(t, "seen") > 0 {
				sights = append(sights, Sight{i, j, reduce.DirectionAt(start + base[j] + e)})
			}
		}
	}
	return sights, rounds, targets
}

// same wants two directions equal, to one micro-arcsecond where least squares
// rounded them.
func same(t *rapid.T, what string, a, b reduce.Angle, complete bool) {
	t.Helper()
	d := (a - b).Wrap().Abs()
	if d > 1 || complete && d != 0 {
		t.Fatalf("%s: %d and %d", what, a, b)
	}
}

func solveRapid(t *rapid.T, sights []Sight, rounds, targets int) *Station {
	t.Helper()
	st, err := Sights(sights, rounds, targets)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func TestStation_TurningARoundChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sights, rounds, targets := drawSights(t)
		a := solveRapid(t, sights, rounds, targets)
		i, turn := rapid.IntRange(0, rounds-1).Draw(t, "round"), reduce.Angle(rapid.Int64().Draw(t, "turn")/2)
		turned := append([]Sight(nil), sights...)
		for k := range turned {
			if turned[k].Round == i {
				turned[k].Mean = turned[k].Mean.Add(turn)
			}
		}
		b := solveRapid(t, turned, rounds, targets)
		for j := range targets {
			same(t, "direction", a.Directions[j].Angle(), b.Directions[j].Angle(), len(sights) == rounds*targets)
		}
		if math.Abs(a.S0-b.S0) > 1e-6 {
			t.Fatalf("s0 %g and %g", a.S0, b.S0)
		}
	})
}

func TestStation_OrderOfTargetsAndRoundsChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sights, rounds, targets := drawSights(t)
		a := solveRapid(t, sights, rounds, targets)
		r := rapid.Permutation(indices(rounds)).Draw(t, "rounds")
		p := append([]int{0}, rapid.Permutation(indices(targets)[1:]).Draw(t, "targets")...)
		moved := rapid.Permutation(sights).Draw(t, "sights")
		for k := range moved {
			moved[k].Round, moved[k].Target = r[moved[k].Round], p[moved[k].Target]
		}
		b := solveRapid(t, moved, rounds, targets)
		for j := range targets {
			same(t, "direction", a.Directions[j].Angle(), b.Directions[p[j]].Angle(), len(sights) == rounds*targets)
			for k := range targets {
				if math.Abs(a.cofactor(j, k)-b.cofactor(p[j], p[k])) > 1e-9 {
					t.Fatalf("cofactor %d, %d: %g and %g", j, k, a.cofactor(j, k), b.cofactor(p[j], p[k]))
				}
			}
		}
	})
}

func indices(n int) []int {
	x := make([]int, n)
	for i := range x {
		x[i] = i
	}
	return x
}

// Another target as RO: the angles and their precision stay.
func TestStation_AnyTargetMayBeTheRO(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sights, rounds, targets := drawSights(t)
		a := solveRapid(t, sights, rounds, targets)
		ro := rapid.IntRange(0, targets-1).Draw(t, "RO")
		p := indices(targets)
		p[0], p[ro] = ro, 0
		moved := append([]Sight(nil), sights...)
		for k := range moved {
			moved[k].Target = p[moved[k].Target]
		}
		b := solveRapid(t, moved, rounds, targets)
		for j := range targets {
			for k := range targets {
				if d := (a.Directions[k].Sub(a.Directions[j]) - b.Directions[p[k]].Sub(b.Directions[p[j]])).Wrap().Abs(); d > 3 {
					t.Fatalf("angle %d → %d differs by %d", j, k, d)
				}
				if math.Abs(a.angleCofactor(j, k)-b.angleCofactor(p[j], p[k])) > 1e-9 {
					t.Fatalf("cofactor of angle %d → %d", j, k)
				}
			}
		}
	})
}

// Complete rounds: the plain mean, worked here with nothing but integers.
func TestStation_CompleteIsThePlainMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rounds, targets := rapid.IntRange(1, 9).Draw(t, "rounds"), rapid.IntRange(2, 6).Draw(t, "targets")
		var sights []Sight
		sum := make([]int64, targets) // of the reduced directions, about 100°
		for i := range rounds {
			start := reduce.Angle(rapid.Int64Range(0, int64(reduce.Turn)-1).Draw(t, "start"))
			sights = append(sights, Sight{i, 0, reduce.DirectionAt(start)})
			for j := 1; j < targets; j++ {
				d := 100*reduce.Degree + reduce.Angle(rapid.Int64Range(-30_000_000, 30_000_000).Draw(t, "direction"))
				sum[j] += int64(d)
				sights = append(sights, Sight{i, j, reduce.DirectionAt(start + d)})
			}
		}
		st := solveRapid(t, sights, rounds, targets)
		for j := 1; j < targets; j++ {
			n := int64(rounds)
			if want := (2*sum[j] + n) / (2 * n); int64(st.Directions[j].Angle()) != want {
				t.Fatalf("direction %d: %d, plain mean %d", j, st.Directions[j], want)
			}
		}
	})
}

// The faces' roles exchanged: the same directions, the opposite collimation.
func TestFaces_ExchangedRolesChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rounds, targets := rapid.IntRange(1, 3).Draw(t, "rounds"), rapid.IntRange(2, 4).Draw(t, "targets")
		c := reduce.Angle(rapid.Int64Range(-60_000_000, 60_000_000).Draw(t, "c"))
		rs := faceGrid(rounds, targets, c, func(int) reduce.Angle { return reduce.Angle(rapid.Int64Range(-9_000_000, 9_000_000).Draw(t, "e")) })
		other := append([]Reading(nil), rs...)
		for k := range other {
			other[k].Face = other[k].Face.Other()
		}
		a, err := Readings(rs, rounds, targets)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Readings(other, rounds, targets)
		if err != nil {
			t.Fatal(err)
		}
		for j := range targets {
			same(t, "direction", a.Directions[j].Angle(), b.Directions[j].Angle(), false)
		}
		if math.Abs(a.Collimation+b.Collimation) > 1e-6 || math.Abs(a.VV-b.VV) > 1e-6*max(1, a.VV) {
			t.Fatalf("c %g and %g, vv %g and %g", a.Collimation, b.Collimation, a.VV, b.VV)
		}
		for k := 0; k < len(rs); k += 2 {
			x := faces.PairMean(rs[k].Value, rs[k+1].Value).Sub(faces.PairMean(rs[k+1].Value, rs[k].Value).Opposite())
			if x.Abs() > 1 { // half of an odd 2c rounds away from zero on either side
				t.Fatalf("pair means %d apart", x)
			}
		}
	})
}

// rate checks a count against its expectation within 4 standard deviations of a
// binomial count: a sound program fails once in 16,000 seeds.
func rate(t *testing.T, what string, hits, n int, want float64) {
	t.Helper()
	limit := 4 * math.Sqrt(want*(1-want)/float64(n))
	got := float64(hits) / float64(n)
	t.Logf("%s: %d of %d, %.4f, expected %.4f ± %.4f", what, hits, n, got, want, limit)
	if math.Abs(got-want) > limit {
		t.Errorf("seed %d, %s: %d of %d, %.4f, expected %.4f ± %.4f", seedOfRandomTests, what, hits, n, got, want, limit)
	}
}

// Simulated setups with a known truth: the angle lies within its standard
// deviation times the limit as often as stated, and the tests flag sound setups
// at the risk they state.
func TestSimulation_TruthIsRecovered(t *testing.T) {
	const setups, rounds, targets, sigma = 4000, 4, 5, 5.0
	rng := rand.New(rand.NewPCG(seedOfRandomTests, 3))
	truth := []reduce.Angle{0, 51 * reduce.Degree, 130 * reduce.Degree, 207 * reduce.Degree, 359 * reduce.Degree}
	var sights []Sight
	var known, estimated, chi, normal, tau, found int
	for range setups {
		sights = sights[:0]
		for i := range rounds {
			for j := range targets {
				if i == 2 && j == 3 {
					continue // a gap
				}
				e := reduce.FromSeconds(rng.NormFloat64() * sigma)
				sights = append(sights, Sight{i, j, reduce.DirectionAt(reduce.Angle(i)*45*reduce.Degree + truth[j] + e)})
			}
		}
		st, err := Sights(sights, rounds, targets)
		if err != nil {
			t.Fatal(err)
		}
		e := math.Abs((st.Directions[3].Angle() - truth[3]).Wrap().Seconds())
		sd := math.Sqrt(st.angleCofactor(0, 3))
		count(&known, e <= precision.NormalLimit(0.05)*sigma*sd)
		count(&estimated, e <= precision.StudentLimit(0.05, st.Dof)*st.SD(0, 3))
		count(&chi, !precision.Spread{S: st.S0, Dof: st.Dof}.AgainstStated(sigma, 0.05).Passed)
		w, _ := precision.Deviate(st.Residuals[7], st.Redundancy(7), sigma)
		count(&normal, w > precision.NormalLimit(0.01))
		largest := 0.0
		for k, v := range st.Residuals {
			x, _ := precision.Deviate(v, st.Redundancy(k), st.S0)
			largest = max(largest, x)
		}
		count(&tau, largest > precision.TauLimit(0.05, len(sights), st.Dof))
		slip := precision.DetectableError(st.Redundancy(7), sigma, 0.01, 0.80)
		sights[7].Mean = sights[7].Mean.Add(reduce.FromSeconds(slip))
		if st, err = Sights(sights, rounds, targets); err != nil {
			t.Fatal(err)
		}
		w, _ = precision.Deviate(st.Residuals[7], st.Redundancy(7), sigma)
		count(&found, w > precision.NormalLimit(0.01))
	}
	rate(t, "truth within 1.96 σ", known, setups, 0.95)
	rate(t, "truth within t·s₀", estimated, setups, 0.95)
	rate(t, "χ² flags a sound setup", chi, setups, 0.05)
	rate(t, "the normal deviate flags a sound reading", normal, setups, 0.01)
	rate(t, "a slip of the detectable size is flagged", found, setups, 0.80)
	// Pope's limit bounds the risk for all readings together from above.
	t.Logf("tau flags a sound setup: %d of %d", tau, setups)
	if r := float64(tau) / setups; r > 0.062 || r < 0.02 {
		t.Errorf("seed %d: tau flags %.4f of sound setups, at most 0.05 is stated", seedOfRandomTests, r)
	}
}

func count(n *int, yes bool) {
	if yes {
		*n++
	}
}
