package observer

import (
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

// A Session is one drill: what was called, what was booked, and the score.
type Session struct {
	Observer  *Observer // on the station the drill begins with
	first     booking.Setup
	calls     map[place][]Call
	asked     place // the pointing that was called last
	answered  bool  // something was booked there since
	times     []time.Duration
	said      time.Time // when it was called
	setups    map[int]booking.Setup
	observers map[int]*Observer
}

// A place is a slot of one setup.
type place struct {
	setup int
	slot  spec.Slot
}

// NewSession begins a drill with this observer.
func NewSession(o *Observer) *Session {
	return &Session{Observer: o, calls: map[place][]Call{}, setups: map[int]booking.Setup{}, observers: map[int]*Observer{}}
}

// Prompt returns what the observer calls now. again is how often the learner
// asked for the reading again.
func (d *Session) Prompt(s booking.Setup, slot spec.Slot, again int, now time.Time) string {
	p := place{s.Number, slot}
	d.asked, d.answered, d.said = p, false, now
	for len(d.calls[p]) <= again+struck(s, slot) {
		d.calls[p] = append(d.calls[p], d.observer(s).Call(s, slot, len(d.calls[p])))
	}
	return d.calls[p][again+struck(s, slot)].Text
}

// Said tells when the last call was heard, where that is later than Prompt.
func (d *Session) Said(now time.Time) { d.said = now }

// observer is the observer on the station of a setup: the one the session began
// with on its first station, and the same person on any other.
func (d *Session) observer(s booking.Setup) *Observer {
	if d.first.Number == 0 || s.Number == d.first.Number {
		d.first = s
		return d.Observer
	}
	if d.observers[s.Number] == nil {
		d.observers[s.Number] = d.Observer.at(s)
	}
	return d.observers[s.Number]
}

// struck counts the readings of the slot that were struck: each is called anew.
func struck(s booking.Setup, slot spec.Slot) int {
	n := 0
	for _, r := range s.Readings {
		if r.Slot == slot && !r.Stands() {
			n++
		}
	}
	return n
}

// Booked takes note of an event that was booked.
func (d *Session) Booked(e event.Entry) {
	s, err := d.setups[e.Setup].Apply(e)
	if err != nil {
		return
	}
	d.setups[e.Setup] = s
	r, ok := e.Event.(event.ReadingBooked)
	if !ok {
		return
	}
	d.answered = d.answered || d.asked == place{e.Setup, r.Slot}
	if !d.said.IsZero() {
		d.times = append(d.times, e.At.Sub(d.said))
	}
}

// Resume tells the session of a setup that was booked before it began.
func (d *Session) Resume(s booking.Setup) { d.setups[s.Number], d.first = s, s }
