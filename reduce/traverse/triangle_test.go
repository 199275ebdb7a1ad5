package traverse

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.org/readback/reduce"
	"pgregory.net/rapid"
)

// The right triangle of 3, 4 and 5 (Euclid): 36°52′11.6″, 53°07′48.4″, 90°,
// area 6.
func ExampleTriangleFromSides() {
	t, _ := TriangleFromSides([3]float64{3, 4, 5})
	for _, a := range t.Angles {
		fmt.Println(a.Format(reduce.DMS, 1))
	}
	fmt.Println(t.Area())
	// Output:
	// 36°52′11.6″
	// 53°07′48.4″
	// 90°00′00.0″
	// 6
}

func TestTriangleSum_ExactThirds(t *testing.T) {
	m, c := TriangleSum([3]reduce.Angle{deg(60, 0, 1), deg(59, 59, 59), deg(60, 0, 1)})
	if m != reduce.Arcsecond || c[0]+c[1]+c[2] != reduce.HalfTurn {
		t.Errorf("%v %v", m, c)
	}
}

// One triangle solved three ways.
func TestTriangle_ThreeWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := reduce.FromDegrees(rapid.Float64Range(1, 100).Draw(t, "A"))
		b := reduce.FromDegrees(rapid.Float64Range(1, 78).Draw(t, "B"))
		base := rapid.Float64Range(1, 5000).Draw(t, "a")
		one, err := TriangleFromAngles([3]reduce.Angle{a, b, reduce.HalfTurn - a - b}, 0, base)
		if err != nil {
			t.Fatal(err)
		}
		two, err := TriangleFromSides(one.Sides)
		if err != nil {
			t.Fatal(err)
		}
		three, err := TriangleFromTwoSides(one.Sides[1], one.Sides[2], a)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 3 {
			for _, other := range []Triangle{two, three} {
				if (other.Angles[i]-one.Angles[i]).Abs() > 300 || math.Abs(other.Sides[i]/one.Sides[i]-1) > 1e-9 {
					t.Fatalf("%+v %+v", one, other)
				}
			}
		}
		byTwo := one.Sides[1] * one.Sides[2] * math.Sin(a.Radians()) / 2
		if math.Abs(one.Area()/byTwo-1) > 1e-8 {
			t.Fatalf("area %v, by two sides %v", one.Area(), byTwo)
		}
		corner := Polar(0, one.Sides[2])
		if g := Area([]Point{{}, corner, Polar(a, one.Sides[1])}); math.Abs(g/byTwo-1) > 1e-9 {
			t.Fatalf("area by coordinates %v, by two sides %v", g, byTwo)
		}
	})
}

func TestTriangle_None(t *testing.T) {
	errs := []error{}
	_, err := TriangleFromSides([3]float64{1, 2, 3})
	errs = append(errs, err)
	_, err = TriangleFromSides([3]float64{1, 2, math.NaN()})
	errs = append(errs, err)
	_, err = TriangleFromAngles([3]reduce.Angle{deg(60, 0, 0), deg(60, 0, 0), deg(61, 0, 0)}, 0, 1)
	errs = append(errs, err)
	_, err = TriangleFromAngles([3]reduce.Angle{deg(60, 0, 0), deg(60, 0, 0), deg(60, 0, 0)}, 3, 1)
	errs = append(errs, err)
	_, err = TriangleFromTwoSides(1, 1, reduce.HalfTurn)
	errs = append(errs, err)
	for i, err := range errs {
		if !errors.Is(err, ErrNoTriangle) {
			t.Errorf("case %d: %v", i, err)
		}
	}
}

func TestEllipse_KnownCovariances(t *testing.T) {
	for _, c := range []struct {
		cov  Covariance
		want Ellipse
	}{
		{Covariance{EE: 4, NN: 1}, Ellipse{2, 1, deg(90, 0, 0)}},
		{Covariance{EE: 1, NN: 4}, Ellipse{2, 1, 0}},
		{Covariance{EE: 2.5, NN: 2.5, EN: 1.5}, Ellipse{2, 1, deg(45, 0, 0)}},
		{Covariance{EE: 2.5, NN: 2.5, EN: -1.5}, Ellipse{2, 1, deg(135, 0, 0)}},
		{Covariance{EE: 1, NN: 1}, Ellipse{1, 1, 0}},
	} {
		got := c.cov.Ellipse()
		if math.Abs(got.A-c.want.A) > 1e-12 || math.Abs(got.B-c.want.B) > 1e-12 || (got.Bearing-c.want.Bearing).Abs() > 1 {
			t.Errorf("%+v: %+v", c.cov, got)
		}
	}
	if math.Abs(Ellipse95-math.Sqrt(-2*math.Log(0.05))) > 1e-15 {
		t.Error("factor of the 95 % ellipse")
	}
}

func TestReciprocal_MeansAndLimits(t *testing.T) {
	d := ReciprocalDistance(120.004, 120.000, DistanceLimit(0.004, 5, 120))
	if math.Abs(d.Mean-120.002) > 1e-9 || !d.Within() {
		t.Errorf("%+v", d)
	}
	if d = ReciprocalDistance(121.004, 120.000, d.Limit); d.Within() {
		t.Errorf("a metre passes: %+v", d)
	}
	h := ReciprocalHeight(12.347, -12.351, HeightLimit(0.040, 0.005, 1000))
	if math.Abs(h.Mean-12.349) > 1e-9 || math.Abs(h.Difference+0.004) > 1e-9 || !h.Within() || h.Limit != 0.040 {
		t.Errorf("%+v", h)
	}
	if HeightLimit(0.040, 0.005, 4) != 0.005 {
		t.Error("least limit")
	}
}

func TestBearing_SamePoint(t *testing.T) {
	if _, err := Bearing(Point{1, 2}, Point{1, 2}); !errors.Is(err, ErrSamePoint) {
		t.Error(err)
	}
	if b, _ := Bearing(Point{}, Point{E: -1}); b != deg(270, 0, 0) {
		t.Error(b)
	}
}
