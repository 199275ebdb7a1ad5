package adjust

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
	"example.org/readback/testdata"
)

// sightsOf reduces the rounds of a fixture whose RO may be observed twice.
func sightsOf(t *testing.T, f testdata.Printed) []Sight {
	t.Helper()
	names := []string{"A", "B", "C", "D"}
	sum := map[[2]int][]reduce.Direction{}
	var order [][2]int
	for _, r := range f.All("reading") {
		k := [2]int{int(testdata.Num(t, r[0])) - 1, slices.Index(names, r[1])}
		if sum[k] == nil {
			order = append(order, k)
		}
		sum[k] = append(sum[k], faces.PairMean(reduce.DirectionAt(at(t, r[2])), reduce.DirectionAt(at(t, r[3]))))
	}
	var out []Sight
	for _, k := range order {
		m, err := reduce.Mean(sum[k])
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, Sight{Round: k[0], Target: k[1], Mean: m})
	}
	return out
}

func adjusted(t *testing.T, sights []Sight, rounds, targets int) *Station {
	t.Helper()
	st, err := Sights(sights, rounds, targets)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func TestStation_PublishedRounds(t *testing.T) {
	for _, name := range []string{"F16", "F24"} {
		f := testdata.Published(t, name)
		targets := len(f.All("final")) + 1
		st := adjusted(t, sightsOf(t, f), 2, targets)
		for _, l := range f.All("final") {
			j := strings.Index("ABCD", l[0])
			meetsAngle(t, f, "mean direction", st.Directions[j].Angle(), l[1])
			if st.Directions[j].Angle() != at(t, l[1]) {
				t.Errorf("%s: direction %s is %v, printed %s: not exact", name, l[0], st.Directions[j], l[1])
			}
		}
		f.Meets(t, "s of one direction", st.S0, f.One(t, "s")[0])
		testdata.Near(t, name+" dof", float64(st.Dof), testdata.Num(t, f.One(t, "dof")[0]), 0)
		vv, k := 0.0, 0
		for _, l := range f.All("residual") {
			for _, want := range strings.Fields(l[1]) {
				f.Meets(t, "residual", st.Residuals[k], want)
				vv += st.Residuals[k] * st.Residuals[k]
				k++
			}
		}
		f.Meets(t, "sum of squares", vv, f.One(t, "vv")[0])
		for _, l := range f.All("gon") {
			f.Meets(t, "direction in gon", float64(st.Directions[strings.Index("ABCD", l[0])].Angle())/float64(reduce.Gon), l[1])
		}
	}
}

func TestReadings_PublishedMeansAndTwoC(t *testing.T) {
	for _, name := range []string{"F16", "F17", "F24"} {
		f := testdata.Published(t, name)
		n := len(f.All("reading"))
		var means, twoc []string
		for _, l := range f.All("mean") {
			means = append(means, l[1:]...)
		}
		for _, l := range f.All("twoc") {
			twoc = append(twoc, strings.Fields(l[1])...)
		}
		if len(means) != n || len(twoc) != n {
			t.Fatalf("%s: %d readings, %d means, %d 2c", name, n, len(means), len(twoc))
		}
		for i, r := range f.All("reading") {
			meetsAngle(t, f, "mean of the pair", faces.PairMean(reduce.DirectionAt(at(t, r[2])), reduce.DirectionAt(at(t, r[3]))).Angle(), means[i])
			f.Meets(t, "2c", faces.TwoC(reduce.DirectionAt(at(t, r[2])), reduce.DirectionAt(at(t, r[3]))).Seconds(), twoc[i])
		}
	}
}

// A published solution forgets the 180° between the faces: it must not agree.
func TestReadings_F24Misprint(t *testing.T) {
	f := testdata.Published(t, "F24")
	for i, l := range f.All("misprint") {
		r := f.All("reading")[i]
		m := faces.PairMean(reduce.DirectionAt(at(t, r[2])), reduce.DirectionAt(at(t, r[3])))
		if d := (m.Angle() - at(t, l[2])).Wrap().Abs(); d < reduce.Degree {
			t.Errorf("%s %s: the page's wrong mean %s agrees with ours, %v", l[0], l[1], l[2], m)
		}
	}
}

// S13: rounds with gaps. The plain mean of what there is would be 14″ off.
func TestStation_S13(t *testing.T) {
	for _, c := range testdata.Published(t, "S13").Cases() {
		base := []reduce.Angle{0}
		for _, b := range c.One(t, "base") {
			base = append(base, at(t, b))
		}
		var sights []Sight
		for i, r := range c.All("round") {
			for j, x := range strings.Fields(r[0]) {
				if x != "-" {
					start := reduce.Angle(i) * 60 * reduce.Degree
					sights = append(sights, Sight{i, j, reduce.DirectionAt(start + base[j] + reduce.FromSeconds(testdata.Num(t, x)))})
				}
			}
		}
		st := adjusted(t, sights, len(c.All("round")), 4)
		for j, want := range strings.Fields(c.One(t, "direction")[0]) {
			c.Meets(t, "direction, rounds with gaps", (st.Directions[j+1].Angle() - base[j+1]).Seconds(), want)
		}
		for i, want := range strings.Fields(c.One(t, "orientation")[0]) {
			c.Meets(t, "orientation", (st.Orientations[i].Angle() - reduce.Angle(i)*60*reduce.Degree).Wrap().Seconds(), want)
		}
		k := 0
		for _, r := range c.All("residual") {
			for _, want := range strings.Fields(r[0]) {
				if want != "-" {
					c.Meets(t, "residual", st.Residuals[k], want)
					k++
				}
			}
		}
		testdata.Near(t, c.Name+" dof", float64(st.Dof), testdata.Num(t, c.One(t, "dof")[0]), 0)
		c.Meets(t, "s of one direction", st.S0, c.One(t, "s")[0])
	}
}

// anglesAsRounds writes angles round the horizon as rounds of two targets: an
// angle is such a round whose orientation nobody asks for.
func anglesAsRounds(t *testing.T, f testdata.Printed) (sights []Sight, targets int, observed []float64) {
	t.Helper()
	targets = int(testdata.Num(t, f.One(t, "targets")[0]))
	base := make([]reduce.Angle, targets) // of each single angle; the last one takes up the closure
	rest := reduce.Turn - reduce.FromSeconds(testdata.Num(t, f.One(t, "closure")[0]))
	for i := range base[1:] {
		base[i] = 45 * reduce.Degree
		rest -= base[i]
	}
	base[targets-1] = rest
	add := func(from, to int, a reduce.Angle) {
		i := len(sights) / 2
		start := reduce.Angle(i) * 37 * reduce.Degree
		sights = append(sights, Sight{i, from, reduce.DirectionAt(start)}, Sight{i, to % targets, reduce.DirectionAt(start + a)})
	}
	for i, s := range strings.Fields(f.One(t, "single")[0]) {
		add(i, i+1, base[i]+reduce.FromSeconds(testdata.Num(t, s)))
		observed = append(observed, testdata.Num(t, s))
	}
	for _, l := range f.All("sum") {
		p := strings.Fields(l[0])
		i, k := int(testdata.Num(t, p[0]))-1, int(testdata.Num(t, p[1]))-1
		add(i, k+1, base[i]+base[k]+reduce.FromSeconds(testdata.Num(t, l[1])))
		observed = append(observed, testdata.Num(t, l[1]))
	}
	return sights, targets, observed
}

// S1, S2: published adjustments of angles at one station, the horizon closed.
func TestStation_PublishedAngles(t *testing.T) {
	for _, name := range []string{"S1", "S2"} {
		f := testdata.Published(t, name)
		sights, targets, observed := anglesAsRounds(t, f)
		st := adjusted(t, sights, len(observed), targets)
		corrections := strings.Fields(f.One(t, "correction")[0])
		adjusted := strings.Fields(f.One(t, "adjusted")[0])
		redundancy := strings.Fields(f.One(t, "redundancy")[0])
		vv := 0.0
		for i := range observed {
			v := st.Residuals[2*i+1] - st.Residuals[2*i]
			vv += v * v
			if name == "S1" {
				f.Meets(t, "correction of an angle", v, corrections[i])
				f.Meets(t, "adjusted angle", observed[i]+v, adjusted[i])
			} else { // the book carried rounded figures: 0.1″ is what it can be held to
				testdata.Near(t, "S2 correction", v, testdata.Num(t, corrections[i]), 0.1)
				testdata.Near(t, "S2 adjusted", observed[i]+v, testdata.Num(t, adjusted[i]), 0.1)
				f.Note("correction of an angle", v-testdata.Num(t, corrections[i]))
			}
			// The two directions of an angle share its redundancy.
			f.Meets(t, "redundancy number", st.Redundancy(2*i)+st.Redundancy(2*i+1), redundancy[i])
		}
		f.Meets(t, "sum of squares", vv, f.One(t, "vv")[0])
		testdata.Near(t, name+" dof", float64(st.Dof), testdata.Num(t, f.One(t, "dof")[0]), 0)
		f.Meets(t, "s of one angle", st.S0*math.Sqrt2, f.One(t, "s")[0])
	}
}

// Complete rounds: cofactors by definition. Redundancy: M12
// (from memory).
func TestStation_CompleteCofactors(t *testing.T) {
	const n, k = 3, 5
	st := adjusted(t, grid(n, k, nil), n, k)
	for a := 1; a < k; a++ {
		testdata.Near(t, "direction", st.cofactor(a, a), 2.0/n, 1e-12)
		for b := 1; b < a; b++ {
			testdata.Near(t, "covariance", st.cofactor(a, b), 1.0/n, 1e-12)
			testdata.Near(t, "angle", st.angleCofactor(a, b), 2.0/n, 1e-12)
		}
	}
	for i := range n * k {
		testdata.Near(t, "redundancy", st.Redundancy(i), float64((n-1)*(k-1))/(n*k), 1e-12)
	}
	if st.Dof != (n-1)*(k-1) {
		t.Errorf("dof %d", st.Dof)
	}
}

// grid makes rounds on targets 30° apart, some seconds of scatter, and leaves out
// the sights that skip names.
func grid(rounds, targets int, skip func(i, j int) bool) []Sight {
	var out []Sight
	for i := range rounds {
		for j := range targets {
			if skip == nil || !skip(i, j) {
				scatter := reduce.FromSeconds(float64((i*7+j*5)%11) - 5)
				out = append(out, Sight{i, j, reduce.DirectionAt(reduce.Angle(i)*60*reduce.Degree + reduce.Angle(j)*30*reduce.Degree + scatter)})
			}
		}
	}
	return out
}

func TestStation_Disconnected(t *testing.T) {
	sights := grid(3, 6, func(i, j int) bool { return (i == 2) != (j == 3 || j == 4) })
	_, err := Sights(sights, 3, 6)
	var d *DisconnectedError
	if !errors.As(err, &d) || !slices.Equal(d.Targets, []int{3, 4}) {
		t.Fatalf("got %v, want targets 3 and 4 named", err)
	}
	if want := "no round ties target 3, 4 to the reference object: observe them in one round with it, or leave them out"; err.Error() != want {
		t.Errorf("says %q", err)
	}
}

// The RO is missing in round 1; round 0 ties it in.
func TestStation_RoundWithoutRO(t *testing.T) {
	st := adjusted(t, grid(2, 4, func(i, j int) bool { return i == 1 && j == 0 }), 2, 4)
	if st.Dof != 7-2-3 {
		t.Errorf("dof %d", st.Dof)
	}
	// RO against the middle of the three: 1 + 1/3; a target against it, seen twice: (2/3)/2.
	testdata.Near(t, "direction 1", st.cofactor(1, 1), 1+1.0/3+1.0/3, 1e-12)
}

func TestStation_Refuses(t *testing.T) {
	for name, s := range map[string][]Sight{
		"twice":    {{}, {Target: 1}, {Target: 1}},
		"RO twice": {{}, {}, {Target: 1}},
		"outside":  {{}, {Target: 2}},
		"round":    {{}, {Round: 1, Target: 1}},
		"negative": {{Target: -1}},
	} {
		if _, err := Sights(s, 1, 2); !errors.Is(err, errSight) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Sights(nil, 0, 0); !errors.Is(err, errSight) {
		t.Errorf("nothing: %v", err)
	}
}

// Readings on both sides of north in every place.
func TestStation_AcrossNorth(t *testing.T) {
	base := []reduce.Angle{0, 2 * reduce.Arcsecond, -2 * reduce.Arcsecond}
	var sights []Sight
	for i, start := range []reduce.Angle{-reduce.Arcsecond, reduce.Arcsecond, reduce.HalfTurn} {
		for j, b := range base {
			off := []float64{1, -2, 1}[(i+j)%3]
			sights = append(sights, Sight{i, j, reduce.DirectionAt(start + b + reduce.FromSeconds(off))})
		}
	}
	st := adjusted(t, sights, 3, 3)
	for j := range base {
		if st.Directions[j].Angle() != reduce.DirectionAt(base[j]).Angle() {
			t.Errorf("direction %d: %v, want %v", j, st.Directions[j], base[j])
		}
	}
}

// S14: the two tests on the published adjustments S1 and S2, σ = 2″.
func TestOutlier_S14(t *testing.T) {
	for _, name := range []string{"S1", "S2"} {
		f := testdata.Published(t, name)
		sights, targets, observed := anglesAsRounds(t, f)
		st := adjusted(t, sights, len(observed), targets)
		var largest, largestTau float64
		for i, want := range strings.Fields(f.One(t, "tau")[0]) {
			// One direction of an angle has half its variance and half its residual.
			tau, ok := precision.Deviate(st.Residuals[2*i], st.Redundancy(2*i), st.S0)
			if !ok {
				t.Fatal("no redundancy")
			}
			f.Meets(t, "tau statistic", tau, want)
			w, _ := precision.Deviate(st.Residuals[2*i], st.Redundancy(2*i), 2/math.Sqrt2)
			largest, largestTau = max(largest, w), max(largestTau, tau)
			if name == "S1" {
				f.Meets(t, "normal deviate", w, strings.Fields(f.One(t, "w")[0])[i])
			}
		}
		if name == "S2" { // flagged with the stated σ, not with the estimated one
			f.Meets(t, "normal deviate", largest, f.One(t, "wmax")[0])
			if largest < precision.NormalLimit(0.001) || largestTau > precision.TauLimit(0.05, 14, 8) {
				t.Errorf("S2: w %.3f, tau %.3f: want the first over its limit and the second under", largest, largestTau)
			}
		} else if largestTau > precision.TauLimit(0.05, 8, 4) {
			t.Errorf("S1: tau %.3f rejected", largestTau)
		}
	}
}
