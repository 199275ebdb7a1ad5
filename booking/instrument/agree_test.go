package instrument

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
)

// What the field test says of the stated σ and what the verdict says of it agree,
// setup for setup: the same spread, the same degrees of freedom, the same test at
// 5 % risk; whether the halves close on the RO or not, and whether σ is stated
// rightly or too small.
func TestFieldTest_AgreesWithTheVerdict(t *testing.T) {
	rnd := rand.New(rand.NewPCG(seed, 9))
	passed, failed := 0, 0
	for range 60 {
		stated := reduce.FromSeconds([]float64{1, 2, 3}[rnd.IntN(3)])
		o := observer.New(observer.Options{Seed: rnd.Uint64(), Targets: 3 + rnd.IntN(3), LeastCount: reduce.Arcsecond, Sigma: 3 * reduce.Arcsecond, Stated: stated, Rounds: 2 + rnd.IntN(3), NoVerticals: true})
		o.Spec.CloseHalves = rnd.IntN(2) == 0
		s, err := o.Book()
		if err != nil {
			t.Fatal(err)
		}
		f, err := WorkFieldTest([]booking.Setup{s})
		if err != nil {
			t.Fatal(err)
		}
		sigma := s.Spec.Instrument.Sigma.Seconds()
		here, verdict := f.Horizontal.S.AgainstStated(sigma, 1-probability), check.PrecisionOf(s, reduction.Of(s)).Stated
		if here.Passed != verdict.Passed || math.Abs(here.Statistic-verdict.Statistic) > 1e-6 || math.Abs(here.High-verdict.High) > 1e-9 {
			t.Errorf("closed %v: field test %+v, verdict %+v", o.Spec.CloseHalves, here, verdict)
		}
		if here.Passed {
			passed++
		} else {
			failed++
		}
	}
	if passed < 10 || failed < 5 {
		t.Errorf("nothing is compared: %d passed, %d did not", passed, failed)
	}
}

// A setup in doubt is named and does not count, unless it is asked for.
func TestWork_LeavesDoubtfulSetupsOut(t *testing.T) {
	sound := SampleOf(setup(t, 1, morning, 12, 0, -7, steep))
	wild := SampleOf(setup(t, 2, morning, -300, 0, -7, steep))
	wild.Doubt = "a reading in it is suspect"
	list := Work([]Sample{sound, wild}, DefaultSettings())
	if len(list) != 1 || len(list[0].Samples) != 1 || !strings.Contains(Text(list), "Setup 2 (Weir) is left out: a reading in it is suspect.") {
		t.Error(Text(list))
	}
	asked := DefaultSettings()
	asked.Held = true
	if list = Work([]Sample{sound, wild}, asked); len(list[0].Samples) != 2 || len(list[0].Left) != 0 {
		t.Error(Text(list))
	}
}
