package network

import (
	"math"
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/slope"
)

// Steep lines measured from both ends close: slope distance and altitudes are worked
// here from the chord of a sphere of 6,371 km and a line of sight bent by k = 0.13
// (plane trigonometry, nothing of the program). 800 m rising 200 m differ by 25 mm where
// each end keeps the distance at its own height. (The formula itself is good to 1 mm there.)
func TestLevel_SteepLineFromBothEnds(t *testing.T) {
	for _, x := range []struct{ along, up float64 }{{775, 200}, {1409.43, 513.03}, {3000, -700}} {
		there, back := sphere(x.along, x.up)
		in := Input{Settings: DefaultSettings(), Setups: []day.Summary{steep(1, "Weir", "Alder", there), steep(2, "Alder", "Weir", back)}}
		apart := math.Abs(in.Setups[0].Sights[0].Horizontal - in.Setups[1].Sights[0].Horizontal)
		if want := x.along * math.Abs(x.up) / slope.EarthRadius; math.Abs(apart-want) > 0.0015 {
			t.Errorf("%v: at their own heights %.4f apart, want %.4f", x, apart, want)
		}
		n := newNet(in)
		a, b := n.in.Setups[0].Sights[0].Horizontal, n.in.Setups[1].Sights[0].Horizontal
		if math.Abs(a-b) > 0.0015 {
			t.Errorf("%v: %.4f and %.4f", x, a, b)
		}
		for _, c := range Work(in).LineChecks() {
			if !c.Met {
				t.Errorf("%v: %s", x, c.Text)
			}
		}
		if in.Setups[1].AtSeaLevel = true; newNet(in).in.Setups[1].Sights[0].Horizontal != in.Setups[1].Sights[0].Horizontal {
			t.Error("what is at sea level is brought to another height")
		}
	}
}

type seen struct{ slope, altitude float64 }

// sphere returns what is seen from either end of a line over so long an arc at the
// height of the first end, the second higher by up.
func sphere(along, up float64) (there, back seen) {
	const r, k = 6_371_000.0, 0.13
	g := along / r
	x, y := (r+up)*math.Sin(g), (r+up)*math.Cos(g)-r
	s := math.Hypot(x, y)
	bent := k * s / (2 * r)
	return seen{s, math.Atan2(y, x) + bent}, seen{s, math.Asin((-x*math.Sin(g)-y*math.Cos(g))/s) + bent}
}

func steep(n int, from, to string, o seen) day.Summary {
	hd, rise := slope.Reduce(o.slope, reduce.FromRadians(o.altitude), 1.5, 1.5, 0.13)
	return day.Summary{Setup: n, Station: from, RO: to, Refraction: 0.13, Instrument: spec.Instrument{LeastCount: reduce.Arcsecond, Sigma: reduce.Arcsecond},
		Sights: []day.SightLine{{Target: to, Horizontal: hd, Rise: rise, HasRise: true}}}
}
