package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/booking"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// the workScreen lists the setups of the book with their state, newest first.
type workScreen struct {
	list    widget.List
	shown   []booking.Summary
	finding bool
	find    widget.Field
	narrow  bool // no room for the time of day
	stamp   int  // which reading of the list is shown
}

func (s *workScreen) enter(*view) { s.finding, s.stamp = false, -1 }

func (s *workScreen) field(*view) input.Field {
	if s.finding {
		return input.Text
	}
	return input.Command
}

func (s *workScreen) press(v *view, p press) []ask {
	s.fill(v)
	if s.finding && s.pressFind(p) {
		return moreIf(v, s.find.Text() != "")
	}
	if by, ok := p.rows(listPage); ok {
		s.list.Move(by)
		return moreIf(v, by > 0 && s.list.Chosen >= len(s.list.Rows)-1)
	}
	switch {
	case p.name == "row" && p.row < len(s.shown):
		s.list.Chosen = p.row
		return asks(showSetup{s.shown[p.row].Setup})
	case p.is(keys.Enter):
		if s.list.Chosen < len(s.shown) {
			return asks(showSetup{s.shown[s.list.Chosen].Setup})
		}
		return newIf(v)
	case p.is(keys.New):
		return newIf(v)
	case p.is(keys.Find):
		s.finding = true
		s.find.Clear()
		s.stamp = -1
	case p.is(keys.Figure):
		return asks(showText{figureText})
	case p.is(keys.Health):
		return asks(showText{healthText})
	case p.is(keys.Options):
		return asks(goTo{onOptions})
	case p.is(keys.Home) && v.open, p.is(keys.Work) && v.open:
		return asks(goTo{onBooking})
	case p.is(keys.Quit):
		return asks(leave{})
	}
	return nil
}

// pressFind takes a press while a word is being looked for; it tells whether it
// was one for the word.
func (s *workScreen) pressFind(p press) bool {
	switch {
	case p.name == "esc", p.is(keys.Back) && s.find.Text() == "":
		s.finding = false
	case p.is(keys.Back):
		s.find.Backspace()
	case p.name == "":
		s.find.Insert(p.r)
	default:
		return false
	}
	s.stamp, s.list.Chosen = -1, 0
	return true
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

func (s *workScreen) keys(v *view) []key.Binding {
	if s.finding {
		return []key.Binding{keys.Continue, keys.Up, keys.Down, withHelp(bind("", "esc"), "every setup")}
	}
	ks := []key.Binding{keys.Continue, keys.New}
	if v.list.err != nil {
		ks = nil
	}
	if v.open {
		ks = append(ks, keys.Home)
	}
	return append(ks, keys.Find, keys.Figure, keys.Health, keys.Options, keys.Up, keys.Down, keys.Quit)
}

// stateWords names the state of a setup with a mark.
func stateWords(state string) (mark, words string, role look.Role) {
	switch state {
	case "open":
		return "▸", "open", look.Strong
	case "hold":
		return "✗", "Hold", look.Stop
	case "lift":
		return "✓", "Lift", look.Good
	case "lifted":
		return "✓", "lifted", look.Base
	case "lifted on hold":
		return "!", "lifted on Hold", look.Warn
	}
	return "", state, look.Base
}

func (s *workScreen) fill(v *view) {
	if s.stamp == v.list.read {
		return
	}
	s.stamp = v.list.read
	s.shown, s.list.Rows = s.shown[:0], s.list.Rows[:0]
	when := "2 Jan 15:04"
	if s.narrow {
		when = "2 Jan"
	}
	for _, m := range v.list.setups {
		if s.finding && !matches(m, s.find.Text()) {
			continue
		}
		s.shown = append(s.shown, m)
		mark, words, role := stateWords(m.State)
		s.list.Rows = append(s.list.Rows, widget.Row{
			Cells: []string{mark, itoa(m.Setup), m.Station, words, itoa(m.Readings), m.Opened.Format(when), m.RO, m.Observer},
			Roles: []look.Role{role, look.Base, look.Strong, role}})
	}
	s.list.Move(0)
}

// matches tells whether every word looked for is found in the setup.
func matches(m booking.Summary, text string) bool {
	all := strings.ToLower(strings.Join(append([]string{m.Station, m.RO, m.Observer, m.Booker, m.State, m.Instrument.Name, m.Opened.Format("2 January 2006")}, m.Targets...), " "))
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if !strings.Contains(all, w) {
			return false
		}
	}
	return true
}

func (s *workScreen) draw(v *view, a widget.Area) {
	a = a.Inset(1, 0)
	s.list.Head = true
	s.list.Columns = []widget.Column{{Width: 1}, {Title: "no.", Width: 3, Align: widget.Right}, {Title: "station", Width: 12}, {Title: "state", Width: 14}, {Title: "readings", Width: 8, Align: widget.Right}, {Title: "opened", Width: 13}, {Title: "RO"}}
	if a.W >= 90 {
		s.list.Columns = append(s.list.Columns, widget.Column{Title: "observer", Width: 16})
	}
	if a.W < 70 {
		s.list.Columns[4].Width, s.list.Columns[4].Title = 4, "rds"
		s.list.Columns[5].Width = 6
	}
	title := "Work list"
	if v.book.Title != "" {
		title += ": " + v.book.Title
	}
	a.Text(0, 0, look.Title, widget.Cut(title, a.W))
	x := a.Text(0, 1, look.Base, count(v.list.total, "setup", "setups")+" in ")
	a.Text(x, 1, look.Base, widget.Cut(widget.Clean(v.status.Path), a.W-x))
	body := a.Sub(0, 3, a.W, a.H-3)
	if s.finding {
		a.Text(0, 2, look.Strong, "Find:")
		s.find.Draw(a.Sub(6, 2, a.W-6, 1), look.Entry, true)
	}
	if narrow := a.W < 70; narrow != s.narrow {
		s.narrow, s.stamp = narrow, -1
	}
	s.fill(v)
	switch {
	case v.list.err != nil:
		body.Paragraph(look.Stop, "The work list cannot be read: "+sentence(v.list.err))
	case len(s.list.Rows) == 0 && v.list.loading:
		body.Text(0, 0, look.Base, "Reading the setups.")
	case len(s.list.Rows) == 0 && s.finding:
		body.Text(0, 0, look.Base, "No setup has these words.")
	case len(s.list.Rows) == 0:
		body.Text(0, 0, look.Base, "No setup yet. Press N to open the first station.")
	case v.prefs.Keypad:
		touchGrid(v, body, len(s.shown), s.list.Chosen, func(i int) touchCell {
			c := s.list.Rows[i].Cells
			_, _, role := stateWords(s.shown[i].State)
			return touchCell{mark: c[0], role: role, upper: c[1] + " " + c[2] + ", " + c[3], lower: "RO " + s.shown[i].RO + ", " + c[5] + ", " + count(s.shown[i].Readings, "reading", "readings")}
		})
	default:
		s.list.Draw(body)
		touchRows(v.zones, body, &s.list)
	}
}
