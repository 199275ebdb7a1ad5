package places

import (
	"math"
	"testing"

	"example.org/readback/reduce/precision"
	"example.org/readback/reduce/traverse"
)

// P4: resection sheet of a university practical (Hong Kong, course LSGI522, practical
// 1): AB 41.7350, BC 6.9635, angle at B 169 04 12, angles at P 109 48 36 and 15 50 18,
// bearing AB 12 24 10. Printed AP 32.6276, CP 21.7033, bearing AP 35 14 31; the sheet's
// sines have five figures, so lengths are held to the millimetre; its A + C is 1″ less than
// the printed angles leave, so the bearing is held to 1″. Its ΔE 26.648 and ΔN 18.827 are
// exchanged.
func TestResect_PracticalSheet(t *testing.T) {
	polar := func(at traverse.Point, bearing, length float64) traverse.Point {
		sin, cos := math.Sincos(bearing)
		return at.Add(traverse.Point{E: length * sin, N: length * cos})
	}
	var a traverse.Point
	b := polar(a, dms(12, 24, 10), 41.7350)
	c := polar(b, dms(192, 24, 10)-dms(169, 4, 12), 6.9635)
	x, y := dms(109, 48, 36), dms(15, 50, 18)
	f, err := Resect([3]traverse.Point{a, b, c}, [3]float64{0, x, x + y})
	if err != nil {
		t.Fatal(err)
	}
	d := f.At.Sub(a)
	within(t, "AP", d.Length(), 32.6276, 0.0005)
	within(t, "CP", traverse.Distance(c, f.At), 21.7033, 0.0005)
	withinAngle(t, "bearing AP", math.Atan2(d.E, d.N), dms(35, 14, 31), 1)
	within(t, "ΔE, printed as ΔN", d.E, 18.827, 0.0005)
	within(t, "ΔN, printed as ΔE", d.N, 26.648, 0.0005)
}

// P17: two distances (essay question, inputs read, no printed answer): P south of R
// computed 13001.259, 9447.829; the other crossing 11806.529, 12459.451.
func TestAdjust_TwoDistances(t *testing.T) {
	r, s := traverse.Point{E: 10000, N: 10000}, traverse.Point{E: 13462.560, N: 11373.620}
	for _, c := range []struct{ start, want traverse.Point }{
		{traverse.Point{E: 12900, N: 9600}, traverse.Point{E: 13001.259, N: 9447.829}},
		{traverse.Point{E: 11900, N: 12300}, traverse.Point{E: 11806.529, N: 12459.451}},
	} {
		n := &Network{Points: []Point{{At: c.start}, {At: r, Fixed: true}, {At: s, Fixed: true}}, Observations: []Observation{
			{Kind: Distance, From: 1, To: 0, Value: 3051.630, SD: 0.005}, {Kind: Distance, From: 2, To: 0, Value: 1980.270, SD: 0.005}}}
		a := mustAdjust(t, n)
		within(t, "E", a.Places[0].At.E, c.want.E, 0.0005)
		within(t, "N", a.Places[0].At.N, c.want.N, 0.0005)
		if c.want.E > 13000 {
			from := func(p traverse.Point) float64 { d := a.Places[0].At.Sub(p); return math.Atan2(d.E, d.N) }
			withinAngle(t, "bearing RP", from(r), dms(100, 25, 28.87), 0.01)
			withinAngle(t, "bearing SP", from(s), dms(193, 28, 14.66), 0.01)
		}
		if a.Dof != 0 || a.Residuals[0].Checked() {
			t.Error("two distances check nothing")
		}
	}
}

// P22: the size of the 95 % ellipse where σ comes from the adjustment itself
// (J. Mahun, self-study least squares 2, points G and H): standard and 95 % half axes;
// and the multipliers √(2F(0.95; 2, ν)), computed (10 degrees of freedom: 2.86455).
func TestEllipse_Multiplier(t *testing.T) {
	for dof, want := range map[int]float64{1: 19.975, 2: 6.164, 3: 4.371, 4: 3.727, 5: 3.402, 6: 3.207, 8: 2.986, 10: 2.8645, 20: 2.643} {
		within(t, "√(2F)", traverse.EllipseFactor(dof), want, 0.0005)
	}
	within(t, "σ known", traverse.EllipseFactor(0), 2.448, 0.0005)
	for _, x := range [][3]float64{{0.0075, 0.033, 0.0005}, {0.0066, 0.029, 0.0005}, {0.0145, 0.0634, 0.0001}, {0.0084, 0.037, 0.0005}} {
		within(t, "half axis", x[0]*traverse.EllipseFactor(3), x[1], x[2])
	}
}

// around is a station whose targets hang on their angles and one distance each; the
// first lies fixed to the north.
func around(targets int, angles []Observation) *Network {
	n := &Network{Points: []Point{{Fixed: true}, {At: traverse.Point{N: 1000}, Fixed: true}}}
	for i := 1; i < targets; i++ {
		sin, cos := math.Sincos(float64(i) * dms(25, 0, 0))
		n.Points = append(n.Points, Point{At: traverse.Point{E: 1000 * sin, N: 1000 * cos}})
		n.Observations = append(n.Observations, Observation{Kind: Distance, From: 0, To: i + 1, Value: 1000, SD: 0.001})
	}
	n.Observations = append(n.Observations, angles...)
	return n
}

// P24: Taiwan examination answers (civilgroup.org, viewtopic 5711). (a) Angles of a
// triangle, means of 3, 2 and 1: 45 07 36, 71 51 11, 63 01 13. (b) Three angles and
// their sum at a station, equal weights: −2.5″ each, s₀ 5″; 4.33″ forgets the residual of
// the sum.
func TestAdjust_TriangleAndStationOfAnExamination(t *testing.T) {
	n := &Network{Points: []Point{{}, {At: traverse.Point{E: 1000}}, {At: traverse.Point{E: 700, N: 850}}}}
	readings := []float64{dms(45, 7, 32), dms(71, 51, 6), dms(63, 1, 2)}
	for i, v := range readings {
		n.Observations = append(n.Observations, Observation{Kind: Angle, From: i, Back: (i + 2) % 3, To: (i + 1) % 3, Value: v, SD: second / math.Sqrt(float64(3-i))})
	}
	a := mustAdjust(t, n)
	for i, want := range []float64{dms(45, 7, 36), dms(71, 51, 11), dms(63, 1, 13)} {
		withinAngle(t, "angle", readings[i]+a.Residuals[i].V, want, 0.5)
	}

	var angles []Observation
	for i, v := range []float64{dms(30, 0, 50), dms(32, 18, 40), dms(40, 15, 10)} {
		angles = append(angles, Observation{Kind: Angle, From: 0, Back: i + 1, To: i + 2, Value: v, SD: second})
	}
	angles = append(angles, Observation{Kind: Angle, From: 0, Back: 1, To: 4, Value: dms(102, 34, 30), SD: second})
	a = mustAdjust(t, around(4, angles))
	for i, want := range []float64{-2.5, -2.5, -2.5, 2.5} {
		within(t, "v″", a.Residuals[3+i].V/second, want, 0.005)
	}
	within(t, "s₀″", a.S0, 5, 0.05)
	if math.Abs(a.S0-4.33) < 0.1 {
		t.Error("the residual of the sum is forgotten")
	}
}

// P26: weighted angles at a station (university question, studyx.ai 112101509; inputs
// read, results computed): 16 21 18.921, 18 13 27.258, 37 24 11.447; s₀ 2.860.
func TestAdjust_WeightedAnglesAtAStation(t *testing.T) {
	var angles []Observation
	for _, x := range []struct {
		back, to     int
		value, weigh float64
	}{{1, 2, dms(16, 21, 16.3), 1}, {2, 3, dms(18, 13, 26.2), 2}, {3, 4, dms(37, 24, 11.7), 2}, {1, 3, dms(34, 34, 48.8), 1}, {2, 4, dms(55, 37, 38.2), 1}} {
		angles = append(angles, Observation{Kind: Angle, From: 0, Back: x.back, To: x.to, Value: x.value, SD: second / math.Sqrt(x.weigh)})
	}
	a := mustAdjust(t, around(4, angles))
	for i, want := range []float64{2.621, 1.058, -0.253, -2.621, 0.505} {
		within(t, "v″", a.Residuals[3+i].V/second, want, 0.0006)
	}
	for i, want := range []float64{dms(16, 21, 18.921), dms(18, 13, 27.258), dms(37, 24, 11.447)} {
		withinAngle(t, "angle", angles[i].Value+a.Residuals[3+i].V, want, 0.0006)
	}
	within(t, "s₀", a.S0, 2.860, 0.0005)
}

// P35: standard deviation of unit weight of a hub (J. Mahun, least squares ch. B-2):
// residuals of four rays to Q and three to R, one unknown each.
func TestPool_Hub(t *testing.T) {
	part := func(want float64, vs ...float64) precision.Spread {
		sum := 0.0
		for _, v := range vs {
			sum += v * v
		}
		within(t, "sum of squares", sum, want, 0.0000005)
		return precision.Spread{S: math.Sqrt(sum / float64(len(vs)-1)), Dof: len(vs) - 1}
	}
	s := precision.Pool(part(0.002900, -0.015, 0.015, -0.035, 0.035), part(0.001867, 0.007, -0.033, 0.027))
	within(t, "s₀", s.S, 0.0309, 0.00005)
	if s.Dof != 5 {
		t.Errorf("%d degrees of freedom", s.Dof)
	}
}
