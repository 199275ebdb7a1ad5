package tui

import (
	"slices"
	"sync/atomic"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/spec"
	"example.org/readback/tui/input"
	tea "github.com/charmbracelet/bubbletea"
)

// An app is the root model: the only one that knows the Port, changes the setup
// and carries out what screens ask.
type app struct {
	port    Port
	opts    Options
	guard   *input.Guard
	seen    block // the view with its places to touch
	drawn   drawing
	more    bool // every key of the screen is shown
	moreTop int  // from this line on
	w, h    int
	screens [numScreens]screen
	desk    *bookingScreen // these four are told more than a screen is
	paper   *writingScreen
	slip    *slipScreen
	list    *workScreen
	active  screenID
	v       view

	chosen   *spec.Slot
	prompted prompted
	again    int // how often the observer was asked to read the pointing again
	queue    []queued
	notice   say
	modal    *question
	home     *turned   // the open setup, while another is looked back at
	opening  *opening  // a setup that is about to be opened
	later    []tea.Cmd // what is to be read after the message at hand
	padOf    padState  // what the keypad drawn last follows from
	padLines []string
	lastNum  int          // number of the newest setup of the book
	working  bool         // the figures are being worked
	anew     bool         // and are to be worked once more, for what was booked meanwhile
	workDue  bool         // an event that figures are worked with is on its way to the file: what follows from it is read behind it
	outdated *atomic.Bool // set to end the work, which is out of date
}

// turned is a setup at work with the pointing the booker turned to.
type turned struct {
	setup  booking.Setup
	known  check.Known
	chosen *spec.Slot
}

// New returns the screens on a port. The program runs them with tea.NewProgram and
// passes Written on to it; an error that it passes on is said to the booker.
func New(port Port, opts Options) tea.Model {
	a := &app{port: port, opts: opts, screens: newScreens()}
	a.desk, a.paper, a.slip, a.list = &bookingScreen{}, &writingScreen{}, &slipScreen{}, &workScreen{}
	if a.v.first = spec.FirstSpec(); opts.First != nil {
		a.v.first = *opts.First
	}
	a.screens[onBooking], a.screens[onWriting], a.screens[onSlip], a.screens[onWork] = a.desk, a.paper, a.slip, a.list
	a.guard = input.New(opts.Now, nil)
	a.v.drill, a.v.speaks = opts.Drill != nil, opts.Say != nil
	a.v.loading = true
	a.usePreferences(opts.remembered())
	a.v.status = port.Status()
	return a
}

// Init reads the work list and the setup to begin with, and listens to touches.
func (a *app) Init() tea.Cmd {
	if a.v.prefs.Mouse {
		return tea.Batch(tea.EnableMouseCellMotion, a.loadStart())
	}
	return a.loadStart()
}

// Update takes one message: size first, then facts whatever is seen, then keys
// and touches.
func (a *app) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	cmd := a.take(msg)
	later := append(a.later, a.seek())
	a.later = nil
	return a, tea.Batch(append(later, cmd)...)
}

func (a *app) take(msg tea.Msg) tea.Cmd {
	if a.holds(msg) {
		return nil
	}
	switch m := msg.(type) {
	case tea.WindowSizeMsg:
		a.w, a.h = m.Width, m.Height
		a.v.w, a.v.h = m.Width, m.Height
		a.v.version++
	case Written:
		if m.Err != nil {
			a.saveFailed(m)
			return nil
		}
		a.saved(m.Seq)
		return a.afterSaved()
	case error:
		a.notice = say{text: sentence(m)}
	case brought:
		return m(a)
	case reportLoaded:
		return a.reportRead(m)
	case fileRead:
		a.fileNamed(m)
	case escDue:
		return a.result(a.guard.Due())
	case tea.KeyMsg:
		switch m.Type {
		case tea.KeyCtrlC:
			return tea.Quit
		case tea.KeyCtrlZ:
			return tea.Suspend
		}
		return a.result(a.guard.Key(m, a.field()))
	case tea.MouseMsg:
		return a.touch(m)
	case tea.ResumeMsg:
		if a.v.prefs.Mouse {
			return tea.EnableMouseCellMotion
		}
	}
	return nil
}

// escDue comes when an Esc has stood alone long enough to be one.
type escDue struct{}

// field says what characters are meant for at the moment.
func (a *app) field() input.Field {
	if a.modal != nil || a.tooSmall() && a.active != onBooking {
		return input.Command
	}
	return a.screen().field(&a.v)
}

func (a *app) screen() screen { return a.screens[a.active] }

// result turns what the guard found into presses.
func (a *app) result(r input.Result) tea.Cmd {
	switch r.Kind {
	case input.Chars, input.Letter:
		var cmds []tea.Cmd
		for _, c := range r.Runes {
			cmds = append(cmds, a.press(char(c)))
		}
		return tea.Batch(cmds...)
	case input.Enter:
		return a.press(named("enter"))
	case input.Back:
		return a.press(named("backspace"))
	case input.Esc:
		return a.press(named("esc"))
	case input.Key:
		return a.press(named(r.Msg.String()))
	case input.Wait:
		return tea.Tick(input.Quiet+5*time.Millisecond, func(time.Time) tea.Msg { return escDue{} })
	case input.Refused:
		a.notice = say{text: "Not taken: " + quote(r.Text) + " cannot stand here. Key it again.", bad: true}
	case input.Lost:
		a.notice = say{text: "Enter right after Esc or a broken touch was not taken: look at the entry.", bad: true}
	case input.Offer:
		a.offer(r.Text)
	case input.PasteRefused:
		a.notice = say{text: "The paste was not taken. Only a single line that fits here is taken.", bad: true}
	}
	return nil
}

// touch acts on a press of the first button and on nothing else: a tap is a
// press and a release, a drag is many motions.
func (a *app) touch(m tea.MouseMsg) tea.Cmd {
	switch {
	case a.guard.Quiet() || m.Action != tea.MouseActionPress:
		return nil
	case m.Button == tea.MouseButtonWheelUp:
		return a.press(named("up"))
	case m.Button == tea.MouseButtonWheelDown:
		return a.press(named("down"))
	case m.Button != tea.MouseButtonLeft:
		return nil
	}
	if p, ok := a.seen.at(m.X, m.Y); ok {
		return a.press(p)
	}
	return nil
}

// press gives one press to whoever is asked: the open question, else the screen.
func (a *app) press(p press) tea.Cmd {
	if a.modal != nil {
		return a.answer(p)
	}
	if a.tooSmall() && !a.smallTakes(p) {
		return nil
	}
	if take := a.pressMore(p); !take {
		return nil
	}
	old, before, typed := a.notice, a.drawn, a.typed(p)
	as := pressed(a.screen(), &a.v, p)
	if len(as) == 0 && p.on == nil && !typed && a.idle(before) {
		as = asks(say{text: a.whyIdle(p)})
	}
	cmd := a.carry(as)
	if a.notice == old {
		a.notice = say{}
	}
	return cmd
}

// pressMore opens and closes the page of keys; it tells whether the screen gets
// the press.
func (a *app) pressMore(p press) bool {
	switch {
	case !a.more && p.is(keys.Keys) && a.moreKeys():
		a.more, a.moreTop = true, 0
		return false
	case !a.more:
		return true
	}
	if by, ok := p.rows(a.h / 2); ok && !a.keyCells() {
		before := a.allKeys(a.w, a.h).lines
		if a.moreTop += by; slices.Equal(before, a.allKeys(a.w, a.h).lines) {
			a.notice = say{text: "There is nothing more that way."}
		}
		return false
	}
	a.more = false
	if a.active == onBooking {
		a.desk.enter(&a.v)
	}
	for _, k := range listed(a.screen().actions(&a.v)) {
		if p.is(k) && !p.is(keys.Close) {
			return true
		}
	}
	return false
}

// isEntryChar tells whether a character belongs to a reading.
func isEntryChar(r rune) bool { return r >= '0' && r <= '9' || r == '.' || r == ',' || r == ' ' }
