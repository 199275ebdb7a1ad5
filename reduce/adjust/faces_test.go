package adjust

import (
	"errors"
	"math"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/testdata"
)

// faceGrid makes complete readings on both faces with collimation c and known
// errors per reading.
func faceGrid(rounds, targets int, c reduce.Angle, e func(k int) reduce.Angle) []Reading {
	var out []Reading
	for i := range rounds {
		for j := range targets {
			m := reduce.Angle(i)*60*reduce.Degree + reduce.Angle(j)*40*reduce.Degree
			for _, face := range []faces.Face{faces.FL, faces.FR} {
				v := m + c
				if face == faces.FR {
					v = m + reduce.HalfTurn - c
				}
				if e != nil {
					v += e(len(out))
				}
				out = append(out, Reading{i, j, face, reduce.DirectionAt(v)})
			}
		}
	}
	return out
}

func single(t *testing.T, rs []Reading, rounds, targets int) *Faces {
	t.Helper()
	f, err := Readings(rs, rounds, targets)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestFaces_Truth(t *testing.T) {
	f := single(t, faceGrid(2, 4, 7*reduce.Arcsecond, nil), 2, 4)
	testdata.Near(t, "c", f.Collimation, 7, 1e-9)
	if !f.CollimationKnown || f.Dof != 2*2*4-2-3-1 || f.S0 > 1e-9 {
		t.Errorf("c known %v, dof %d, s0 %g", f.CollimationKnown, f.Dof, f.S0)
	}
	for j, d := range f.Directions {
		if d.Angle() != reduce.Angle(j)*40*reduce.Degree {
			t.Errorf("direction %d: %v", j, d)
		}
	}
	for i, o := range f.Orientations {
		if o.Angle() != reduce.Angle(i)*60*reduce.Degree {
			t.Errorf("orientation %d: %v", i, o)
		}
	}
}

// The cofactor matrix is a projection: symmetric, its own square, of trace dof,
// and it maps errors to residuals.
func TestFaces_ResidualCofactors(t *testing.T) {
	e := func(k int) reduce.Angle { return reduce.FromSeconds(float64((k*k*7)%13 - 6)) }
	rs := faceGrid(3, 4, 3*reduce.Arcsecond, e)
	rs = append(rs[:5], rs[7:]...)
	f := single(t, rs, 3, 4)
	trace := 0.0
	for k := range rs {
		trace += f.Redundancy[k]
		for l := range rs {
			sq := 0.0
			for x := range rs {
				sq += f.Q.At(k, x) * f.Q.At(x, l)
			}
			testdata.Near(t, "Q·Q", sq, f.Q.At(k, l), 1e-12)
			testdata.Near(t, "Qᵀ", f.Q.At(l, k), f.Q.At(k, l), 1e-15)
		}
	}
	testdata.Near(t, "trace", trace, float64(f.Dof), 1e-10)
	before := append([]float64(nil), f.Residuals...)
	rs[6].Value = rs[6].Value.Add(30 * reduce.Arcsecond)
	g := single(t, rs, 3, 4)
	for k := range f.Residuals {
		testdata.Near(t, "effect of a slip, −Q·e", g.Residuals[k]-before[k], -f.Q.At(k, 6)*30, 1e-9)
	}
}

// A slip of 10′ in one reading is told with its size from what the others say,
// and explaining it leaves what an adjustment without that reading leaves.
func TestFaces_Explain(t *testing.T) {
	e := func(k int) reduce.Angle { return reduce.FromSeconds(float64((k*k*5)%7 - 3)) }
	rs := faceGrid(2, 4, 0, e)
	clean := single(t, append(append([]Reading(nil), rs[:11]...), rs[12:]...), 2, 4).VV
	rs[11].Value = rs[11].Value.Add(10 * reduce.Arcminute)
	f := single(t, rs, 2, 4)
	best, bestVV := -1, math.Inf(1)
	for k := range rs {
		if _, vv, _, ok := f.explain(slip{[]int{k}, []float64{1}}); ok && vv < bestVV {
			best, bestVV = k, vv
		}
	}
	size, vv, r, ok := f.explain(slip{[]int{11}, []float64{1}})
	if best != 11 || !ok || math.Abs(size-600) > 12 {
		t.Errorf("best %d; reading 11: %.1f″, ok %v", best, size, ok)
	}
	testdata.Near(t, "what remains", vv, clean, 1e-6)
	testdata.Near(t, "redundancy", r, f.Redundancy[11], 1e-15)
	// A turn of a whole round is what its orientation takes up: nobody can tell it.
	round := slip{}
	for k, x := range rs {
		if x.Round == 1 {
			round.Readings, round.Weights = append(round.Readings, k), append(round.Weights, 1)
		}
	}
	if _, _, _, ok := f.explain(round); ok {
		t.Error("a turned round was told from its orientation")
	}
}

// In the first round a slip names its target only: both faces explain it alike
// until c is known from elsewhere.
func TestFaces_OneRound(t *testing.T) {
	f := single(t, faceGrid(1, 3, 5*reduce.Arcsecond, func(k int) reduce.Angle {
		if k == 4 {
			return 40 * reduce.Arcsecond
		}
		return 0
	}), 1, 3)
	_, left, _, _ := f.explain(slip{[]int{4}, []float64{1}})
	_, right, _, _ := f.explain(slip{[]int{5}, []float64{1}})
	_, other, _, _ := f.explain(slip{[]int{2}, []float64{1}})
	testdata.Near(t, "the other face", left, right, 1e-9)
	if other < left+1 {
		t.Errorf("target 1 explains as well: %g, %g", other, left)
	}
}

func TestFaces_CollimationUnknown(t *testing.T) {
	rs := []Reading{{}, {0, 1, faces.FL, reduce.DirectionAt(30 * reduce.Degree)}, {0, 2, faces.FL, reduce.DirectionAt(60 * reduce.Degree)}}
	f := single(t, rs, 1, 3)
	if f.CollimationKnown || f.Collimation != 0 || f.Dof != 0 || f.S0 != 0 {
		t.Errorf("one face: %+v", f)
	}
	// RO on face left only, target 1 on face right only: c and D₁ cannot be told apart.
	f = single(t, []Reading{{}, {0, 1, faces.FR, reduce.DirectionAt(210 * reduce.Degree)}}, 1, 2)
	if f.CollimationKnown || f.Dof != 0 {
		t.Errorf("one face each: c known %v, dof %d", f.CollimationKnown, f.Dof)
	}
	for _, r := range f.Redundancy {
		testdata.Near(t, "redundancy", r, 0, 1e-12)
	}
}

// The RO observed again at the end of each half is one more reading.
func TestFaces_Closing(t *testing.T) {
	rs := append(faceGrid(1, 3, 0, nil), Reading{0, 0, faces.FL, reduce.DirectionAt(6 * reduce.Arcsecond)}, Reading{0, 0, faces.FR, reduce.DirectionAt(reduce.HalfTurn + 6*reduce.Arcsecond)})
	f := single(t, rs, 1, 3)
	if f.Dof != 8-1-2-1 {
		t.Errorf("dof %d", f.Dof)
	}
	testdata.Near(t, "residual", f.Residuals[0], 3, 1e-9)
	testdata.Near(t, "residual of the closing", f.Residuals[6], -3, 1e-9)
}

func TestFaces_Refuses(t *testing.T) {
	if _, err := Readings([]Reading{{Target: 3}}, 1, 3); !errors.Is(err, errSight) {
		t.Error(err)
	}
	var d *DisconnectedError
	if _, err := Readings([]Reading{{}}, 1, 3); !errors.As(err, &d) || len(d.Targets) != 2 {
		t.Error(err)
	}
}

// Both readings of a pair booked under the other face: half a circle off, alike.
// The two must not fall on different sides of the full circle, in whichever round.
func TestFaces_PairUnderTheOtherFace(t *testing.T) {
	e := func(k int) reduce.Angle { return reduce.FromSeconds(float64((k*k*5)%7 - 3)) }
	for _, k := range []int{2, 10, 18} { // the pair on target 1 in each round
		rs := faceGrid(3, 4, 4*reduce.Arcsecond, e)
		rs[k].Value, rs[k+1].Value = rs[k+1].Value, rs[k].Value
		f := single(t, rs, 3, 4)
		size, vv, _, ok := f.explain(slip{[]int{k, k + 1}, []float64{1, 1}})
		if d := (reduce.FromSeconds(size) - reduce.HalfTurn).Wrap().Abs(); !ok || d > 30*reduce.Arcsecond {
			t.Errorf("pair %d: %v, %v off half a circle", k, reduce.FromSeconds(size), d)
		}
		if vv > 1500 { // the exchanged collimation is all that is left
			t.Errorf("pair %d: %.0f″² is left", k, vv)
		}
	}
}

// A slip supposes that readings are wrong together: reading i by Weights[i] times
// one unknown error. One wrong reading is {[]int{k}, []float64{1}}; a round
// knocked half-way is its readings from there on, each with weight 1.
type slip struct {
	Readings []int
	Weights  []float64
}

// explain adjusts the setup again with the error of a supposed slip as one more
// unknown. size is that error in seconds (as booked − as it should be), vv the
// sum of squares that remains, redundancy its own cofactor hᵀQh: small where the
// readings can hardly tell the slip. ok is false where they cannot tell it at
// all. It costs the square of the readings concerned, no new adjustment:
// size = −hᵀv / hᵀQh, vv = VV − (hᵀv)²/hᵀQh. [M12]
func (f *Faces) explain(slip slip) (size, vv, redundancy float64, ok bool) {
	hv, norm := 0.0, 0.0
	for i, k := range slip.Readings {
		w := slip.Weights[i]
		hv += float64(w * f.Residuals[k])
		norm += float64(w * w)
		redundancy += float64(w * w * f.Redundancy[k])
		for j, l := range slip.Readings[:i] {
			redundancy += float64(2 * w * slip.Weights[j] * f.Q.At(k, l))
		}
	}
	if redundancy <= 1e-9*norm {
		return 0, f.VV, 0, false
	}
	return -hv / redundancy, max(0, f.VV-float64(hv*hv)/redundancy), redundancy, true
}
