package reduce

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestAngle_WrapAndNormalize(t *testing.T) {
	for _, c := range []struct{ a, wrap, norm Angle }{
		{0, 0, 0}, {HalfTurn, HalfTurn, HalfTurn}, {-HalfTurn, HalfTurn, HalfTurn}, {HalfTurn + 1, 1 - HalfTurn, HalfTurn + 1},
		{-1, -1, Turn - 1}, {Turn, 0, 0}, {-Turn, 0, 0}, {3*Turn + 5, 5, 5}, {math.MaxInt64, 0, 0}, {math.MinInt64, 0, 0},
	} {
		if c.a == math.MaxInt64 || c.a == math.MinInt64 { // no table value: only in range and congruent
			w, n := c.a.Wrap(), c.a.Normalize()
			if w <= -HalfTurn || w > HalfTurn || n < 0 || n >= Turn || (w-n)%Turn != 0 {
				t.Errorf("%d: %d, %d", c.a, w, n)
			}
			continue
		}
		if got := c.a.Wrap(); got != c.wrap {
			t.Errorf("wrap %d: %d", c.a, got)
		}
		if got := c.a.Normalize(); got != c.norm {
			t.Errorf("normalize %d: %d", c.a, got)
		}
	}
}

func TestAngle_RoundHalfAwayFromZero(t *testing.T) {
	for _, c := range []struct{ a, step, want Angle }{
		{5, 10, 10}, {-5, 10, -10}, {4, 10, 0}, {-4, 10, 0}, {15, 10, 20}, {25, 10, 30}, {-15, 10, -20}, {7, 0, 7}, {7, -1, 7}, {3, 2, 4}, {1, 3, 0}, {2, 3, 3},
	} {
		if got := c.a.Round(c.step); got != c.want {
			t.Errorf("%d to %d: %d, want %d", c.a, c.step, got, c.want)
		}
	}
	if Angle(math.MaxInt64).Div(2) != 1<<62 || Angle(math.MinInt64).Div(-3) != 3074457345618258603 || Angle(0).Div(-5) != 0 {
		t.Error("at the ends of the range")
	}
	if Angle(7).Half() != 4 || Angle(-7).Half() != -4 || Angle(7).Div(-2) != -4 {
		t.Error("halves")
	}
}

func TestAngle_Floats(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Angle(rapid.Int64Range(-int64(Turn), int64(Turn)).Draw(t, "a"))
		if FromDegrees(a.Degrees()) != a || FromRadians(a.Radians()) != a || FromSeconds(a.Seconds()) != a {
			t.Fatalf("%d", a)
		}
	})
	if FromSeconds(math.NaN()) != 0 || FromSeconds(math.Inf(1)) != math.MaxInt64 || FromRadians(math.Inf(-1)) != math.MinInt64 {
		t.Error("no number became an angle")
	}
}

func TestMean_AcrossNorth(t *testing.T) {
	got, err := Mean(directionsAt(dms(359, 59, 58), 2*Arcsecond))
	if err != nil || got != (Direction{}) {
		t.Errorf("%v, %v", got, err)
	}
	for _, ds := range [][]Angle{nil, {0, HalfTurn}, {0, dms(120, 0, 0), dms(240, 0, 0)}} {
		if _, err := Mean(directionsAt(ds...)); !errors.Is(err, errNoMean) {
			t.Errorf("%v: %v", ds, err)
		}
	}
}

// The mean turns with its directions and does not care about their order, to the
// last micro-arcsecond.
func TestMean_TurnAndOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		centre := Angle(rapid.Int64Range(0, int64(Turn)-1).Draw(t, "centre"))
		offs := rapid.SliceOfN(rapid.Int64Range(-int64(QuarterTurn)+1, int64(QuarterTurn)-1), 1, 6).Draw(t, "offsets")
		var ds, turned, reversed []Angle
		turn := Angle(rapid.Int64Range(-int64(Turn), int64(Turn)).Draw(t, "turn"))
		for _, o := range offs {
			ds = append(ds, (centre + Angle(o)).Normalize())
			turned = append(turned, (centre + Angle(o) + turn).Normalize())
			reversed = append([]Angle{(centre + Angle(o)).Normalize()}, reversed...)
		}
		m, err := Mean(directionsAt(ds...))
		if err != nil {
			t.Fatal(err)
		}
		r, _ := Mean(directionsAt(reversed...))
		w, _ := Mean(directionsAt(turned...))
		if r != m || w.Sub(m.Add(turn)).Abs() > 1 {
			t.Fatalf("mean %d, reversed %d, turned by %d %d", m, r, turn, w)
		}
	})
}

// directionsAt returns the directions at these angles.
func directionsAt(as ...Angle) []Direction {
	var ds []Direction
	for _, a := range as {
		ds = append(ds, DirectionAt(a))
	}
	return ds
}

// A difference takes the shorter way, opposite directions being +180° apart, and
// what is printed never shows a full circle.
func TestDirection_ArithmeticAndPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := DirectionAt(Angle(rapid.Int64().Draw(t, "d")))
		e := DirectionAt(Angle(rapid.Int64().Draw(t, "e")))
		if d.Angle() < 0 || d.Angle() >= Turn || e.Add(d.Sub(e)) != d || e.Add(d.From(e)) != d {
			t.Fatalf("%v, %v", d, e)
		}
		if x := d.Sub(e); x <= -HalfTurn || x > HalfTurn || d.From(e) < 0 || d.From(e) >= Turn {
			t.Fatalf("%v − %v is %v", d, e, x)
		}
		var back Direction
		b, err := d.MarshalJSON()
		if err == nil {
			err = back.UnmarshalJSON(b)
		}
		if err != nil || back != d {
			t.Fatalf("%s: %v, %v", b, back, err)
		}
	})
	if got := DirectionAt(HalfTurn).Sub(Direction{}); got != HalfTurn {
		t.Errorf("opposite: %v", got)
	}
	if got := DirectionAt(dms(359, 59, 59.96)).Format(DMS, 1); got != "0°00′00.0″" {
		t.Errorf("printed %s", got)
	}
	if got := Angle(dms(359, 59, 59.96)).Format(DMS, 1); got != "360°00′00.0″" {
		t.Errorf("an angle prints %s", got)
	}
	var d Direction
	if d.UnmarshalJSON([]byte("\"x\"")) == nil {
		t.Error("a word is no direction")
	}
}
