package drill

import (
	"fmt"
	"strings"
	"time"

	"example.org/readback/booking"
)

// A Session is one drill: what was called, what was booked, and the score.
type Session struct {
	Observer *Observer
	calls    map[place][]Call
	times    []time.Duration
	prompted time.Time
	setups   map[int]booking.Setup
}

// A place is a slot of one setup.
type place struct {
	setup int
	slot  booking.Slot
}

// NewSession begins a drill with this observer.
func NewSession(o *Observer) *Session {
	return &Session{Observer: o, calls: map[place][]Call{}, setups: map[int]booking.Setup{}}
}

// Prompt returns what the observer calls now. again is how often the learner
// asked for the reading again.
func (d *Session) Prompt(s booking.Setup, slot booking.Slot, again int, now time.Time) string {
	p := place{s.Number, slot}
	d.prompted = now
	for len(d.calls[p]) <= again+struck(s, slot) {
		d.calls[p] = append(d.calls[p], d.Observer.Call(s, slot, len(d.calls[p])))
	}
	return d.calls[p][again+struck(s, slot)].Text
}

// struck counts the readings of the slot that were struck: each is called anew.
func struck(s booking.Setup, slot booking.Slot) int {
	n := 0
	for _, r := range s.Readings {
		if r.Slot == slot && !r.Stands() {
			n++
		}
	}
	return n
}

// Booked takes note of an event that was booked.
func (d *Session) Booked(e booking.Entry) {
	s, err := d.setups[e.Setup].Apply(e)
	if err != nil {
		return
	}
	d.setups[e.Setup] = s
	if _, ok := e.Event.(booking.ReadingBooked); ok && !d.prompted.IsZero() {
		d.times = append(d.times, e.At.Sub(d.prompted))
	}
}

// Resume tells the session of a setup that was booked before it began.
func (d *Session) Resume(s booking.Setup) { d.setups[s.Number] = s }

// A Score is what a learner made of a drill.
type Score struct {
	Readings    int
	PerReading  time.Duration // mean time from the call to the booking
	Slips       int           // called
	Caught      int           // not standing in the book at the end
	Missed      int           // standing in the book at the end
	MissedWhere []string
	Lifted      int // stations lifted
	LiftedWrong int // of them, with a slip standing or on Hold
}

// Score returns the score so far.
func (d *Session) Score() Score {
	sc := Score{Readings: len(d.times)}
	var sum time.Duration
	for _, t := range d.times {
		sum += t
	}
	if len(d.times) > 0 {
		sc.PerReading = sum / time.Duration(len(d.times))
	}
	wrong := map[int]bool{}
	for p, calls := range d.calls {
		for _, c := range calls {
			if c.Slip != "" {
				d.scoreSlip(&sc, p, c, wrong)
			}
		}
	}
	for n, s := range d.setups {
		if s.Lift == nil {
			continue
		}
		sc.Lifted++
		if wrong[n] || s.Lift.Despite != "" {
			sc.LiftedWrong++
		}
	}
	return sc
}

// scoreSlip counts one slip as missed where it stands in the book.
func (d *Session) scoreSlip(sc *Score, p place, c Call, wrong map[int]bool) {
	sc.Slips++
	s := d.setups[p.setup]
	r, ok := s.At(p.slot)
	value, err := s.Parse(p.slot, c.Text)
	if !ok || err != nil || r.Value != value {
		sc.Caught++
		return
	}
	sc.Missed++
	sc.MissedWhere = append(sc.MissedWhere, fmt.Sprintf("%s: %s", p.slot, c.Slip))
	round, begun := s.Round(p.slot.Round)
	if !begun || round.Used() {
		wrong[p.setup] = true
	}
}

// String prints the score as a short table.
func (s Score) String() string {
	var b strings.Builder
	line := func(what, value string) { fmt.Fprintf(&b, "%-28s %s\n", what, value) }
	line("readings booked", fmt.Sprint(s.Readings))
	line("time per reading", fmt.Sprintf("%.1f s", s.PerReading.Seconds()))
	line("slips called", fmt.Sprint(s.Slips))
	line("slips caught", fmt.Sprint(s.Caught))
	line("slips missed", fmt.Sprint(s.Missed))
	for _, w := range s.MissedWhere {
		line("", w)
	}
	line("stations lifted", fmt.Sprint(s.Lifted))
	line("stations lifted wrongly", fmt.Sprint(s.LiftedWrong))
	return b.String()
}
