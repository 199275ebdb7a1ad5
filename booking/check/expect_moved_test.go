package check

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/observer"
	"example.org/readback/reduce"
)

// A kick of 14 times the σ of a reading on face right of the first round, or on a
// face of the second, is told at the second reading behind it in 95 of 100 setups, where two sights of
// the half were sound before it. Seeded; σ of a
// reading 2″, least count 1″ and 5″, 3 to 8 targets.
func TestRead_TellsAKickAtTheSecondSight(t *testing.T) {
	const n = 60
	rng := rand.New(rand.NewPCG(11, 11))
	told, tried, accused := 0, 0, 0
	for range n {
		targets := 4 + rng.IntN(5)
		round, face := 1+rng.IntN(2), booking.FR
		if round == 2 && rng.IntN(2) == 0 {
			face = booking.FL
		}
		from := 2 + rng.IntN(targets-2)
		size := reduce.FromSeconds(28 * math.Copysign(1, rng.Float64()-0.5))
		o := observer.New(observer.Options{Seed: rng.Uint64(), Targets: targets, LeastCount: reduce.Angle(1+4*rng.IntN(2)) * reduce.Arcsecond,
			Hilly: true, NoVerticals: true, Faults: []observer.Fault{{Round: round, Face: face, From: from, By: size}}})
		s, err := booking.Setup{}.Apply(booking.Entry{Seq: 1, Setup: 1, Event: booking.SetupOpened{Spec: o.Spec}})
		if err != nil {
			t.Fatal(err)
		}
		at := 0 // sights of the half so far
		for seq := uint64(2); ; seq++ {
			slot := s.Expect().Slot
			if slot.Round > round || slot.Face == booking.FR && face == booking.FL && slot.Round == round || slot.Quantity != booking.Horizontal {
				break
			}
			e, err := Read(s, slot, o.Call(s, slot, 0).Text, true, Known{})
			if err != nil {
				t.Fatal(err)
			}
			if slot.Round == round && slot.Face == face {
				at++
				moved := len(e.Findings) > 0 && e.Findings[0].Code == codeMoved
				switch {
				case at == from+2:
					tried++
					if moved {
						told++
					}
				case at > from+2 && len(e.Findings) > 0 && e.Findings[0].Severity == booking.Stop && !moved:
					accused++
				}
			}
			if s, err = s.Apply(booking.Entry{Seq: seq, Setup: 1, Event: e}); err != nil {
				t.Fatal(err)
			}
		}
	}
	t.Logf("told at the second: %d of %d; accused of misreading behind it: %d", told, tried, accused)
	if told*100 < 95*tried || tried < n/2 {
		t.Errorf("told at the second: %d of %d; accused of misreading behind it: %d", told, tried, accused)
	}
}

// The sentence says what turned and what to do, and no reading.
func TestRead_MovedSentence(t *testing.T) {
	b := newBench(t, testSpec())
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b.keys("90 05 10", "135 10 25", "210 30 40")
	e, _ := Read(b.s, b.s.Expect().Slot, "340 01 20", false, Known{})
	if len(e.Findings) != 1 || e.Findings[0].Code != codeMoved || !strings.Contains(e.Findings[0].Text, "Everything from Quarry on face left on is about +34″ out") {
		t.Errorf("%+v", e.Findings)
	}
}
