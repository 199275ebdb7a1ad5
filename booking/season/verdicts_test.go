package season_test

import (
	"math"
	"strings"
	"testing"

	"example.org/readback/booking/season"
	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// Sound stations are held in 4 of 100 at most and named in 3, three standard errors
// allowed, in cells that lie at the ends: the finest and the coarsest readings, few
// and many targets and rounds, σ stated and not. Seeded; `readback drill
// --verdicts` prints all cells. (The aims are ours.)
func TestVerdict_SoundStations(t *testing.T) {
	n := testdata.Times(60, 150)
	for _, c := range []season.Cell{
		{Sigma: 2, LeastCount: reduce.Arcsecond, Targets: 5, Rounds: 4, Stated: true},
		{Sigma: 5, LeastCount: 5 * reduce.Arcsecond, Targets: 8, Rounds: 2, Stated: true},
		{Sigma: 1, LeastCount: 10 * reduce.Arcsecond, Targets: 3, Rounds: 3, Stated: true},
		{Sigma: 5, LeastCount: reduce.Milligon / 10, Targets: 3, Rounds: 2},
		{Sigma: 1, LeastCount: 10 * reduce.Arcsecond, Targets: 5, Rounds: 3},
		{Sigma: 5, LeastCount: reduce.Arcsecond, Targets: 5, Rounds: 4},
	} {
		trial, err := c.Try(nil, n, 0, []uint64{31})
		if err != nil {
			t.Fatal(err)
		}
		s := trial.Sound
		most := func(p float64) int { return int(float64(n)*p + 3*math.Sqrt(float64(n)*p*(1-p))) }
		if s.Held > most(0.04) || s.Named > most(0.03) {
			t.Errorf("%s: of %d held %d %v, named %d", c, n, s.Held, s.By, s.Named)
		}
	}
}

// Spoiled stations are lifted and left unnamed no more often than the plain rule
// lifts and leaves unnamed the same stations, three standard errors of the difference
// allowed; and what is large is held.
func TestVerdict_SpoiledStations(t *testing.T) {
	n := testdata.Times(25, 60)
	for _, c := range []season.Cell{
		{Sigma: 2, LeastCount: 10 * reduce.Arcsecond, Targets: 5, Rounds: 2, Stated: true},
		{Sigma: 5, LeastCount: 5 * reduce.Arcsecond, Targets: 3, Rounds: 3},
	} {
		for i, x := range season.Spoilers() {
			large := false
			switch x.Name {
			case "one reading 60″ off", "wrong target, both faces", "a half shifted 14 σ", "a kick of 14 σ":
				large = true
			case "one reading 20″ off", "one reading 30″ off", "digits exchanged", "the RO alone 30″ off":
			default:
				continue
			}
			trial, err := c.Try(season.Spoilers()[i:i+1], 2*n, n, []uint64{32})
			if err != nil {
				t.Fatal(err)
			}
			r := trial.Spoiled[0]
			more := func(rival, here int) bool { return float64(rival-here) > 3*math.Sqrt(float64(rival+here)) }
			if more(r.Plain.HeldAlone, r.Plain.LiftsAlone) || more(r.Plain.NamedAlone, r.Plain.Unnamed) || r.WrongAlone > 2 || large && r.Held*10 < 9*r.N {
				t.Errorf("%s: %s: %+v", c, x.Name, r)
			}
		}
	}
}

// The same seeds give the same table, whatever cells stand beside a cell; and it says
// when it was cut short.
func TestVerdicts_Repeatable(t *testing.T) {
	table := func(cells []season.Cell, begin int) string {
		var b strings.Builder
		n := 0
		if err := season.Verdicts(&b, 2, 1, []uint64{1, 2}, cells, func() bool { n++; return n <= begin }); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	cells := season.Cells()
	one := table(cells[:1], 1)
	if table(cells[:1], 1) != one {
		t.Error("the same seeds gave another table")
	}
	line := func(s string, k int) string { return strings.Split(s, "\n")[k] }
	two := table([]season.Cell{cells[3], cells[0]}, 2)
	if line(two, 2) != line(one, 1) {
		t.Errorf("beside another cell:\n%s\n%s", line(two, 2), line(one, 1))
	}
	if cut := table(cells[:3], 1); !strings.Contains(cut, "cut short: 1 of 3 cells") || !strings.Contains(cut, line(one, 1)) {
		t.Error(cut)
	}
}
