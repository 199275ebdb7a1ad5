package traverse

import (
	"errors"
	"math"
	"testing"
)

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
	if _, err := Bearing(Point{1, 2}, Point{1, 2}); !errors.Is(err, errSamePoint) {
		t.Error(err)
	}
	if b, _ := Bearing(Point{}, Point{E: -1}); b.Angle() != deg(270, 0, 0) {
		t.Error(b)
	}
}
