package tui

import (
	"path/filepath"
	"strings"
	"time"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
)

// the workScreen lists the setups of the book with their state, newest first.
type workScreen struct {
	list
	shown   []day.Summary
	planned []event.PlannedStation // stand above them: not begun yet
	finding bool
	find    textLine
	stamp   int // which reading of the list is shown
	at      int // the setup chosen, 0: none; it stays chosen when the list is read anew
}

// enter chooses the setup that is seen, or what comes first behind a lifted tripod.
func (s *workScreen) enter(v *view) {
	s.finding, s.stamp, s.at = false, -1, v.setup.Number
	if v.setup.Lift != nil && !v.readOnly {
		s.at, s.list.chosen = 0, 0
	}
}

func (s *workScreen) field(*view) input.Field {
	if s.finding {
		return input.Text
	}
	return input.Command
}

// take looks for a word, moves the choice, reading more setups at its end, and picks a
// row that is touched.
func (s *workScreen) take(v *view, p press) ([]ask, bool) {
	s.fill(v)
	if s.finding && s.pressFind(p) {
		return moreIf(v, s.find.Text() != ""), true
	}
	if by, ok := p.rows(listPage); ok {
		s.list.move(by)
		s.at = s.number()
		return moreIf(v, by > 0 && s.list.chosen >= len(s.list.rows)-1), true
	}
	i, ok := p.row()
	if ok = ok && i < len(s.list.rows); !ok {
		return nil, false
	}
	s.list.chosen = i
	return s.chose(v), true
}

// chose turns to the setup of the chosen row, or begins the planned one.
func (s *workScreen) chose(v *view) []ask {
	i := s.list.chosen
	switch {
	case i < len(s.planned):
		return asks(beginPlanned{s.planned[i]})
	case i-len(s.planned) < len(s.shown):
		return asks(showSetup{s.shown[i-len(s.planned)].Setup})
	}
	return newIf(v)
}

// fillPlan sets the planned stations that are not begun above the setups.
func (s *workScreen) fillPlan(v *view) {
	s.planned = s.planned[:0]
	for _, l := range day.Follow(v.book.Plan, v.inOrder()) {
		if l.Setup > 0 || s.finding {
			continue
		}
		words, mark := "planned", ""
		if len(s.planned) == 0 {
			words, mark = "planned next", "▹"
		}
		s.planned = append(s.planned, l.PlannedStation)
		s.list.rows = append(s.list.rows, row{mark, []string{"", l.Station, words, "", plannedDay(l.Day), l.RO, ""}, plannedDay(l.Day)})
	}
}

// plannedDay is the day of a planned station as the days of the setups beside it are
// written; one that is no date stands as it was given.
func plannedDay(day string) string {
	at, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return day
	}
	return at.Format("2 Jan")
}

// planNote says what is done of the plan.
func (v *view) planNote() string {
	lines, done := day.Follow(v.book.Plan, v.inOrder()), 0
	for _, l := range lines {
		if l.Done() {
			done++
		}
	}
	if len(lines) == 0 {
		return count(v.list.total, "setup", "setups")
	}
	return count(v.list.total, "setup", "setups") + ", " + itoa(done) + " of " + itoa(len(lines)) + " planned done"
}

// pressFind takes a press while a word is being looked for; it tells whether it
// was one for the word.
func (s *workScreen) pressFind(p press) bool {
	switch {
	case p.name == "esc", p.is(keys.Back) && s.find.Text() == "":
		s.finding = false
	case s.find.press(p):
	default:
		return false
	}
	s.stamp, s.list.chosen, s.at = -1, 0, 0
	return true
}

// number is the setup of the chosen row, 0 for a planned one.
func (s *workScreen) number() int {
	if i := s.list.chosen - len(s.planned); i >= 0 && i < len(s.shown) {
		return s.shown[i].Setup
	}
	return 0
}

// newIf goes to a new setup, unless the book cannot be read.
func newIf(v *view) []ask {
	if v.list.err != nil {
		return nil
	}
	return asks(goTo{onSetup})
}

func moreIf(v *view, want bool) []ask {
	if want && len(v.list.setups) < v.list.total {
		return asks(moreSetups{})
	}
	return nil
}

func (s *workScreen) actions(v *view) []action {
	read, none := v.list.err == nil, "No setup is open to go back to: N begins one."
	unread := "The work list cannot be read: no setup can be begun until it is."
	take := does(keys.Continue, func() []ask { return s.chose(v) }).when(read, unread)
	if s.finding {
		return []action{take, {key: keys.Up}, {key: keys.Down}, does(keys.Leave, nil).named("every setup")}
	}
	home := gives(keys.Home, goTo{onBooking}).when(v.open, none)
	return []action{
		take,
		gives(keys.New, goTo{onSetup}).when(read, unread),
		home,
		gives(keys.Figure, showText{figureText}),
		does(keys.Find, func() []ask {
			s.finding, s.find, s.stamp = true, newTextLine(), -1
			return nil
		}),
		gives(keys.Health, showText{healthText}),
		gives(keys.Options, goTo{onOptions}),
		gives(keys.Day, goTo{onDay}),
		{key: keys.Up}, {key: keys.Down},
		gives(keys.Quit, leave{}),
		{key: keys.Work, do: home.do, off: home.off, why: none, unlisted: true},
	}
}

// stateWords names the state of a setup with a mark.
func stateWords(state string) (mark, words string) {
	switch state {
	case day.StateOpen:
		return "▸", "open"
	case day.StateHold:
		return "✗", "Hold"
	case day.StateLift:
		return "✓", "Lift"
	case day.StateLifted:
		return "✓", "lifted"
	case day.StateLiftedOnHold:
		return "!", "lifted on Hold"
	}
	return "", state
}

func (s *workScreen) fill(v *view) {
	if s.stamp == v.list.read {
		return
	}
	s.stamp = v.list.read
	s.shown, s.list.rows, s.list.widest = s.shown[:0], s.list.rows[:0], nil
	s.list.columns, s.list.brief, s.list.cell = workColumns, 4, s.cell
	s.fillPlan(v)
	for _, m := range v.list.setups {
		if m.State == day.StateStruck && !s.finding {
			continue // it keeps its number and is found by the word struck
		}
		if s.finding && !matches(m, s.find.Text()) {
			continue
		}
		s.shown = append(s.shown, m)
		mark, words := stateWords(m.State)
		s.list.rows = append(s.list.rows, row{mark, []string{itoa(m.Setup), m.Station, words, itoa(m.Readings), m.Opened.Format("2 Jan 15:04"), m.RO, m.Observer}, m.Opened.Format("2 Jan")})
	}
	for i, m := range s.shown {
		if m.Setup == s.at {
			s.list.chosen = len(s.planned) + i
		}
	}
	s.list.move(0)
}

// cell is what stands on an entry that is touched.
func (s *workScreen) cell(i int) (upper, lower string) {
	c := s.list.rows[i].cells
	if i < len(s.planned) {
		return c[1] + ", " + c[2], "RO " + c[5] + " " + c[4]
	}
	m := s.shown[i-len(s.planned)]
	return c[0] + " " + c[1] + ", " + c[2], "RO " + m.RO + ", " + c[4] + ", " + count(m.Readings, "reading", "readings")
}

// matches tells whether every word looked for is found in the setup.
func matches(m day.Summary, text string) bool {
	all := strings.ToLower(strings.Join(append([]string{m.Station, m.RO, m.Observer, m.Booker, m.State, m.Instrument.Name, m.Opened.Format("2 January 2006")}, m.Targets...), " "))
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if !strings.Contains(all, w) {
			return false
		}
	}
	return true
}

// workColumns are what the list says of a setup.
var workColumns = []column{{title: "no.", right: true}, {title: "station", most: 24}, {title: "state"}, {title: "readings", right: true, drop: 2}, {title: "opened", drop: 1},
	{title: "RO", most: 24, drop: 3}, {title: "observer", most: 20, drop: 4}}

func (s *workScreen) draw(v *view, w, h int) block {
	s.fill(v)
	title := "Work list"
	if v.book.Job != "" {
		title += ": " + v.book.Job
	}
	b := titled(v, title, v.planNote(), w)
	room := w - v.edge() - v.margin()
	if !s.finding {
		path := v.status.Path
		if look.Width(path) > room { // the folder is said on the page of options
			path = filepath.Base(path)
		}
		b.words(&v.frame, look.Quiet, path, w)
	} else {
		b.add(v.theme.Row().To(v.gutter()).Put(look.Accent, "▸").To(v.edge()).Put(look.Quiet, "Find ").Put(look.Accent, "▌").Add(s.find.view(v.theme, room-6), room-6).String())
	}
	if note := v.noteWords(); note != "" && !s.finding {
		b.words(&v.frame, look.Strong, note, w)
	}
	b.add("")
	h -= len(b.lines)
	say := ""
	switch {
	case v.list.err != nil:
		b.add(v.flag(look.Stop, "✗", "unread", bookingWords, look.Ink, "The work list cannot be read: "+sentence(v.list.err), w)...)
		return b
	case len(s.list.rows) == 0 && v.list.loading:
		say = "Reading the setups."
	case len(s.list.rows) == 0 && s.finding:
		say = "No setup has these words."
	case len(s.list.rows) == 0:
		say = "No setup yet. Press N to open the first station."
	default:
		b.put(s.list.draw(&v.frame, w, h))
		return b
	}
	b.add(v.theme.Line(v.edge(), look.Ink, say))
	return b
}
