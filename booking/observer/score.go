package observer

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking/check/slip"
)

// A Score is what a learner made of a drill.
type Score struct {
	Readings    int
	PerReading  time.Duration // mean time from the call to the booking
	Slips       int           // called and answered
	Caught      int           // not standing in the book at the end
	Missed      int           // standing in the book at the end
	MissedWhere []string
	Miskeyed    int // readings that stand and that nobody called
	KeyedWhere  []string
	Lifted      int // stations lifted
	LiftedWrong int // of them, on Hold or with a wrong figure in what counts
}

// Score returns the score so far. A slip that waits for its answer counts when
// it has one.
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
		d.judge(&sc, p, calls, wrong)
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
	slices.Sort(sc.MissedWhere)
	slices.Sort(sc.KeyedWhere)
	return sc
}

// judge holds what stands at a place against what was called there.
func (d *Session) judge(sc *Score, p place, calls []Call, wrong map[int]bool) {
	s := d.setups[p.setup]
	r, standing := s.At(p.slot)
	said, made := false, ""
	for i, c := range calls {
		same := standing && c.Text != "" && r.Value == c.Value
		said = said || same
		if !c.Slipped {
			continue
		}
		if p == d.asked && !d.answered && i == len(calls)-1 {
			continue // it waits for its answer
		}
		sc.Slips++
		if same {
			sc.Missed++
			made = kindWords(c.Slip)
			continue
		}
		sc.Caught++
	}
	switch {
	case made != "":
		sc.MissedWhere = append(sc.MissedWhere, fmt.Sprintf("setup %d, %s: %s", p.setup, p.slot, made))
	case standing && !said:
		sc.Miskeyed++
		sc.KeyedWhere = append(sc.KeyedWhere, fmt.Sprintf("setup %d, %s: %s was not called", p.setup, p.slot, r.Text))
	default:
		return
	}
	if round, begun := s.Round(p.slot.Round); !begun || round.Used() {
		wrong[p.setup] = true
	}
}

// kindWords names a slip.
func kindWords(k slip.Kind) string {
	if k == slip.Unknown {
		return "a poor sight"
	}
	return string(k)
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
		fmt.Fprintf(&b, "  %s\n", w)
	}
	line("keyed otherwise than called", fmt.Sprint(s.Miskeyed))
	for _, w := range s.KeyedWhere {
		fmt.Fprintf(&b, "  %s\n", w)
	}
	line("stations lifted", fmt.Sprint(s.Lifted))
	line("stations lifted wrongly", fmt.Sprint(s.LiftedWrong))
	return b.String()
}
