package tui

import (
	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// The least window that shows every screen.
const (
	leastW = 60
	leastH = 20
)

// tooSmall tells whether the window has no room for the screens.
func (a *App) tooSmall() bool { return a.w < leastW || a.h < leastH }

// smallTakes tells whether a press is taken in a window that is too small: the
// pointing and the entry are seen there, and nothing else.
func (a *App) smallTakes(p press) bool {
	if a.active != onBooking {
		return false
	}
	return p.is(keys.Enter) || p.is(keys.Back) || p.is(keys.Yes) || p.is(keys.No) || p.name == "" && isEntryChar(p.r)
}

// View draws the window: the head, the screen, what there is to say, and the bar
// of actions.
func (a *App) View() string {
	a.zones.list = a.zones.list[:0]
	if a.w <= 0 || a.h <= 0 {
		return ""
	}
	a.frame.Reset(a.v.theme, a.w, a.h)
	a.bar, a.foot = widget.Actions{}, widget.Area{}
	all := a.frame.Area()
	if a.tooSmall() {
		a.drawSmall(all)
		return a.frame.String()
	}
	head, rest := all.Top(1)
	a.drawHead(head)
	bar := a.actions()
	rest, foot := rest.Bottom(min(bar.Height(rest.W), rest.H/3))
	a.drawBar(foot, bar)
	rest, notice := rest.Bottom(a.noticeRows(rest))
	if a.v.loading && a.active != onWork {
		rest.Text(2, 2, look.Strong, "Reading the book.")
	} else {
		a.screen().draw(&a.v, rest)
	}
	a.drawNotice(notice)
	if a.modal != nil {
		a.drawModal(all)
	}
	return a.frame.String()
}

// drawHead names station and setup, where the programme stands, and whether
// everything is on disk.
func (a *App) drawHead(head widget.Area) {
	v := &a.v
	head.Fill(look.Bar, ' ')
	left := " Readback"
	if v.open {
		left = " " + v.setup.Spec.Station + ", setup " + itoa(v.setup.Number)
	}
	if v.book.Drill || v.drill {
		left += "   DRILL"
	}
	state := "all saved "
	switch {
	case v.failure != nil && !v.failure.done:
		state = "NOT SAVED "
	case len(v.saving) > 0:
		state = "saving " + itoa(len(v.saving)) + " "
	}
	if v.status.CopyNote != "" {
		state = "copy behind  " + state
	}
	if v.readOnly && (a.home != nil || a.active == onPage) {
		state = "looking back, read-only  " + state
	}
	room := head.W - widget.Width(state) - 1
	x := head.Text(0, 0, look.Bar, widget.Cut(left, room))
	if stage := v.stage(); v.open && x+3 < room {
		head.Text(x+3, 0, look.Bar, widget.Cut(v.theme.Rewrite(stage), room-x-3))
	}
	head.Text(head.W-widget.Width(state), 0, look.Bar, state)
}

// actions is the bar of the screen: tall cells where touches are wanted and
// there is room for them.
func (a *App) actions() widget.Actions {
	b := widget.Actions{Bindings: a.screen().keys(&a.v), Rows: 2}
	if a.active != onBooking {
		b.Rows = 3
	}
	if a.modal != nil {
		b.Bindings = []key.Binding{withHelp(keys.Yes, a.modal.yes), withHelp(keys.No, a.modal.no)}
	}
	if a.v.prefs.Keypad {
		b.CellH = 3
		if a.h < 30 {
			b.Rows = 2
			if a.active == onBooking {
				b.Rows = 1
			}
		}
	}
	return b
}

func (a *App) drawBar(foot widget.Area, bar widget.Actions) {
	a.bar, a.foot = bar, foot
	bar.Draw(foot)
}

// touched returns the press of a cell of the present view.
func (a *App) touched(x, y int) (press, bool) {
	if p, ok := a.zones.at(x, y); ok {
		return p, true
	}
	if fx, fy, in := a.foot.Has(x, y); in {
		if b, ok := a.bar.At(a.foot.W, fx, fy); ok {
			return pressOf(b), true
		}
	}
	return press{}, false
}

// noticeRows is how many rows the sentence under the screen takes.
func (a *App) noticeRows(rest widget.Area) int {
	text, _ := a.noticeText()
	if text == "" {
		return 1
	}
	return min(len(widget.Wrap(a.v.theme.Rewrite(text), rest.W-3)), 2)
}

// noticeText is what there is to say: a refusal before anything else, then what
// is wrong with the copy, then what was booked last.
func (a *App) noticeText() (string, look.Role) {
	v := &a.v
	switch {
	case a.notice.text != "" && a.notice.bad:
		return "! " + a.notice.text, look.Stop
	case a.notice.text != "":
		return a.notice.text, look.Strong
	case a.active == onBooking && v.last != "" && v.lastBad:
		return "! " + v.last, look.Warn
	case v.status.CopyNote != "":
		return "! " + v.status.CopyNote, look.Warn
	case (a.active == onBooking || a.active == onVerdict || a.active == onCompare || a.active == onOptions) && v.last != "":
		return v.last, look.Base
	case v.status.Note != "":
		return v.status.Note, look.Base
	}
	return "", look.Base
}

func (a *App) drawNotice(n widget.Area) {
	text, role := a.noticeText()
	if text == "" {
		return
	}
	if role != look.Base && role != look.Strong {
		n.Fill(role, ' ')
	}
	n.Sub(1, 0, n.W-2, n.H).Paragraph(role, text)
}

// drawModal draws the open question over the screen.
func (a *App) drawModal(all widget.Area) {
	w := min(all.W-4, 64)
	lines := widget.Wrap(a.v.theme.Rewrite(a.modal.text), w-4)
	box := all.Sub((all.W-w)/2, max((all.H-len(lines)-4)/2, 1), w, len(lines)+4)
	box.Fill(look.Strong, ' ')
	in := box.Box(look.Rule, "Question")
	in.Sub(1, 0, in.W-2, len(lines)).Paragraph(look.Strong, a.modal.text)
	foot := in.Sub(1, len(lines)+1, in.W-2, 1)
	x := drawKey(foot, 0, 0, "Y")
	x = foot.Text(x+1, 0, look.Base, a.modal.yes)
	a.zones.add(foot.Sub(0, 0, x+1, 1), char('y'))
	n := foot.Sub(x+3, 0, foot.W-x-3, 1)
	x = drawKey(n, 0, 0, "N")
	n.Text(x+1, 0, look.Base, a.modal.no)
	a.zones.add(n, char('n'))
}

// drawSmall is the page for a window that is too small: pointing and entry stay
// seen and take readings, everything else waits.
func (a *App) drawSmall(all widget.Area) {
	v := &a.v
	b := a.desk
	size := itoa(a.w) + " × " + itoa(a.h) + " is too small; " + itoa(leastW) + " × " + itoa(leastH) + " is needed."
	if a.modal != nil {
		all.Paragraph(look.Strong, a.modal.text+" Y: "+a.modal.yes+". N: "+a.modal.no+".")
		return
	}
	if v.failure != nil {
		all.Paragraph(look.Stop, "NOT SAVED. Make the window larger: "+size)
		return
	}
	if a.active != onBooking || !v.asks {
		y := all.Paragraph(look.Strong, "Make the window larger: "+size)
		if v.asks && !b.entry.Empty() {
			all.Sub(0, y, all.W, all.H-y).Paragraph(look.Base, "The entry is kept: "+b.entry.Formatted())
		}
		return
	}
	lines := []struct {
		role look.Role
		text string
	}{
		{look.Current, v.slot.Face.String() + " " + v.slot.Target},
		{look.Entry, b.entry.Formatted()},
	}
	for y, l := range lines {
		all.Text(0, y, l.role, widget.Cut(v.theme.Rewrite(l.text), all.W))
	}
	text, role := b.judged.text, look.Base
	if b.asking != nil {
		text, role = "Has the observer read it again? Y or N. "+b.asking[0].Text, look.Stop
	}
	if n, _ := a.noticeText(); a.notice.bad {
		text, role = n, look.Stop
	}
	rest := all.Sub(0, 2, all.W, all.H-2)
	y := rest.Paragraph(role, text)
	rest.Sub(0, y, rest.W, rest.H-y).Paragraph(look.Aside, size)
}
