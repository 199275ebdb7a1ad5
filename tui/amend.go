package tui

import (
	"fmt"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	tea "github.com/charmbracelet/bubbletea"
)

// What is put right in a setup.
type (
	// amendSetup changes what was agreed.
	amendSetup struct {
		spec    spec.Spec
		renamed []spec.Rename
		reason  string
	}
	// strikeSetup strikes the setup whole.
	strikeSetup struct{ reason string }
)

// carryAmend does what puts a setup right.
func (a *app) carryAmend(x ask) tea.Cmd {
	s := a.v.setup
	switch x := x.(type) {
	case amendSetup:
		e, err := s.Amend(x.spec, x.renamed, x.reason)
		if a.write(e, err, a.backTo()) {
			a.later = append(a.later, a.loadKnown())
			if s.Number == a.v.lastSetup {
				a.v.lastSpec = a.v.setup.Spec
			}
		}
	case strikeSetup:
		e, err := s.StrikeWhole(x.reason)
		if !a.write(e, err, onWork) {
			return nil
		}
		if s.Number == a.v.lastSetup {
			a.v.lastSpec = a.v.priorSpec
		}
		a.v.setup = booking.Setup{} // nothing is at work any more
		a.rebuild()
	}
	return nil
}

// backTo is the screen that an event leads back to: the page in a setup that was
// lifted.
func (a *app) backTo() screenID {
	if a.v.setup.Lift != nil {
		return onPage
	}
	return onBooking
}

// proposal is what the form of the next setup begins with.
func (v *view) proposal() day.Proposal {
	last, plan := v.lastSpec, v.book.Plan
	if v.lastSetup == 0 || last.Instrument.Unit == 0 {
		last = v.first
		if n := len(v.book.Checks); n > 0 {
			c := v.book.Checks[n-1]
			last.Instrument, last.Observer, last.Limits = c.Instrument, c.By, spec.DefaultLimits(c.Instrument.LeastCount)
		}
	}
	if v.wanted != nil {
		return day.Propose([]event.PlannedStation{*v.wanted}, nil, last, "")
	}
	return day.Propose(plan, v.inOrder(), last, v.today)
}

// inOrder are the setups of the work list in the order of their numbers, the one
// at work as it is now.
func (v *view) inOrder() []day.Summary {
	list := slices.DeleteFunc(slices.Clone(v.list.setups), func(m day.Summary) bool { return v.open && m.Setup == v.setup.Number })
	if v.open {
		list = append(list, check.Summarize(v.setup))
	}
	slices.SortFunc(list, func(a, b day.Summary) int { return a.Setup - b.Setup })
	return list
}

// strikeSetupWriting asks why a setup without a reading is struck whole.
func strikeSetupWriting(station string) writing {
	return writing{
		title: "Strike the whole setup on " + station,
		about: "It keeps its number and one line in the book, and leaves the work list and the sheet. Enter alone writes “opened by mistake”.",
		usual: []string{"opened by mistake", "wrong station", "it could not be set up there"},
		back:  onStrike,
		then:  func(reason string) []ask { return asks(strikeSetup{reason}) },
	}
}

// meansWriting leaves a reading out of the means, or takes it back; of one that was
// observed several times the whole half may go with it.
func meansWriting(s booking.Setup, r booking.Reading, text string) writing {
	k := r.Slot
	whole := wholeHalf(booking.Setup.LeaveOutHalf, k)
	w := reason(onStrike, "Leave "+text+" of "+slotWords(k)+" out of the means", "It stays on the page and is not struck. Write why: the reason is printed beside it.",
		because(onBooking, booking.Setup.LeaveOutReading, r.Seq), "it does not agree with the others", "it does not agree with its other end")
	if r.LeftOut != nil {
		whole = wholeHalf(booking.Setup.TakeBackHalf, k)
		w = reason(onStrike, "Take "+text+" of "+slotWords(k)+" back into the means", "Write why it counts again.",
			because(onBooking, booking.Setup.TakeBackReading, r.Seq), "left out by mistake", "the other one was wrong")
	}
	if !k.Quantity.OfRound() || len(s.HalfReadings(k.Round, k.Face, 1)) == 0 {
		return w
	}
	time := "observed first"
	if k.Repeat > 0 {
		time = fmt.Sprintf("observed again, %d", k.Repeat)
	}
	n := len(s.HalfReadings(k.Round, k.Face, k.Repeat))
	w.first, w.other = "This reading alone", []option{{fmt.Sprintf("All %d of %s, round %d, as %s", n, k.Face.Words(), k.Round, time), whole}}
	return w
}

// amendWriting asks why what was agreed is changed once readings are booked.
func amendWriting(x amendSetup) writing {
	return reason(onAmend, "Amend the setup", "Readings are booked: the reason is written beside the change.", func(reason string) []ask {
		x.reason = reason
		return asks(x)
	}, "misspelt", "wrong in the form", "the work was changed", "another instrument")
}

// noDistance asks for no distance to a target, now or later.
func noDistance(spec spec.Spec, target string) []ask {
	spec.NoDistance = append(slices.Clone(spec.NoDistance), target)
	return asks(amendSetup{spec: spec, reason: "no distance to " + target})
}
