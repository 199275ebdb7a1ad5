package tui

import (
	"fmt"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

// an observer of a drill that calls the pointing's name and how often it was
// asked.
type parrot struct {
	calls  []string
	late   string // called in place of that
	booked int
}

func (p *parrot) Prompt(_ booking.Setup, k spec.Slot, again int) (string, func() string) {
	p.calls = append(p.calls, fmt.Sprintf("%s %s %d", k.Face, k.Target, again))
	call := p.calls[len(p.calls)-1]
	if p.late != "" {
		return "", func() string { return p.late }
	}
	return call, nil
}

func (p *parrot) Booked(event.Entry) { p.booked++ }

func (p *parrot) Score() string { return fmt.Sprintf("booked %d\nslips caught 3\n", p.booked) }

func TestDrill_TheObserverCallsOncePerPointing(t *testing.T) {
	p := &parrot{}
	d := firstSetup(newDriver(t, &fakePort{}, Options{Drill: p}))
	d.sees("DRILL", "the observer calls FL Spire 0")
	d.keys("a").sees("FL Spire 1").keys("r1").sees("FL Spire 1")
	d.book("00510").sees("FL Alder 0")
	p.late = "45 10 20"
	d.keys("a").sees("the observer calls 4 5 1 0 2 0")
	if len(p.calls) != 4 || p.booked != 3 { // opening, remark, reading
		t.Fatalf("%v, %d booked", p.calls, p.booked)
	}
}

func TestDrill_ScoreIsShownBehindTheLift(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{Drill: &parrot{}}))
	d.keys("lty").sees("Score of the drill", "slips caught 3", "Press N at the next station")
}

func TestNames_WideAndCombining(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	spec := manySpec()
	spec.Station, spec.RO, spec.Targets = "Wehr", "塔北", []string{"Kapelle Süd", "cafe\u0301", "Mast"}
	d.run(d.app.carryOne(openSetup{spec: spec}))
	d.flush()
	d.book("00510", "451020", "1203000", "2500045", "700050", "3003010")
	golden(t, "names-wide-80x24.txt", d.plain())
}
