package tui

import (
	"errors"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	tea "github.com/charmbracelet/bubbletea"
)

// carry does what a screen asks for, in order.
func (a *app) carry(as []ask) tea.Cmd {
	var cmds []tea.Cmd
	for _, x := range as {
		if cmd := a.carryOne(x); cmd != nil {
			cmds = append(cmds, cmd)
		}
	}
	return tea.Batch(cmds...)
}

func (a *app) carryOne(x ask) tea.Cmd {
	switch x := x.(type) {
	case goTo:
		return a.show(x.to)
	case say:
		a.notice = x
	case fillIn:
		a.slip.slip, a.slip.leaf = x.slip, leaf{}
		return a.show(onSlip)
	case write:
		a.paper.writing = x.writing
		return a.show(onWriting)
	case showSetup:
		return a.loadSetup(x.n)
	case beginPlanned:
		a.v.wanted = &x.p
		return a.show(onSetup)
	case moreSetups:
		return a.loadMore()
	case showText:
		return tea.Batch(a.show(onText), a.loadText(x.which))
	case prefer:
		return a.prefer(x.p)
	case reopen:
		return a.reopenFile()
	case leave:
		a.modal = leaveQuestion(&a.v)
	case turnColumn:
		a.v.turned = !a.v.turned
		a.v.version++
	case judgeAnew:
		if s, ok := a.screen().(*verdictScreen); ok {
			s.anew = true
		}
	case choose:
		a.chosen = x.slot
		a.rebuild()
		if x.slot == nil && a.v.setup.Lift != nil {
			return a.show(onPage)
		}
	case readAgain:
		a.again++
		a.prompt()
	default:
		return a.carryEvent(x)
	}
	return nil
}

// carryEvent does what becomes an event of the book.
func (a *app) carryEvent(x ask) tea.Cmd {
	if a.v.failure != nil {
		a.notice = say{text: "The book is read-only until it has been opened again.", bad: true}
		return nil
	}
	switch x := x.(type) {
	case bookText:
		return a.bookReading(x)
	case openSetup:
		return a.begin(x)
	case copyTo:
		a.appendBook(event.CopySet{Dir: x.dir, By: a.v.setup.Spec.Booker})
	case record:
		a.record(x)
	case bookOfDay, handOver, noteWeather, nameFile, packUp:
		return a.carryDay(x)
	case liftTripod:
		a.modal = a.liftQuestion(x.despite)
	default:
		return a.carryAmend(x)
	}
	return nil
}

// show makes a screen the one that is seen.
func (a *app) show(to screenID) tea.Cmd {
	if a.v.failure != nil {
		to = onFailed
	}
	switch {
	case to == onBooking && a.v.setup.Lift != nil && a.v.asks: // what was struck is read again
	case to == onBooking && a.home != nil:
		return a.goHome()
	case to == onBooking && (!a.v.open || a.v.setup.Lift != nil || a.v.setup.Void != nil):
		to = onWork
	}
	a.active, a.more = to, false
	a.v.today = a.opts.Now().Format(time.DateOnly)
	a.screen().enter(&a.v)
	switch to {
	case onWork:
		return a.loadList()
	case onBooking:
		if len(a.queue) == 0 && !a.v.asks {
			return a.loadReport()
		}
	case onVerdict:
		a.v.standing, a.v.misses = nil, nil
		a.v.version++
		return a.loadReport()
	}
	return nil
}

// bookReading has booking judge the entry and books what comes of it.
func (a *app) bookReading(x bookText) tea.Cmd {
	if !a.v.asks {
		return nil
	}
	slot := a.v.slot
	e, err := check.Read(a.v.setup, slot, x.text, x.confirmed, a.v.known)
	switch {
	case errors.Is(err, check.ErrMarked):
		a.desk.ask(e.Findings)
		return a.ring()
	case errors.Is(err, reduce.ErrPrecision) && slot.Quantity.Angular() && len(a.v.setup.Readings) == 0:
		a.notice = say{text: sentence(err) + " If it is another instrument, M amends the setup.", bad: true}
		return nil
	case err != nil:
		a.notice = say{text: sentence(err), bad: true}
		return nil
	}
	back := a.backTo()
	if slot.Quantity == spec.InstrumentHeight && slot.Closing {
		back = onVerdict
	}
	b := a.desk
	b.booked()
	if !a.write(e, nil, back) {
		b.entry.Set(x.text)
	} else {
		a.v.last, a.v.lastBad = saidOf(&a.v.work, e)
		a.v.lastRead = true
		a.readAloud(e)
		if !a.v.asks && !a.v.mayLift() {
			return a.ring()
		}
	}
	return nil
}

// write folds an event into the setup, queues it, and returns to a screen. A
// refusal is said and changes nothing.
func (a *app) write(e event.Event, err error, back screenID) bool {
	if err != nil {
		a.notice = say{text: sentence(err), bad: true}
		return false
	}
	if !a.appendSetup(a.v.setup, a.v.setup.Number, e) {
		return false
	}
	a.chosen = nil
	a.v.last, a.v.lastBad, a.v.lastRead = said(e, a.v.setup.Spec.Order), false, false
	a.rebuild()
	a.later = append(a.later, a.show(back))
	return true
}

// bookHeight books the instrument height that was given with the form. One that is not
// plausible is asked for again, as any reading is.
func (a *app) bookHeight(text string) {
	if text == "" {
		return
	}
	slot := spec.Slot{Quantity: spec.InstrumentHeight}
	h, err := check.Read(a.v.setup, slot, text, false, a.v.known)
	switch {
	case errors.Is(err, check.ErrMarked):
		a.chosen = &slot
		a.notice = say{text: "The instrument height was not booked. " + h.Findings[0].Text, bad: true}
	case err != nil:
		a.notice = say{text: "The instrument height was not booked: " + sentence(err), bad: true}
	default:
		a.appendSetup(a.v.setup, a.v.setup.Number, h)
	}
}

// openSetup opens a setup, and books the instrument height where it was given.
func (a *app) openSetup(x openSetup) tea.Cmd {
	e, err := booking.Open(x.spec)
	if err != nil {
		a.notice = say{text: sentence(err), bad: true}
		return nil
	}
	if !a.appendSetup(booking.Setup{}, a.lastNum+1, e) {
		return nil
	}
	a.lastNum++
	a.v.priorSpec = a.v.lastSpec
	a.v.lastSpec, a.v.lastSetup, a.v.wanted = x.spec, a.lastNum, nil
	a.chosen, a.home, a.v.readOnly = nil, nil, false
	a.v.known = check.Known{}
	a.later = append(a.later, a.loadKnown())
	a.v.standing, a.v.misses = nil, nil
	a.bookHeight(x.height)
	a.v.last, a.v.lastBad = "", false
	a.v.list.setups = append([]day.Summary{check.Summarize(a.v.setup)}, a.v.list.setups...) // the list is never a setup behind
	a.v.list.total++
	a.v.list.read++
	a.rebuild()
	return a.show(onBooking)
}
