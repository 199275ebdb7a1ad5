package season_test

import (
	"math"
	"testing"

	"example.org/readback/booking/season"
	"example.org/readback/reduce"
)

// Sound stations are held in 4 of 100 at most and named in 3, three standard errors
// allowed, in cells that lie at the ends: the finest and the coarsest readings, few
// and many targets and rounds, σ stated and not. Seeded; `readback drill
// --verdicts` prints all cells. (The aims are ours.)
func TestVerdict_SoundStations(t *testing.T) {
	const n = 150
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
		most := func(p float64) int { return int(n*p + 3*math.Sqrt(n*p*(1-p))) }
		if s.Held > most(0.04) || s.Named > most(0.03) {
			t.Errorf("%s: of %d held %d %v, named %d", c, n, s.Held, s.By, s.Named)
		}
	}
}

// A reading 30″ off at a least count of 10″, a wrong target on both faces and a
// half that turned are held and named no worse than by the plain rule.
func TestVerdict_SpoiledStations(t *testing.T) {
	const n = 60
	c := season.Cell{Sigma: 2, LeastCount: 10 * reduce.Arcsecond, Targets: 5, Rounds: 2, Stated: true}
	for i, x := range season.Spoilers() {
		switch x.Name {
		case "one reading 30″ off", "wrong target, both faces", "a half shifted 14 σ", "a kick of 14 σ":
		default:
			continue
		}
		trial, err := c.Try(season.Spoilers()[i:i+1], 100, n, []uint64{32})
		if err != nil {
			t.Fatal(err)
		}
		r := trial.Spoiled[0]
		if r.Held < r.PlainHeld-2 || r.Named < r.PlainNamed-2 || r.WrongAlone > 2 || r.Held*10 < 9*n {
			t.Errorf("%s: %+v", x.Name, r)
		}
	}
}

func TestVerdicts_Repeatable(t *testing.T) {
	cells := season.Cells()[:1]
	a, err := season.Verdicts(2, 1, []uint64{1, 2}, cells)
	if err != nil {
		t.Fatal(err)
	}
	if b, _ := season.Verdicts(2, 1, []uint64{1, 2}, cells); a != b {
		t.Error("the same seeds gave another table")
	}
}
