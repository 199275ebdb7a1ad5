package check

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/testdata"
)

// A kick of 14 times the σ of a reading (its rounding counted, √(2σ² + least count²/12))
// on face right of the first round, or on a
// face of the second, is told at the second sight behind it, where the other face or
// an earlier round is booked: over σ, least count and number of targets. Behind it hardly
// any reading is called misread (1 in 100 setups), and at the first sight a slip is said only beside the
// move. Seeds that nothing was tuned on.
func TestRead_TellsAKickAtTheSecondSight(t *testing.T) {
	n := 3
	if *testdata.Long {
		n = 60
	}
	var all, sound kicks
	for _, sigma := range []float64{1, 2, 5} {
		for _, least := range []int{1, 5, 10} {
			var cell kicks
			for _, targets := range []int{3, 5, 8} {
				for i := range n {
					cell.book(t, uint64(1000*least+100*targets+i), sigma, reduce.Angle(least)*reduce.Arcsecond, targets, 14)
					sound.book(t, uint64(5000*least+100*targets+i), sigma, reduce.Angle(least)*reduce.Arcsecond, targets, 0)
				}
			}
			t.Logf("σ %.0f″, least count %d″: told at the second %d of %d; at the third at the latest %d; accused behind it %d; at the first, a slip alone %d",
				sigma, least, cell.told, cell.tried, cell.told+cell.late, cell.accused, cell.early)
			all.add(cell)
			if n := float64(cell.tried); float64(cell.told) < 0.95*n-3*math.Sqrt(n*0.95*0.05) {
				t.Errorf("σ %.0f″, least count %d″: %+v", sigma, least, cell)
			}
		}
	}
	t.Logf("all: told at the second %d of %d, accused behind it %d, a slip alone at the first %d", all.told, all.tried, all.accused, all.early)
	t.Logf("sound: said to have moved %d of %d", sound.told+sound.late, sound.tried)
	if (sound.told+sound.late)*50 > sound.tried {
		t.Errorf("sound: %+v", sound)
	}
	if all.accused*100 > 2*all.tried || all.early > 0 {
		t.Errorf("%+v", all)
	}
}

// kicks counts what was said of kicks.
type kicks struct{ tried, told, late, accused, early int }

func (k *kicks) add(o kicks) {
	k.tried, k.told, k.late = k.tried+o.tried, k.told+o.told, k.late+o.late
	k.accused, k.early = k.accused+o.accused, k.early+o.early
}

// book books a setup with a kick up to the end of the half it is in.
func (k *kicks) book(t *testing.T, seed uint64, sigma float64, least reduce.Angle, targets int, times float64) {
	rng := rand.New(rand.NewPCG(2611, seed))
	round, face := 1+rng.IntN(2), faces.FR
	if round == 2 && rng.IntN(2) == 0 {
		face = faces.FL
	}
	from := 1 + rng.IntN(targets-1) // sights of the half: targets + 1
	lc := least.Seconds()
	size := reduce.FromSeconds(times * math.Sqrt(2*sigma*sigma+lc*lc/12) * math.Copysign(1, rng.Float64()-0.5))
	o := observer.New(observer.Options{Seed: rng.Uint64(), Targets: targets, LeastCount: least, Sigma: reduce.FromSeconds(sigma * math.Sqrt2),
		Hilly: true, NoVerticals: true, Faults: []observer.Fault{{Round: round, Face: face, From: from, By: size}}})
	s, err := booking.Setup{}.Apply(event.Entry{Seq: 1, Setup: 1, Event: event.SetupOpened{Spec: o.Spec}})
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for seq, at := uint64(2), 0; ; seq++ {
		slot := programme.Expect(s).Slot
		if slot.Round > round || slot.Face == faces.FR && face == faces.FL && slot.Round == round || slot.Quantity != spec.Horizontal {
			break
		}
		e, err := Read(s, slot, o.Call(s, slot, 0).Text, true, Known{})
		if err != nil {
			t.Fatal(err)
		}
		if slot.Round == round && slot.Face == face {
			at++
			var f event.Finding
			if len(e.Findings) > 0 {
				f = e.Findings[0]
			}
			moved := f.Code == Moved
			switch {
			case times == 0:
				if moved {
					told = 1
				}
			case at == from+1 && f.Severity == event.Stop && !strings.Contains(f.Text, "moved"):
				k.early++
				t.Log(f.Text)
			case moved && told == 0:
				told = at - from
			case at > from+1 && f.Severity == event.Stop && !moved && told == 0 && at > from+2, at > from+1 && told > 0 && f.Severity == event.Stop && !moved:
				k.accused++
				t.Log(at-from, f.Text)
			}
		}
		if s, err = s.Apply(event.Entry{Seq: seq, Setup: 1, Event: e}); err != nil {
			t.Fatal(err)
		}
	}
	k.tried++
	switch told {
	case 1, 2:
		k.told++
	case 3:
		k.late++
	}
}

// The sentence says what turned and what to do, and no reading.
func TestRead_MovedSentence(t *testing.T) {
	b := newBench(t, testSpec())
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b.keys("90 05 10", "135 10 25", "210 30 40")
	e, _ := Read(b.s, programme.Expect(b.s).Slot, "340 01 20", false, Known{})
	if len(e.Findings) != 1 || e.Findings[0].Code != Moved || !strings.Contains(e.Findings[0].Text, "Everything since Quarry on face left is about 34″ out") {
		t.Errorf("%+v", e.Findings)
	}
}
