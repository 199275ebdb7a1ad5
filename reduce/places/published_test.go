package places

import (
	"errors"
	"math"
	"testing"

	"example.org/readback/reduce/traverse"
)

// dms is an angle in radians.
func dms(d, m, s float64) float64 { return (d + m/60 + s/3600) * math.Pi / 180 }

func gon(g float64) float64 { return g * math.Pi / 200 }

// within holds a figure to half a unit of the last printed digit.
func within(t *testing.T, what string, got, want, half float64) {
	t.Helper()
	if math.Abs(got-want) > half*1.0000001 {
		t.Errorf("%s: %.6f, printed %.6f (± %g)", what, got, want, half)
	}
}

func withinAngle(t *testing.T, what string, got, want, halfSeconds float64) {
	t.Helper()
	if d := math.Remainder(got-want, 2*math.Pi) / second; math.Abs(d) > halfSeconds*1.0000001 {
		t.Errorf("%s: off the printed one by %.3f″ (± %g″)", what, d, halfSeconds)
	}
}

// P1: Cassini and Collins, one set of figures by two methods (school textbook on
// survey and mapping techniques, Indonesia, ch. 8 p. 222, ch. 9 p. 242). The point
// belongs to the supplements of the angles said to be observed: as clockwise
// directions there is no point, and the printed one is found from the supplements.
func TestResect_CassiniAndCollins(t *testing.T) {
	marks := [3]traverse.Point{{E: 23231.58, N: 91422.92}, {E: 23373.83, N: 90179.61}, {E: 24681.92, N: 90831.87}}
	alpha, beta := dms(64, 47, 3), dms(87, 11, 28)
	if f, err := Resect(marks, [3]float64{0, alpha, alpha + beta}); !errors.Is(err, ErrNoFix) {
		t.Errorf("the angles as said: %+v, %v; no point belongs to them", f, err)
	}
	// Collins' answer, recomputed: 23628.929, 91076.344; the page rounds an auxiliary point to 0.01.
	f, err := Resect(marks, [3]float64{0, alpha - math.Pi, alpha + beta - 2*math.Pi})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "E", f.At.E, 23628.93, 0.01)
	within(t, "N", f.At.N, 91076.35, 0.01)
}

// P2: university exercise on Collins' point (scribd 386181084). The page gives the
// auxiliary point; P recomputed 156.942, 73.213.
func TestResect_SmallFigures(t *testing.T) {
	marks := [3]traverse.Point{{E: 175.39, N: 12.78}, {E: 118.28, N: 34.93}, {E: 45.69, N: 55.74}} // B, A, C clockwise
	apb, apc := dms(62, 15, 28), dms(35, 47, 31)
	f, err := Resect(marks, [3]float64{0, apb, apb + apc})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "E", f.At.E, 156.942, 0.0005)
	within(t, "N", f.At.N, 73.213, 0.0005)
	withinAngle(t, "bearing to B", f.Orientation, dms(163, 1, 28.05), 0.01)
}

// P3: Spanish course sheet "triseccion inversa" (scribd 416233554), gon. The page
// rounds a ratio early and is 2.4 m off; recomputed 381.863, 335.196.
func TestResect_Gon(t *testing.T) {
	marks := [3]traverse.Point{{E: 348, N: 380}, {E: 450, N: 640}, {E: 960, N: 520}}
	f, err := Resect(marks, [3]float64{0, gon(55.2032), gon(55.2032 + 66.3026)})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "E", f.At.E, 381.863, 0.0005)
	within(t, "N", f.At.N, 335.196, 0.0005)
	if math.Hypot(f.At.E-382.66, f.At.N-332.84) < 1 {
		t.Error("the page's early rounding agrees")
	}
}

// P5, P6: exam question with round figures (askfilo.com 3434333235333839); answers
// computed: P 2101.161, 340.716, and the danger circle on the same marks.
func TestResect_InsideAndOnTheDangerCircle(t *testing.T) {
	marks := [3]traverse.Point{{}, {E: 2000, N: 1450}, {E: 3600, N: -1200}}
	f, err := Resect(marks, [3]float64{0, dms(94, 0, 0), dms(94+141, 0, 0)})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "E", f.At.E, 2101.161, 0.0005)
	within(t, "N", f.At.N, 340.716, 0.0005)
	within(t, "part of the radius", 1-f.Danger, 0.435, 0.0005)
	on := [3]float64{0, dms(40, 26, 33.3), dms(40, 26, 33.3) + dms(54, 22, 37.4)}
	if f, err := Resect(marks, on); err == nil && f.Danger > 1e-3 {
		t.Errorf("on the danger circle: %+v", f)
	}
	// The ellipse for directions of 1″ at P5: 9.0 × 5.2 mm, longer axis 168°37′38″.
	n := &Network{Points: []Point{{At: marks[0], Fixed: true}, {At: marks[1], Fixed: true}, {At: marks[2], Fixed: true}, {At: traverse.Point{E: 2101.161, N: 340.716}}}}
	for i, d := range []float64{0, dms(94, 0, 0), dms(235, 0, 0)} {
		n.Observations = append(n.Observations, Observation{Kind: Direction, From: 3, To: i, Value: d, SD: second})
	}
	a := mustAdjust(t, n)
	e := a.Places[3].Covariance.Ellipse()
	within(t, "longer half axis, mm", e.A*1000, 9.0, 0.05)
	within(t, "shorter half axis, mm", e.B*1000, 5.2, 0.05)
	withinAngle(t, "axis", e.Bearing.Radians(), dms(168, 37, 38), 1)
	if n := a.Residuals[0]; n.Checked() {
		t.Error("three directions check nothing")
	}
}

func mustAdjust(t *testing.T, n *Network) *Adjusted {
	t.Helper()
	a, err := Adjust(n, DefaultLimits())
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// P7: four directions, orientation unknown (marks read at zanotowane.pl 1050/7085;
// observations and results computed).
func TestAdjust_FourDirections(t *testing.T) {
	marks := []traverse.Point{{E: -6199.15, N: 1715.23}, {E: -5348.07, N: 2051.57}, {E: -3582.04, N: 397.93}, {E: -4936.63, N: 858.74}}
	n := &Network{Points: []Point{{At: traverse.Point{E: -4800, N: 1300}}}}
	for i, d := range []float64{0, dms(37, 22, 15), dms(199, 59, 39), dms(270, 40, 33)} {
		n.Points = append(n.Points, Point{At: marks[i], Fixed: true})
		n.Observations = append(n.Observations, Observation{Kind: Direction, From: 0, To: i + 1, Value: d, SD: 5 * second})
	}
	if !Start(n)[0] {
		t.Fatal("no start")
	}
	a := mustAdjust(t, n)
	within(t, "E", a.Places[0].At.E, -4799.9991, 0.0001)
	within(t, "N", a.Places[0].At.N, 1299.9682, 0.0001)
	withinAngle(t, "orientation", a.Orientations[0], dms(286, 31, 48.02), 0.01)
	for i, want := range []float64{2.349, -1.836, 0.044, -0.558} {
		within(t, "v″", a.Residuals[i].V/second, want, 0.0011)
	}
	for i, want := range []float64{.600, .366, .000, .034} { // all w are the same
		within(t, "redundancy", a.Residuals[i].Redundancy, want, 0.0005)
		within(t, "w", a.Residuals[i].W, 0.607, 0.0011)
	}
	c := a.Places[0].Covariance
	within(t, "σ(E) mm, 5″ beforehand", 1000*math.Sqrt(c.EE), 11.14, 0.005)
	within(t, "σ(N) mm, 5″ beforehand", 1000*math.Sqrt(c.NN), 23.85, 0.005)
	within(t, "s₀″", a.S0*5, 3.033, 0.0005)
	e := c.Ellipse()
	within(t, "ellipse mm × s₀", e.A*a.S0*1000, 14.47, 0.005)
	withinAngle(t, "axis", e.Bearing.Radians(), dms(179, 12, 28), 1)
	// With one redundant direction no culprit can be named.
	if s := a.Search(); len(s.Best) < 3 {
		t.Errorf("named %+v; one redundant direction names nobody", s.Best)
	}
}

// P8: two distances and two angles to three marks (coordinates read at
// jerrymahun.com, self-study least squares 4; observations and results computed).
func TestAdjust_FreeStation(t *testing.T) {
	n := &Network{Points: []Point{{}, {At: traverse.Point{E: 67.034, N: 835.802}, Fixed: true},
		{At: traverse.Point{E: 70.147, N: 1161.493}, Fixed: true}, {At: traverse.Point{E: 313.231, N: 1062.610}, Fixed: true}}}
	n.Points[0].At = traverse.Point{E: 200, N: 1000}
	n.Observations = []Observation{
		{Kind: Distance, From: 0, To: 1, Value: 211.720, SD: 0.005}, {Kind: Distance, From: 0, To: 3, Value: 129.054, SD: 0.005},
		{Kind: Angle, From: 0, Back: 1, To: 2, Value: dms(102, 8, 43), SD: 5 * second}, {Kind: Angle, From: 0, Back: 2, To: 3, Value: dms(100, 6, 59), SD: 5 * second},
	}
	a := mustAdjust(t, n)
	within(t, "E", a.Places[0].At.E, 200.1236, 0.00005)
	within(t, "N", a.Places[0].At.N, 1000.4541, 0.00005)
	for i, want := range []float64{-5.16, 6.57} {
		within(t, "v mm", a.Residuals[i].V*1000, want, 0.005)
	}
	for i, want := range []float64{-5.85, 3.50} {
		within(t, "v″", a.Residuals[i+2].V/second, want, 0.005)
	}
	for i, want := range []float64{.809, .769, .297, .126} {
		within(t, "redundancy", a.Residuals[i].Redundancy, want, 0.0005)
	}
	for i, want := range []float64{1.15, 1.50, 2.15, 1.97} {
		within(t, "|w|", a.Residuals[i].W, want, 0.005)
	}
	within(t, "s₀", a.S0, 1.525, 0.0005)
	c := a.Places[0].Covariance
	within(t, "σ(E) mm", 1000*math.Sqrt(c.EE), 2.74, 0.005)
	within(t, "σ(N) mm", 1000*math.Sqrt(c.NN), 2.31, 0.005)
	e := c.Ellipse()
	within(t, "ellipse mm", e.A*1000, 2.87, 0.005)
	within(t, "ellipse mm", e.B*1000, 2.15, 0.005)
	withinAngle(t, "axis", e.Bearing.Radians(), dms(116, 25, 29), 1)
}

// P9: Italian exercise sheet, exercise 1, gon, printed answer 100.83, −270.98; the
// point lies on the clockwise side although the text says otherwise.
func TestIntersect_TwoAnglesGon(t *testing.T) {
	a, b := traverse.Point{E: -254.20, N: -54.55}, traverse.Point{E: 158.74, N: 84.56}
	ab := math.Atan2(b.E-a.E, b.N-a.N)
	atA := gon(200 - 75.4264 - 69.0347)
	p, err := Intersect(a, ab+atA, b, ab+math.Pi-gon(69.0347))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "E", p.E, 100.83, 0.005)
	within(t, "N", p.N, -270.98, 0.005)
}

// P11, P12: Polish course work (zanotowane.pl 1050/7085), 2051.570, −5348.071; course
// slides (scribd 459428025), 55.01816087, 50.333394628, which keep a bearing to four
// decimals: agrees to 3·10⁻⁵.
func TestIntersect_Degrees(t *testing.T) {
	a, b := traverse.Point{E: -4936.63, N: 858.74}, traverse.Point{E: -6199.15, N: 1715.23} // 41, 39
	ab := math.Atan2(b.E-a.E, b.N-a.N)
	p, err := Intersect(a, ab+dms(36, 48, 59), b, ab+math.Pi-dms(55, 42, 59))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "north", p.N, 2051.570, 0.0005)
	within(t, "east", p.E, -5348.071, 0.0006)
	c, d := traverse.Point{E: 20, N: 45}, traverse.Point{E: 40, N: 20}
	cd := math.Atan2(d.E-c.E, d.N-c.N)
	p, err = Intersect(c, cd-dms(60, 0, 0), d, cd+math.Pi+dms(65, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "E", p.E, 55.01816, 0.00003)
	within(t, "N", p.N, 50.33339, 0.00003)
}

// P14: direction–direction (J. Mahun, COGO ch. B, feet; inputs read, answer computed).
// P15: two inaccessible points from a base (hackmath.net 69794): PA 1714.92761, QA
// 2744.11706, PQ 1633.4982.
func TestIntersect_BaseAndRays(t *testing.T) {
	p, err := Intersect(traverse.Point{E: 2255.90, N: 614.80}, dms(117, 22, 40), traverse.Point{E: 2517.03, N: 791.53}, dms(198, 10, 30))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "N", p.N, 524.902, 0.0005)
	within(t, "E", p.E, 2429.496, 0.0005)
	a, b := traverse.Point{}, traverse.Point{N: 2000}
	fix := func(atA, atB float64) traverse.Point {
		p, err := Intersect(a, atA, b, math.Pi-atB)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	x, y := fix(dms(86, 40, 0), dms(42, 1, 0)), fix(dms(52, 40, 0), dms(81, 15, 0))
	within(t, "PA", x.Length(), 1714.92761, 0.000005)
	within(t, "QA", y.Length(), 2744.11706, 0.000005)
	within(t, "PQ", traverse.Distance(x, y), 1633.4982, 0.00005)
}

// P13: a worked page that is wrong throughout (scribd 429132876): its two ends do
// not agree, and neither is the point.
func TestIntersect_WrongPage(t *testing.T) {
	a, b := traverse.Point{E: -2206.91, N: 1563.58}, traverse.Point{E: 3148.26, N: -4309.31}
	ab := math.Atan2(b.E-a.E, b.N-a.N)
	p, err := Intersect(a, ab-dms(55, 10, 34), b, ab+math.Pi+dms(74, 8, 56))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "E", p.E, 7591.394, 0.0005)
	within(t, "N", p.N, 2859.833, 0.0005)
	if math.Abs(p.E-7732.58) < 1 || math.Abs(p.E-7616.66) < 1 {
		t.Error("the page's wrong answers agree")
	}
}

// P16: three bearings to a new point (coordinates as P7; bearings and results computed).
func TestAdjust_ThreeRays(t *testing.T) {
	n := &Network{Points: []Point{{}, {At: traverse.Point{E: -4936.63, N: 858.74}, Fixed: true}, {At: traverse.Point{E: -6199.15, N: 1715.23}, Fixed: true}, {At: traverse.Point{E: -3582.04, N: 397.93}, Fixed: true}}}
	for i, b := range []float64{dms(340, 58, 13), dms(68, 26, 6), dms(313, 7, 9)} {
		n.Observations = append(n.Observations, Observation{Kind: Bearing, From: i + 1, To: 0, Value: b, SD: second})
	}
	Start(n)
	a := mustAdjust(t, n)
	within(t, "E", a.Places[0].At.E, -5348.0513, 0.00005)
	within(t, "N", a.Places[0].At.N, 2051.6046, 0.00005)
	for i, want := range []float64{1.12, -0.42, -2.37} {
		within(t, "v″", a.Residuals[i].V/second, want, 0.0051)
	}
	within(t, "s₀", a.S0, 2.649, 0.0005)
	e := a.Places[0].Covariance.Ellipse()
	within(t, "ellipse mm × s₀", e.A*a.S0*1000, 14.70, 0.005)
	within(t, "ellipse mm × s₀", e.B*a.S0*1000, 11.58, 0.005)
	withinAngle(t, "axis", e.Bearing.Radians(), dms(73, 9, 32), 1)
}

// P18: directions reduced to centre (B.C. Punmia, Surveying vol. 2; inputs read in a
// scan, printed answers from memory): 132 23 00.9, 232 20 10.4, 296 00 22.9.
func TestToCentre_Punmia(t *testing.T) {
	for _, c := range []struct{ theta, d, want float64 }{
		{dms(132, 18, 30), 3265.5, dms(132, 23, 0.9)}, {dms(232, 24, 6), 4022.2, dms(232, 20, 10.4)}, {dms(296, 6, 11), 3086.4, dms(296, 0, 22.9)},
	} {
		withinAngle(t, "direction from the centre", c.theta+ToCentre(5.8, c.theta, c.d), c.want, 0.1)
	}
	// P20: eccentric target (trade quiz, pobonline.com 93387; inputs read): 158.1″.
	within(t, "target beside its centre, ″", ToCentre(12.05, dms(86, 40, 0), 15690)/second, 158.1, 0.05)
}

// P21: three distances (C. Ghilani, Adjustment Computations, trilateration; inputs
// from memory, results recomputed).
func TestAdjust_ThreeDistances(t *testing.T) {
	n := &Network{Points: []Point{{}, {At: traverse.Point{E: 865.40, N: 4527.15}, Fixed: true}, {At: traverse.Point{E: 2432.55, N: 2047.25}, Fixed: true}, {At: traverse.Point{E: 2865.22, N: 27.15}, Fixed: true}}}
	for i, d := range []float64{6049.00, 4736.83, 5446.49} {
		n.Observations = append(n.Observations, Observation{Kind: Distance, From: 0, To: i + 1, Value: d, SD: 1})
	}
	if !Start(n)[0] {
		t.Fatal("no start from three distances")
	}
	a := mustAdjust(t, n)
	within(t, "E", a.Places[0].At.E, 6861.317, 0.0005)
	within(t, "N", a.Places[0].At.N, 3727.819, 0.0005)
	for i, want := range []float64{-0.037, 0.077, -0.047} {
		within(t, "v", a.Residuals[i].V, want, 0.0005)
	}
	within(t, "s₀", a.S0, 0.0977, 0.00005)
	within(t, "s(x)", a.S0*math.Sqrt(a.Places[0].Covariance.EE), 0.0775, 0.00005)
	within(t, "s(y)", a.S0*math.Sqrt(a.Places[0].Covariance.NN), 0.1543, 0.0001) // 0.15425 here
}

// P38: similarity onto three control points (C. Ghilani, Adjustment Computations, ex.
// 18.1; from memory, confirmed by its residuals).
func TestHelmert_Ghilani(t *testing.T) {
	from := []traverse.Point{{E: 121.622, N: -128.066}, {E: 141.228, N: 187.718}, {E: 175.802, N: 135.728}}
	to := []traverse.Point{{E: 1049422.40, N: 51089.20}, {E: 1049413.95, N: 49659.30}, {E: 1049244.95, N: 49884.95}}
	h, err := FitHelmert(from, to, false)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "a", h.A, -4.51249, 0.000005)
	within(t, "b", -h.B, -0.25371, 0.000005)
	within(t, "Tx", h.Shift.E, 1050003.715, 0.0005)
	within(t, "Ty", h.Shift.N, 50542.131, 0.0005)
	within(t, "scale", math.Hypot(h.A, h.B), 4.51962, 0.000005)
	for i, want := range []traverse.Point{{E: 0.004, N: -0.029}, {E: 0.101, N: -0.077}, {E: -0.105, N: 0.106}} {
		within(t, "v E", h.Residuals[i].E, want.E, 0.0006)
		within(t, "v N", h.Residuals[i].N, want.N, 0.0006)
	}
	within(t, "s₀", h.S0, 0.140, 0.0005)
	for _, c := range [][4]float64{{174.148, -120.262, 1049187.361, 51040.629}, {513.520, -192.130, 1047637.713, 51278.829}, {754.444, -67.706, 1046582.113, 50656.241}, {972.788, 120.994, 1045644.713, 49749.336}} {
		p := h.Apply(traverse.Point{E: c[0], N: c[1]})
		within(t, "E", p.E, c[2], 0.001)
		within(t, "N", p.N, c[3], 0.001)
	}
}

// P10: Italian exercise sheet, exercise 2, gon: circle readings at two stations. Printed
// P 130.84, 94.88; gradient BP 10.813 %.
func TestIntersect_CircleReadings(t *testing.T) {
	a, b := traverse.Point{E: -11.50, N: 33.20}, traverse.Point{E: 73.10, N: -23.30}
	ab := math.Atan2(b.E-a.E, b.N-a.N)
	p, err := Intersect(a, ab+gon(35.6585-99.1774), b, ab+math.Pi+gon(42.3775-350.9320))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "E", p.E, 130.84, 0.005)
	within(t, "N", p.N, 94.88, 0.005)
	rise := func(distance, zenith, target float64) float64 {
		return distance/math.Tan(gon(zenith)) + 1.55 - target
	}
	hp := 125.45 + rise(traverse.Distance(a, p), 97.3200, 1.75)
	hb := 125.45 + rise(traverse.Distance(a, b), 104.7400, 1.85)
	within(t, "gradient %", 100*(hp-hb)/traverse.Distance(b, p), 10.813, 0.0005)
}

// P19: centre seen the other way round (B.C. Punmia, Surveying vol. 2; inputs read,
// answers computed): corrections 298.67″ and 296.78″, ABC 60°15′31.4″.
func TestToCentre_FromTheTriangle(t *testing.T) {
	a, c := dms(59, 18, 26), dms(60, 26, 12)
	b := math.Pi - a - c
	ab, bc := 4248.5*math.Sin(c)/math.Sin(b), 4248.5*math.Sin(a)/math.Sin(b)
	within(t, "AB", ab, 4256.13, 0.006)
	within(t, "BC", bc, 4207.71, 0.006)
	one, two := ToCentre(12.2, dms(30, 20, 30), ab), ToCentre(12.2, dms(29, 45, 6), bc)
	within(t, "towards A, ″", one/second, 298.67, 0.006)
	within(t, "towards C, ″", two/second, 296.78, 0.006)
	withinAngle(t, "ABC", dms(30, 20, 30)+dms(29, 45, 6)+one+two, dms(60, 15, 31.4), 0.06)
}

// P23: E.M. Mikhail, F. Ackermann, Observations and Least Squares, 1976, ex. 7.1: the
// three angles of a triangle, 40°19′02″, 70°30′01″, 69°11′00″: v −1″ each, s₀² = 3 for
// 1″. The places are free in everything, scale and turn too.
func TestAdjust_TriangleOfAngles(t *testing.T) {
	n := &Network{Points: []Point{{}, {}, {}}}
	n.Points[1].At, n.Points[2].At = traverse.Point{E: 1000}, traverse.Point{E: 700, N: 850}
	for i, v := range []float64{dms(40, 19, 2), dms(70, 30, 1), dms(69, 11, 0)} {
		// interior angles, clockwise from the next corner but one to the next
		n.Observations = append(n.Observations, Observation{Kind: Angle, From: i, Back: (i + 2) % 3, To: (i + 1) % 3, Value: v, SD: second})
	}
	a := mustAdjust(t, n)
	for _, r := range a.Residuals {
		within(t, "v″", r.V/second, -1, 0.0001)
	}
	within(t, "s₀²", a.S0*a.S0, 3, 0.0005)
	if !a.Free || a.Turned || a.Dof != 1 {
		t.Errorf("free %v, turned %v, dof %d", a.Free, a.Turned, a.Dof)
	}
}
