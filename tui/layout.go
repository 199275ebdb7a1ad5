package tui

import (
	"slices"
	"strings"

	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// The least window that shows every screen; the booking screen takes readings in
// any.
const (
	leastW = 40
	leastH = 12
)

// tooSmall tells whether the window has no room for the screens.
func (a *app) tooSmall() bool { return a.w < leastW || a.h < leastH }

// smallTakes tells whether a press is taken in a window that is too small: the
// pointing and the entry are seen there, and nothing else.
func (a *app) smallTakes(p press) bool {
	if a.active != onBooking {
		return false
	}
	return p.is(keys.Enter) || p.is(keys.Back) || p.is(keys.Yes) || p.is(keys.No) || p.isChar() && isEntryChar(p.r)
}

// View draws the window: the bar, the screen, what there is to say, the keys that
// fit the moment. The last step fits it to the window.
func (a *app) View() string {
	if a.w <= 0 || a.h <= 0 {
		return ""
	}
	a.seen = a.compose()
	return a.v.theme.Fit(a.seen.lines, a.w, a.h)
}

func (a *app) compose() block {
	v := &a.v
	b := block{lines: []string{a.bar()}}
	if v.open && a.field() != input.Text {
		b.touch(0, 0, a.w, 1, pressOf(keys.Work))
	}
	if a.tooSmall() && (a.active != onBooking || a.modal != nil || !v.asks) {
		b.add(a.small()...)
		return b
	}
	foot := a.foot()
	h := a.h - 1 - len(foot.lines)
	pad, padded := a.keypad()
	w := a.w
	if padded {
		w -= pad.W
	}
	body := a.body(w, h)
	if a.readsBack() { // whether there is more of it shows once it is set
		if late := a.foot(); len(late.lines) == len(foot.lines) {
			foot = late
		}
	}
	if padded {
		body.beside(w, a.padBlock(pad, h))
	}
	b.put(body)
	b.put(foot)
	return b
}

// readsBack tells whether a form stands on its last line.
func (a *app) readsBack() bool {
	switch s := a.screen().(type) {
	case *slipScreen:
		return s.form.atEnd()
	case *setupScreen:
		return s.form.atEnd()
	}
	return false
}

// body is the screen with what there is to say under it.
func (a *app) body(w, h int) block {
	notes := a.notes(w)
	if len(notes) > h/2 {
		notes = notes[:h/2]
	}
	var b block
	switch {
	case a.more:
		b = a.allKeys(w, h-len(notes))
	case a.v.loading && a.active != onWork:
		b.add("", a.v.theme.Line(a.v.edge(), look.Strong, "Reading the book."))
	default:
		b = a.screen().draw(&a.v, w, h-len(notes))
		a.drawn = drawing{a.active, w, h - len(notes), slices.Clone(b.lines)}
	}
	b.level(h - len(notes))
	b.add(notes...)
	return b
}

// bar names station and setup, where the programme stands, and whether
// everything is on disk.
func (a *app) bar() string {
	v, t := &a.v, a.v.theme
	state, role := "✓ saved", look.BarQuiet
	switch {
	case v.failure != nil && !v.failure.done:
		state, role = "✗ NOT SAVED", look.StopWide
	case len(v.saving) > 0:
		state = "· saving " + itoa(len(v.saving))
	}
	if v.status.CopyNote != "" {
		behind := "second journal"
		if a.w < compW {
			behind = "journal"
		}
		state = "! " + behind + " behind   " + state
	}
	if v.status.Clock != "" {
		state = "! clock   " + state
	}
	end := a.w - v.margin() - look.Width(state)
	row := t.Row().To(v.edge())
	parts := v.barParts(a.w)
	if a.v.readOnly && (a.home != nil || a.active == onPage) {
		parts = append(parts[:min(2, len(parts))], "looking back, read-only")
	}
	for i, s := range parts {
		r := look.Bar
		switch {
		case role == look.StopWide:
			r = role
		case i == 0:
			r = look.BarStrong
		}
		if i > 0 {
			row.To(row.Width() + 3)
		}
		if i == 0 {
			s = look.Brief(s, end-row.Width()-1)
		}
		if row.Width()+look.Width(s) >= end {
			break
		}
		row.Put(r, s)
	}
	row.To(end).Put(role, state)
	ground := look.Bar
	if role == look.StopWide {
		ground = role
	}
	return row.Ground(ground, a.w)
}

// barParts are the words of the bar in the order of their weight.
func (v *view) barParts(w int) []string {
	if !v.open {
		return []string{"Readback"}
	}
	parts := []string{v.setup.Spec.Station}
	if v.drill || v.book.Drill {
		parts = append(parts, "DRILL")
	}
	if w >= 80 {
		parts = append(parts, "setup "+itoa(v.setup.Number))
	}
	return append(parts, v.stage(w)...)
}

// small is what a window says that is too small for the screen.
func (a *app) small() []string {
	v := &a.v
	put := func(role look.Role, s string) []string { return v.inLines(role, s, a.w) }
	size := itoa(a.w) + " × " + itoa(a.h) + " is too small; " + itoa(leastW) + " × " + itoa(leastH) + " is needed."
	switch {
	case a.modal != nil:
		return put(look.Strong, a.modal.words()+" Y: "+a.modal.yes+". N: "+a.modal.no+".")
	case v.failure != nil:
		return put(look.Stop, "NOT SAVED. Make the window larger: "+size)
	case v.asks && !a.desk.entry.Empty():
		return append(put(look.Strong, "Make the window larger: "+size), put(look.Ink, "The entry is kept: "+a.desk.entry.Formatted())...)
	}
	return put(look.Strong, "Make the window larger: "+size)
}

// notes is what there is to say under the screen: a question, a refusal, what is
// wrong with the copy, what was booked last.
func (a *app) notes(w int) []string {
	v := &a.v
	mark, role, text := "", look.Ink, ""
	switch {
	case a.modal != nil:
		return append([]string{""}, v.band(look.StopWide, "?", a.modal.words(), w)...)
	case a.notice.text != "" && a.notice.bad:
		mark, role, text = "!", look.Strong, a.notice.text
	case a.notice.text != "":
		role, text = look.Strong, a.notice.text
	case a.active == onBooking && v.last != "" && v.lastBad:
		mark, role, text = "!", look.Strong, v.last
	case v.status.CopyNote != "" || v.status.Clock != "":
		mark, text = "!", strings.TrimSpace(v.status.Clock+" "+v.status.CopyNote)
	case a.more:
		return nil
	case (a.active == onBooking || !v.lastRead && (a.active == onCompare || a.active == onOptions)) && v.last != "":
		mark, role, text = "✓", look.Quiet, v.last
	case v.status.Note != "":
		role, text = look.Quiet, v.status.Note
	default:
		if a.active == onBooking {
			return []string{""}
		}
		return nil
	}
	markRole := role
	if mark == "!" {
		markRole = look.Out
	}
	return v.marked(v.edge(), mark, markRole, role, text, w)
}

// keypad returns the keypad of the window, where one is shown.
func (a *app) keypad() (widget.Keypad, bool) {
	if !a.v.prefs.Keypad || a.active != onBooking || !a.v.asks {
		return widget.Keypad{}, false
	}
	return widget.KeypadFor(a.w, a.h)
}
