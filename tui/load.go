package tui

import (
	"sync/atomic"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
)

// chunk is how many setups of the work list are read at a time.
const chunk = 200

// mostFound bounds how many setups a search reads.
const mostFound = 20_000

// a worklist is as much of the book's setups as was read, newest first.
type worklist struct {
	setups  []day.Summary
	total   int
	loading bool
	read    int // how often it was read
	err     error
}

// a textKind names a text that is worked out from the whole book.
type textKind int

const (
	figureText textKind = iota
	healthText
	foreseenText // what the plan brings
	laidText     // the network laid onto the known stations
)

type loadedText struct {
	which       textKind
	page        *page.Page
	report      *network.Report
	instruments []instrument.Instrument
	err         error
	loading     bool
}

// brought is what a command brings back: it is done as soon as it comes, where keys
// are taken.
type brought func(a *app) tea.Cmd

// brings works something out in a command, and gives it to take where keys are taken.
func brings[T any](work func() T, take func(a *app, got T) tea.Cmd) tea.Cmd {
	return func() tea.Msg {
		got := work()
		return brought(func(a *app) tea.Cmd { return take(a, got) })
	}
}

// reads reads in a command, and gives what was read to take where keys are taken.
func reads[T any](read func() (T, error), take func(a *app, got T, err error) tea.Cmd) tea.Cmd {
	return func() tea.Msg {
		got, err := read()
		return brought(func(a *app) tea.Cmd { return take(a, got, err) })
	}
}

// reportLoaded brings what the figures say before the tripod is lifted.
type reportLoaded struct {
	setup  int
	report network.Report
	state  []check.Check // how the figures stand, and what would bring more
	err    error
}

// atStart is what is read at the start.
type atStart struct {
	book   day.Book
	list   []day.Summary
	total  int
	newest booking.Setup // the newest setup
	begin  turned        // the one to begin with
}

// loadStart reads the book, the newest setups, and the setup to begin with.
func (a *app) loadStart() tea.Cmd {
	port, n := a.port, a.opts.Setup
	return reads(func() (m atStart, err error) {
		if m.book, err = port.Book(); err != nil {
			return m, err
		}
		if m.list, m.total, err = port.Summaries(0, chunk); err != nil {
			return m, err
		}
		for _, s := range m.list {
			if s.State != day.StateStruck {
				m.newest, err = port.Setup(s.Setup)
				break
			}
		}
		switch {
		case n != 0 && err == nil:
			m.begin, err = readSetup(port, n)
		case m.newest.Number != 0 && m.newest.Lift == nil && err == nil:
			m.begin = turned{setup: m.newest, known: port.Known(m.newest)}
		}
		return m, err
	}, (*app).started)
}

// started takes over what was read at the start.
func (a *app) started(m atStart, err error) tea.Cmd {
	a.v.loading = false
	if err != nil {
		a.notice = say{text: "The book cannot be read: " + sentence(err), bad: true}
	}
	a.v.book = m.book
	a.v.list = worklist{setups: m.list, total: m.total, read: 1, err: err}
	a.lastNum = m.total
	a.v.lastSpec, a.v.lastSetup = m.newest.Spec, m.newest.Number
	a.turnTo(m.begin)
	switch {
	case err == nil && m.total == 0:
		return a.show(onSetup)
	case m.begin.setup.Lift != nil:
		return a.show(onPage)
	}
	return a.show(onBooking)
}

// readSetup reads a setup and what is known of its station.
func readSetup(port Port, n int) (t turned, err error) {
	if t.setup, err = port.Setup(n); err == nil && t.setup.Number != 0 {
		t.known = port.Known(t.setup)
	}
	return t, err
}

// loadSetup makes a setup of the book the one that is seen. The open one is kept
// while another is looked back at.
func (a *app) loadSetup(n int) tea.Cmd {
	switch {
	case n == a.v.setup.Number && a.v.setup.Lift != nil:
		return a.show(onPage)
	case n == a.v.setup.Number:
		return a.show(onBooking)
	case a.home != nil && n == a.home.setup.Number:
		return a.goHome()
	case len(a.queue) > 0:
		a.notice = say{text: "Wait until everything is saved, then turn to another setup.", bad: true}
		return nil
	}
	a.v.loading = true
	port := a.port
	return reads(func() (turned, error) { return readSetup(port, n) }, (*app).setupRead)
}

func (a *app) setupRead(m turned, err error) tea.Cmd {
	a.v.loading = false
	if err != nil {
		a.notice = say{text: "The setup cannot be read: " + sentence(err), bad: true}
		return nil
	}
	if m.setup.Lift == nil {
		a.home = nil
	} else if a.v.open && a.v.setup.Lift == nil {
		a.home = &turned{a.v.setup, a.v.known, a.chosen}
	}
	a.turnTo(m)
	if a.v.readOnly {
		return a.show(onPage)
	}
	return a.show(onBooking)
}

// loadKnown reads what is known of the station of the setup at work, and takes it over
// unless another is at work by then.
func (a *app) loadKnown() tea.Cmd {
	port, s := a.port, a.v.setup
	return brings(func() check.Known { return port.Known(s) }, func(a *app, known check.Known) tea.Cmd {
		if s.Number == a.v.setup.Number {
			a.v.known = known
			a.rebuild()
		}
		return nil
	})
}

// turnTo makes a setup the one that is seen.
func (a *app) turnTo(d turned) {
	a.v.setup, a.v.known, a.chosen = d.setup, d.known, d.chosen
	a.v.readOnly = d.setup.Lift != nil
	a.v.last, a.v.lastBad = "", false
	a.rebuild()
}

// goHome returns from looking back to the open setup, at the same pointing.
func (a *app) goHome() tea.Cmd {
	d := *a.home
	a.home = nil
	a.turnTo(d)
	return a.show(onBooking)
}

// loadList reads the newest setups again.
func (a *app) loadList() tea.Cmd { return a.load(0) }

// loadMore reads the next setups of the work list.
func (a *app) loadMore() tea.Cmd {
	if len(a.v.list.setups) >= a.v.list.total {
		return nil
	}
	return a.load(len(a.v.list.setups))
}

func (a *app) load(offset int) tea.Cmd {
	if a.v.list.loading {
		return nil
	}
	a.v.list.loading = true
	port, total := a.port, 0
	return reads(func() (list []day.Summary, err error) {
		list, total, err = port.Summaries(offset, chunk)
		return list, err
	}, func(a *app, list []day.Summary, err error) tea.Cmd {
		l := &a.v.list
		l.loading, l.err = false, err
		l.read++
		if err != nil {
			return nil
		}
		if offset <= len(l.setups) {
			rest := l.setups[offset:]
			if len(rest) > len(list) && offset == 0 && total == l.total {
				list = append(list, rest[len(list):]...)
			}
			l.setups = append(l.setups[:offset:offset], list...)
		}
		l.total, a.lastNum = total, max(a.lastNum, total)
		if a.active == onWork && a.list.finding && len(l.setups) < mostFound {
			return a.loadMore()
		}
		return nil
	})
}

func (a *app) loadText(which textKind) tea.Cmd {
	a.v.text = loadedText{which: which, loading: true}
	port := a.port
	return brings(func() loadedText { return readText(port, which) }, func(a *app, t loadedText) tea.Cmd {
		if which == a.v.text.which {
			a.v.text = t
			a.v.version++
		}
		return nil
	})
}

// readText works a text out, with what its picture is made of.
func readText(port Port, which textKind) loadedText {
	t := loadedText{which: which}
	switch which {
	case figureText:
		r, err := port.FigureReport(nil)
		p := network.Page(r)
		t.page, t.report, t.err = &p, &r, err
		return t
	case foreseenText, laidText:
		var p page.Page
		p, t.err = port.FigurePage(which == foreseenText)
		t.page = &p
		return t
	}
	t.instruments, t.err = port.Instruments()
	p := instrument.Page(t.instruments)
	t.page = &p
	return t
}

// loadReport asks how the figures stand with the setup at work: once at a time. What
// is asked while they are worked ends that work, which is then out of date.
func (a *app) loadReport() tea.Cmd {
	if !a.v.open {
		return nil
	}
	if a.working {
		a.anew = true
		a.outdated.Store(true)
		return nil
	}
	a.working, a.outdated = true, new(atomic.Bool)
	n, port, stop := a.v.setup.Number, a.port, a.outdated.Load
	return func() tea.Msg {
		r, err := port.FigureReport(stop)
		if stop() {
			return reportLoaded{setup: n}
		}
		return reportLoaded{n, r, append(r.State(), r.Advised()...), err}
	}
}

// reportRead takes over what the figures say. An error is no news here: the text
// of the figure says it when it is asked for.
func (a *app) reportRead(m reportLoaded) tea.Cmd {
	anew := a.anew
	a.working, a.anew = false, false
	if anew {
		return a.loadReport()
	}
	lifted := a.v.setup.Lift != nil
	if m.err != nil || m.setup != a.v.setup.Number || !lifted && m.report.Current.Setup != m.setup {
		return nil
	}
	a.v.standing, a.v.misses = m.state, m.report.Misses()
	a.v.version++
	if last, ok := a.v.setup.Last(); ok && a.active == onBooking && isDistance(last) {
		for _, c := range m.report.Reciprocals(last.Slot.Target) {
			if !c.Met {
				a.v.last, a.v.lastBad = c.Text+" "+capital(c.Again)+".", true
			}
		}
	}
	return nil
}

// afterSaved asks for the figures anew when everything is in the file: on the
// screens that say them, behind the last reading that was called, and behind a
// distance or a target height, which may have met its other end.
func (a *app) afterSaved() tea.Cmd {
	if len(a.queue) > 0 {
		return nil
	}
	if a.workDue {
		return a.workAnew()
	}
	if a.active == onWork || a.v.setup.Lift != nil { // it may have been read before the last event was on disk
		return a.loadList()
	}
	if !a.v.open {
		return nil
	}
	last, ok := a.v.setup.Last()
	if a.active == onVerdict || ok && a.active == onBooking && (isDistance(last) || !a.v.asks) {
		return a.loadReport()
	}
	return nil
}

// isDistance tells whether a reading is one that its line may have from the
// other end.
func isDistance(r booking.Reading) bool {
	return r.Slot.Quantity == spec.Slope || r.Slot.Quantity == spec.TargetHeight
}
