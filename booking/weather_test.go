package booking_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/reduction"
)

// What is written down around the observing follows a lift without a mark, changes
// no reading and no verdict, and stands in no setup that was struck.
func TestDay_BesideTheReadings(t *testing.T) {
	p := &procedure{t: t, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	for _, c := range []string{"open targets=Alder", "key 0 05 10 / 45 10 20 / 225 10 25 / 180 05 15 / 90 05 10 / 135 10 25 / 315 10 30 / 270 05 15", "lift"} {
		word, rest, _ := strings.Cut(c, " ")
		if err := p.do(word, rest); err != nil {
			t.Fatal(c, err)
		}
	}
	before := reduction.Of(p.s)
	air, err := p.s.Weather("haze", new(18.5), nil)
	if err != nil {
		t.Fatal(err)
	}
	p.store(air)
	sum := strings.Repeat("ab", 32)
	file, err := p.s.NameFile("weir.jpg", 2048, sum, "the mark from the north")
	if err != nil {
		t.Fatal(err)
	}
	p.store(file)
	if _, err := p.s.NameFile("weir.jpg", 2048, sum, ""); !errors.Is(err, booking.ErrRefused) {
		t.Errorf("the same file twice: %v", err)
	}
	pack, err := p.s.Pack([]bool{true, true}, "")
	if err != nil {
		t.Fatal(err)
	}
	p.store(pack)
	if n := len(event.PackUp(p.s.Spec)); len(pack.Done) != 2 || len(pack.Left) != n-2 || !strings.Contains(pack.Done[0], "beside the mark on Weir") {
		t.Errorf("%+v", pack)
	}
	if w := pack.Words(); w != "2 of 6 done; not done: fixing screw, sun and cap, road and site, all collected" {
		t.Errorf("the pack-up says %q", w)
	}
	for want, pack := range map[string]event.PackedUp{
		"0 of 1 done; not done: rod beside the mark. The rod is lent to Kiln": {Left: []string{"A rod or target stands beside the mark on Weir, plumb, where the next setup sights back to it"}, Text: "The rod is lent to Kiln"},
		"1 of 2 done; not done: distance meter":                               {Done: []string{"x"}, Left: []string{"The distance meter is switched off, and its battery is known"}},
		"0 of 1 done; not done: a line of another crew":                       {Left: []string{"a line of another crew"}},
		"1 of 1 done": {Done: []string{"x"}},
	} {
		if w := pack.Words(); w != want {
			t.Errorf("the pack-up says %q, want %q", w, want)
		}
	}
	after := reduction.Of(p.s)
	if after.Directions[0] != before.Directions[0] || len(p.s.Airs) != 1 || len(p.s.Files) != 1 || len(p.s.Packed) != 1 {
		t.Errorf("%+v", p.s)
	}
	for _, bad := range []func() error{
		func() error { _, err := p.s.Weather("", nil, nil); return err },
		func() error { _, err := p.s.Weather("", new(185.0), nil); return err },
		func() error { _, err := p.s.Weather("", nil, new(30.0)); return err },
		func() error { _, err := p.s.NameFile("x.jpg", 1, "12", ""); return err },
		func() error { _, err := p.s.Pack(nil, " "); return err },
		func() error { _, err := day.HandOverNote(" ", "Tam Okoro"); return err },
	} {
		if err := bad(); !errors.Is(err, booking.ErrRefused) {
			t.Errorf("taken: %v", err)
		}
	}
}
