package fieldtest

import (
	"errors"
	"math"
	"os"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/reduce/adjust"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
	"example.org/readback/testdata"
)

// M1 (ISO 17123-3, from memory) says its steps come to the station adjustment
// with one orientation per set: the two are worked here beside each other.
func TestFieldTest_IsStationAdjustment(t *testing.T) {
	for _, size := range []struct{ m, t, nu int }{{4, 5, 32}, {1, 4, 6}} {
		var series []Series
		var spreads []precision.Spread
		var residuals []float64
		for m := range size.m {
			s := Series{Values: make([][]reduce.Angle, 3)}
			var sights []adjust.Sight
			for j := range 3 {
				for k := range size.t {
					e := reduce.FromSeconds(float64((m*31+j*17+k*k*5)%9) - 4)
					v := (reduce.Angle(j)*60*reduce.Degree + reduce.Angle(k)*71*reduce.Degree + e).Normalize()
					s.Values[j] = append(s.Values[j], v)
					sights = append(sights, adjust.Sight{Round: j, Target: k, Mean: reduce.DirectionAt(v)})
				}
			}
			series = append(series, s)
			st, err := adjust.Sights(sights, 3, size.t)
			if err != nil {
				t.Fatal(err)
			}
			spreads = append(spreads, precision.Spread{S: st.S0, Dof: st.Dof})
			residuals = append(residuals, st.Residuals...)
		}
		ft, err := Horizontal(series)
		if err != nil {
			t.Fatal(err)
		}
		if ft.S.Dof != size.nu || ft.Full != (size.m == 4) || !ft.AsStandard {
			t.Errorf("dof %d, full %v, as the standard %v", ft.S.Dof, ft.Full, ft.AsStandard)
		}
		testdata.Near(t, "pooled", ft.S.S, precision.Pool(spreads...).S, 1e-9)
		i := 0
		for m := range ft.Residuals {
			testdata.Near(t, "series", ft.Series[m].S, spreads[m].S, 1e-9)
			for _, row := range ft.Residuals[m] {
				sum := 0.0
				for _, r := range row {
					testdata.Near(t, "residual", r, residuals[i], 1e-9)
					sum += r
					i++
				}
				testdata.Near(t, "sum over a set", sum, 0, 1e-9)
			}
		}
	}
}

// M10, second rounds of S13: s = 5.432″ as a field test of two sets.
func TestFieldTest_M10(t *testing.T) {
	f := testdata.Published(t, "S13")
	for _, c := range f.Cases() {
		if c.Name != "S13 M10 complete" {
			continue
		}
		v := [][]reduce.Angle{{0, reduce.FromSeconds(.5), reduce.FromSeconds(48.5), reduce.FromSeconds(37.5)}, {0, reduce.FromSeconds(7.25), reduce.FromSeconds(57.25), reduce.FromSeconds(29.25)}}
		ft, err := Horizontal([]Series{{v}})
		if err != nil {
			t.Fatal(err)
		}
		c.Meets(t, "s of a field test series", ft.S.S, c.One(t, "s")[0])
		if ft.AsStandard {
			t.Error("two sets passed for the standard's three")
		}
	}
}

// M2 (ISO 17123-3, from memory): the index error of a full test passes up to
// t·s/√48 = 0.294 s.
func TestFieldTest_Vertical(t *testing.T) {
	build := func(index float64) []VerticalSeries {
		var out []VerticalSeries
		for m := range 4 {
			s := VerticalSeries{make([][]reduce.Angle, 3), make([][]reduce.Angle, 3)}
			for j := range 3 {
				for k := range 4 {
					z := 80*reduce.Degree + reduce.Angle(k)*5*reduce.Degree + reduce.FromSeconds(float64((m*13+j*7+k*3)%5)-2)
					s.Left[j] = append(s.Left[j], z+reduce.FromSeconds(index))
					s.Right[j] = append(s.Right[j], reduce.Turn-z+reduce.FromSeconds(index))
				}
			}
			out = append(out, s)
		}
		return out
	}
	vt, err := Vertical(build(0), faces.Zenith)
	if err != nil {
		t.Fatal(err)
	}
	if vt.S.Dof != 32 || !vt.Full || vt.Series[0].Dof != 8 {
		t.Errorf("dof %d and %d, full %v", vt.S.Dof, vt.Series[0].Dof, vt.Full)
	}
	testdata.Near(t, "limit of the index", vt.IsZero.High/vt.S.S, 0.294, 0.0005)
	for _, c := range []struct {
		index float64
		pass  bool
	}{{0, true}, {0.29 * vt.S.S, true}, {0.30 * vt.S.S, false}, {-0.30 * vt.S.S, false}} {
		vt, err := Vertical(build(c.index), faces.Zenith)
		if err != nil {
			t.Fatal(err)
		}
		testdata.Near(t, "index", vt.Index, c.index, 1e-5)
		if vt.IsZero.Passed != c.pass {
			t.Errorf("index %.2f″ with s %.2f″: passed %v", c.index, vt.S.S, vt.IsZero.Passed)
		}
	}
	// By hand: one series, one target seen to differ by ±3″ in two sets, another not at all.
	a := VerticalSeries{
		Left:  [][]reduce.Angle{{dms(90, 0, 3), dms(80, 0, 0)}, {dms(89, 59, 57), dms(80, 0, 0)}},
		Right: [][]reduce.Angle{{dms(269, 59, 57), dms(280, 0, 0)}, {dms(270, 0, 3), dms(280, 0, 0)}},
	}
	vt, err = Vertical([]VerticalSeries{a}, faces.Zenith)
	if err != nil {
		t.Fatal(err)
	}
	testdata.Near(t, "s by hand", vt.S.S, math.Sqrt(18.0/2), 1e-9)
}

func TestFieldTest_Refuses(t *testing.T) {
	good := [][]reduce.Angle{{0, 1, 2}, {0, 1, 2}}
	for name, err := range map[string]error{
		"nothing":   second(Horizontal(nil)),
		"one set":   second(Horizontal([]Series{{good[:1]}})),
		"empty":     second(Horizontal([]Series{{}})),
		"a gap":     second(Horizontal([]Series{{[][]reduce.Angle{{0, 1, 2}, {0, 1}}}})),
		"one face":  second(Vertical([]VerticalSeries{{good, nil}}, faces.Zenith)),
		"no series": second(Vertical(nil, faces.Zenith)),
	} {
		if !errors.Is(err, errFieldTest) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// dms is degrees, minutes and seconds as one angle.
func dms(d, m, s int64) reduce.Angle {
	return reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.Angle(s)*reduce.Arcsecond
}

// TestMain holds the table of the largest differences to printed figures.
func TestMain(m *testing.M) {
	os.Exit(testdata.Differences(m, "differences-fieldtest.md", func(string) string { return "″" }))
}
