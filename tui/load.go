package tui

import (
	"sync/atomic"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
)

// chunk is how many setups of the work list are read at a time.
const chunk = 200

// mostFound bounds how many setups a search reads.
const mostFound = 20_000

// a worklist is as much of the book's setups as was read, newest first.
type worklist struct {
	setups  []booking.Summary
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
)

type loadedText struct {
	which       textKind
	page        *page.Page
	report      *network.Report
	instruments []instrument.Instrument
	err         error
	loading     bool
}

// What the commands bring back.
type (
	startLoaded struct {
		book   booking.Book
		list   []booking.Summary
		total  int
		newest booking.Setup // the newest setup
		setup  booking.Setup // the one to begin with
		known  check.Known   // of its station
		err    error
	}
	setupLoaded struct {
		n     int
		setup booking.Setup
		known check.Known
		err   error
	}
	// knownLoaded brings what is known of the station of a setup just opened.
	knownLoaded struct {
		n     int
		known check.Known
	}
	listLoaded struct {
		offset int
		list   []booking.Summary
		total  int
		err    error
	}
	textLoaded struct{ loadedText }
	// reportLoaded brings what the figures say before the tripod is lifted.
	reportLoaded struct {
		setup  int
		report network.Report
		state  []check.Check // how the figures stand, and what would bring more
		err    error
	}
)

// loadStart reads the book, the newest setups, and the setup to begin with.
func (a *App) loadStart() tea.Cmd {
	port, n := a.port, a.opts.Setup
	return func() tea.Msg {
		var m startLoaded
		if m.book, m.err = port.Book(); m.err != nil {
			return m
		}
		if m.list, m.total, m.err = port.Summaries(0, chunk); m.err != nil {
			return m
		}
		for _, s := range m.list {
			if s.State != booking.StateStruck && m.err == nil {
				m.newest, m.err = port.Setup(s.Setup)
				break
			}
		}
		switch {
		case n != 0 && m.err == nil:
			m.setup, m.err = port.Setup(n)
		case m.newest.Lift == nil:
			m.setup = m.newest
		}
		if m.err == nil && m.setup.Number != 0 {
			m.known = port.Known(m.setup)
		}
		return m
	}
}

// started takes over what was read at the start.
func (a *App) started(m startLoaded) tea.Cmd {
	a.v.loading = false
	if m.err != nil {
		a.notice = say{text: "The book cannot be read: " + sentence(m.err), bad: true}
	}
	a.v.book = m.book
	a.v.list = worklist{setups: m.list, total: m.total, read: 1, err: m.err}
	a.lastNum = m.total
	a.v.lastSpec, a.v.lastSetup = m.newest.Spec, m.newest.Number
	a.v.setup = m.setup
	if m.setup.Number != 0 {
		a.v.known = m.known
		a.v.readOnly = m.setup.Lift != nil
	}
	a.rebuild()
	switch {
	case m.err == nil && m.total == 0:
		return a.show(onSetup)
	case m.setup.Number != 0 && m.setup.Lift != nil:
		return a.show(onPage)
	}
	return a.show(onBooking)
}

// loadSetup makes a setup of the book the one that is seen. The open one is kept
// while another is looked back at.
func (a *App) loadSetup(n int) tea.Cmd {
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
	return func() tea.Msg {
		m := setupLoaded{n: n}
		if m.setup, m.err = port.Setup(n); m.err == nil {
			m.known = port.Known(m.setup)
		}
		return m
	}
}

func (a *App) setupRead(m setupLoaded) {
	a.v.loading = false
	if m.err != nil {
		a.notice = say{text: "The setup cannot be read: " + sentence(m.err), bad: true}
		return
	}
	if m.setup.Lift == nil {
		a.home = nil
	} else if a.v.open && a.v.setup.Lift == nil {
		a.home = &turned{a.v.setup, a.v.known, a.chosen}
	}
	a.turnTo(turned{setup: m.setup, known: m.known})
	if a.v.readOnly {
		a.show(onPage)
		return
	}
	a.show(onBooking)
}

// loadKnown reads what is known of the station of the setup at work.
func (a *App) loadKnown() tea.Cmd {
	port, s := a.port, a.v.setup
	return func() tea.Msg { return knownLoaded{s.Number, port.Known(s)} }
}

// knownRead takes over what is known, unless another setup is at work.
func (a *App) knownRead(m knownLoaded) {
	if m.n == a.v.setup.Number {
		a.v.known = m.known
		a.rebuild()
	}
}

// turnTo makes a setup the one that is seen.
func (a *App) turnTo(d turned) {
	a.v.setup, a.v.known, a.chosen = d.setup, d.known, d.chosen
	a.v.readOnly = d.setup.Lift != nil
	a.v.last, a.v.lastBad = "", false
	a.rebuild()
}

// goHome returns from looking back to the open setup, at the same pointing.
func (a *App) goHome() tea.Cmd {
	d := *a.home
	a.home = nil
	a.turnTo(d)
	return a.show(onBooking)
}

// loadList reads the newest setups again.
func (a *App) loadList() tea.Cmd { return a.load(0) }

// loadMore reads the next setups of the work list.
func (a *App) loadMore() tea.Cmd {
	if len(a.v.list.setups) >= a.v.list.total {
		return nil
	}
	return a.load(len(a.v.list.setups))
}

func (a *App) load(offset int) tea.Cmd {
	if a.v.list.loading {
		return nil
	}
	a.v.list.loading = true
	port := a.port
	return func() tea.Msg {
		list, total, err := port.Summaries(offset, chunk)
		return listLoaded{offset, list, total, err}
	}
}

func (a *App) listRead(m listLoaded) {
	a.v.list.loading, a.v.list.err = false, m.err
	a.v.list.read++
	if m.err != nil {
		return
	}
	if m.offset <= len(a.v.list.setups) {
		rest := a.v.list.setups[m.offset:]
		if len(rest) > len(m.list) && m.offset == 0 && m.total == a.v.list.total {
			m.list = append(m.list, rest[len(m.list):]...)
		}
		a.v.list.setups = append(a.v.list.setups[:m.offset:m.offset], m.list...)
	}
	a.v.list.total = m.total
	a.lastNum = max(a.lastNum, m.total)
	if s := a.list; a.active == onWork && s.finding && len(a.v.list.setups) < mostFound {
		a.later = append(a.later, a.loadMore())
	}
}

func (a *App) loadText(which textKind) tea.Cmd {
	a.v.text = loadedText{which: which, loading: true}
	port := a.port
	return func() tea.Msg { return textLoaded{readText(port, which)} }
}

// readText works a text out, with what its picture is made of.
func readText(port Port, which textKind) loadedText {
	t := loadedText{which: which}
	if which == figureText {
		r, err := port.FigureReport(nil)
		p := network.Page(r)
		t.page, t.report, t.err = &p, &r, err
		return t
	}
	t.instruments, t.err = port.Instruments()
	p := instrument.Page(t.instruments)
	t.page = &p
	return t
}

// loadReport asks how the figures stand with the setup at work: once at a time. What
// is asked while they are worked ends that work, which is then out of date.
func (a *App) loadReport() tea.Cmd {
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
func (a *App) reportRead(m reportLoaded) tea.Cmd {
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
func (a *App) afterSaved() tea.Cmd {
	if len(a.queue) > 0 {
		return nil
	}
	if a.limitsSet {
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
	return r.Slot.Quantity == booking.Slope || r.Slot.Quantity == booking.TargetHeight
}

func (a *App) textRead(m textLoaded) {
	if m.which == a.v.text.which {
		a.v.text = m.loadedText
		a.v.version++
	}
}

// prefer remembers the preferences and listens to touches as they say.
func (a *App) prefer(p Preferences) tea.Cmd {
	mouse := p.Mouse != a.v.prefs.Mouse
	a.usePreferences(p)
	a.port.SetPreferences(p)
	switch {
	case mouse && p.Mouse:
		return tea.EnableMouseCellMotion
	case mouse:
		return tea.DisableMouse
	}
	return nil
}
