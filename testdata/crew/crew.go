// Package crew books made-up setups for the tests of the rooms that print and hand out
// what was booked. Nothing but tests may import it.
package crew

import (
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/testdata"
)

// A Crew books one setup, an event every 20 seconds from 8 o'clock of a day in May.
type Crew struct {
	Setup booking.Setup
	t     testdata.T
	seq   uint64
	at    time.Time
}

// Open opens a setup; its events are numbered from a thousand times its number on.
func Open(t testdata.T, number int, agreed spec.Spec) *Crew {
	t.Helper()
	c := &Crew{t: t, seq: uint64(number) * 1000, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	open, err := booking.Open(agreed)
	if err != nil {
		t.Fatalf("%v", err)
	}
	c.Is(number, open)
	return c
}

// Is books an event that nothing has refused.
func (c *Crew) Is(number int, e event.Event) {
	c.t.Helper()
	c.seq++
	c.at = c.at.Add(20 * time.Second)
	s, err := c.Setup.Apply(event.Entry{Seq: c.seq, At: c.at, Setup: number, Event: e})
	if err != nil {
		c.t.Fatalf("%v", err)
	}
	c.Setup = s
}

// Do books what was decided.
func (c *Crew) Do(e event.Event, err error) {
	c.t.Helper()
	if err != nil {
		c.t.Fatalf("%v", err)
	}
	c.Is(c.Setup.Number, e)
}

// Key books texts at the pointings that are called.
func (c *Crew) Key(texts ...string) {
	c.t.Helper()
	for _, text := range texts {
		c.KeyAt(programme.Expect(c.Setup).Slot, text)
	}
}

// KeyAt books a text at a slot.
func (c *Crew) KeyAt(slot spec.Slot, text string) {
	c.t.Helper()
	c.Do(check.Read(c.Setup, slot, text, true, check.Known{}))
}

// Strike strikes the reading booked last.
func (c *Crew) Strike(reason string) {
	c.t.Helper()
	last, _ := c.Setup.Last()
	c.Do(c.Setup.Strike(last.Seq, reason))
}
