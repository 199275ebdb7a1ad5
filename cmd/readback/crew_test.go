package main

import (
	"bytes"
	"fmt"
	"os"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"example.org/readback/store"
)

// A crew books made-up setups into a real book.
type crew struct {
	t  *testing.T
	l  *book.Ledger
	s  booking.Setup
	n  int
	at time.Time
}

// newBook makes a book and a crew that books into it. The book is closed at the
// end of the test, or before by close.
func newBook(t *testing.T, path string, begin event.BookOpened) *crew {
	t.Helper()
	l, err := book.Open(path, true, begin, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c := &crew{t: t, l: l, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	t.Cleanup(c.close)
	return c
}

func (c *crew) close() {
	c.t.Helper()
	if c.l != nil {
		if err := c.l.Close(); err != nil {
			c.t.Error(err)
		}
	}
	c.l = nil
}

func (c *crew) do(e event.Event, err error) {
	c.t.Helper()
	if err == nil {
		c.at = c.at.Add(20 * time.Second)
		c.s, err = c.l.Record(c.s, c.n, c.at, e)
	}
	if err != nil {
		c.t.Fatal(err)
	}
}

// open opens the next setup.
func (c *crew) open(spec spec.Spec) {
	c.t.Helper()
	c.n++
	c.s = booking.Setup{}
	open, err := booking.Open(spec)
	c.do(open, err)
}

// key books texts at the pointings that are called.
func (c *crew) key(texts ...string) {
	c.t.Helper()
	for _, text := range texts {
		e, err := check.Read(c.s, programme.Expect(c.s).Slot, text, true, check.Known{})
		c.do(e, err)
	}
}

// station is a setup on Weir with an RO and the targets.
func station(targets ...string) spec.Spec {
	lc := reduce.Arcsecond
	return spec.Spec{
		Station: "Weir", RO: "Spire", Targets: targets,
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: lc, Unit: reduce.DMS, Circle: faces.Zenith, Sigma: 2 * reduce.Arcsecond},
		Observer:   "Ines Holm", Booker: "Tam Okoro", Rounds: 2, Plan: spec.QuarterPlan,
		ClosingRule: faces.ClosingMean, Limits: spec.DefaultLimits(5 * lc), LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction,
	}
}

// observe books every pointing that is called until the verdict: directions 30°
// apart with a collimation c and a departure of 1″ on every third reading.
func (c *crew) observe(collimation reduce.Angle) {
	c.t.Helper()
	for k := 0; programme.Expect(c.s).Phase == programme.InRounds; k++ {
		slot := programme.Expect(c.s).Slot
		a := reduce.Angle(slot.Round-1)*reduce.QuarterTurn + 5*reduce.Arcminute
		for i, n := range c.s.Spec.Names() {
			if n == slot.Target {
				a += reduce.Angle(i) * 30 * reduce.Degree
			}
		}
		a += collimation
		if slot.Face == faces.FR {
			a += reduce.HalfTurn - 2*collimation
		}
		if k%3 == 0 {
			a += reduce.Arcsecond
		}
		a = a.Normalize()
		c.key(fmt.Sprintf("%d %02d %02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond))
	}
}

// said runs a command as a shell would and returns its exit code and output.
func said(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = runAgain(args, &Context{Out: &o, Err: &e, Getenv: func(string) string { return "" }})
	return code, o.String(), e.String()
}

func mkdir(t testing.TB, dir string) {
	t.Helper()
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
}
