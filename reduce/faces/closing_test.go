package faces

import (
	"slices"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// pointingsOf returns the means of one round of F16: opening, targets, closing.
func pointingsOf(t *testing.T, f testdata.Printed, round string) (opening Pointing, targets []Pointing, closing Pointing) {
	t.Helper()
	for _, r := range f.All("reading") {
		if r[0] != round {
			continue
		}
		p := Pointing{PairMean(reduce.DirectionAt(at(t, r[2])), reduce.DirectionAt(at(t, r[3]))), true}
		switch {
		case r[1] != "A":
			targets = append(targets, p)
		case !opening.OK:
			opening = p
		default:
			closing = p
		}
	}
	return opening, targets, closing
}

func TestReduceRound_MeanF16(t *testing.T) {
	f := testdata.Published(t, "F16")
	for i, round := range []string{"1", "2"} {
		a, targets, z := pointingsOf(t, f, round)
		r, ok := ReduceRound(a, targets, z, ClosingMean)
		if !ok || !r.Closed {
			t.Fatal("not closed")
		}
		meetsAngle(t, f, "RO, mean rule", r.RO.Angle(), f.All("ro")[i][1])
		f.Meets(t, "misclosure", r.Misclosure.Seconds(), f.All("closure")[i][1])
		for j, want := range f.All("reduced")[i][1:] {
			meetsAngle(t, f, "direction, mean rule", r.Directions[j].Value.Angle(), want)
		}
	}
}

func TestReduceRound_SpreadS5(t *testing.T) {
	f := testdata.Published(t, "F16")
	a, targets, z := pointingsOf(t, f, "1")
	r, ok := ReduceRound(a, targets, z, ClosingSpread)
	if !ok || r.RO != a.Value {
		t.Errorf("RO %v, opening %v", r.RO, a.Value)
	}
	for j, want := range f.One(t, "spread") {
		meetsAngle(t, f, "direction, spread rule", r.Directions[j].Value.Angle(), want)
		if j != 1 && r.Directions[j].Value.Angle() == at(t, f.All("reduced")[0][j+1]) {
			t.Errorf("target %d: the two rules agree; they must not", j)
		}
	}
}

// F21 prints the mean of the two RO means, 0 02 05.5, rounded to 0 02 06.
func TestReduceRound_F21(t *testing.T) {
	f := testdata.Published(t, "F21")
	l := f.One(t, "ro")
	r, _ := ReduceRound(Pointing{reduce.DirectionAt(at(t, l[0])), true}, nil, Pointing{reduce.DirectionAt(at(t, l[1])), true}, ClosingMean)
	meetsAngle(t, f, "RO, mean rule", r.RO.Angle(), l[2])
	if r.RO.Angle().Round(reduce.Arcsecond) != at(t, l[3]) {
		t.Errorf("rounded: %v", r.RO.Angle().Round(reduce.Arcsecond))
	}
	l = f.One(t, "direction")
	m, err := reduce.Mean([]reduce.Direction{reduce.DirectionAt(at(t, l[0])), reduce.DirectionAt(at(t, l[1]))})
	if err != nil || m.Angle() != at(t, l[2]) || m.Angle().Round(reduce.Arcsecond) != at(t, l[3]) {
		t.Errorf("mean %v, rounded %v", m, m.Angle().Round(reduce.Arcsecond))
	}
}

func TestReduceRound_Gaps(t *testing.T) {
	p := func(s float64) Pointing { return Pointing{reduce.DirectionAt(reduce.FromSeconds(s)), true} }
	none := Pointing{}
	targets := []Pointing{p(100), none, p(300)}
	for name, c := range map[string]struct {
		opening, closing Pointing
		rule             ClosingRule
		want             []float64
		closed           bool
	}{
		"opening only":       {p(-2), none, ClosingMean, []float64{102, 0, 302}, false},
		"opening only, ramp": {p(-2), none, ClosingSpread, []float64{102, 0, 302}, false},
		"closing only":       {none, p(2), ClosingSpread, []float64{98, 0, 298}, false},
		"mean across north":  {p(-2), p(6), ClosingMean, []float64{98, 0, 298}, true},
		"ramp across north":  {p(-2), p(6), ClosingSpread, []float64{100, 0, 296}, true},
	} {
		r, ok := ReduceRound(c.opening, targets, c.closing, c.rule)
		if !ok || r.Closed != c.closed || r.Directions[1].OK {
			t.Errorf("%s: %+v", name, r)
			continue
		}
		got := []float64{r.Directions[0].Value.Angle().Seconds(), 0, r.Directions[2].Value.Angle().Seconds()}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	if _, ok := ReduceRound(none, targets, none, ClosingMean); ok {
		t.Error("reduced to nothing")
	}
}

// F25: direct and reversed means, and the angles between them round the horizon.
func TestMeans_F25(t *testing.T) {
	for _, c := range testdata.Published(t, "F25").Cases()[:2] {
		direct, reversed, means := c.One(t, "direct"), c.One(t, "reversed"), c.One(t, "mean")
		var m []reduce.Angle
		for i := range direct {
			x := PairMean(reduce.DirectionAt(at(t, direct[i])), reduce.DirectionAt(at(t, reversed[i])+reduce.HalfTurn))
			meetsAngle(t, c, "mean of the pair", x.Angle(), means[i])
			m = append(m, x.Angle())
		}
		for i, want := range c.One(t, "angle") {
			meetsAngle(t, c, "angle between directions", (m[i+1] - m[i]).Normalize(), want)
		}
		c.Meets(t, "misclosure", (m[3] - m[0]).Wrap().Seconds(), c.One(t, "misclosure")[0])
	}
}
