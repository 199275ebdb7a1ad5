package tui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"

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
func (a *App) tooSmall() bool { return a.w < leastW || a.h < leastH }

// smallTakes tells whether a press is taken in a window that is too small: the
// pointing and the entry are seen there, and nothing else.
func (a *App) smallTakes(p press) bool {
	if a.active != onBooking {
		return false
	}
	return p.is(keys.Enter) || p.is(keys.Back) || p.is(keys.Yes) || p.is(keys.No) || p.isChar() && isEntryChar(p.r)
}

// View draws the window: the bar, the screen, what there is to say, the keys that
// fit the moment. The last step fits it to the window.
func (a *App) View() string {
	if a.w <= 0 || a.h <= 0 {
		return ""
	}
	a.seen = a.compose()
	return a.v.theme.Fit(a.seen.lines, a.w, a.h)
}

func (a *App) compose() block {
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
	if padded {
		body.beside(w, a.padBlock(pad, h))
	}
	b.put(body)
	b.put(foot)
	return b
}

// body is the screen with what there is to say under it.
func (a *App) body(w, h int) block {
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
	}
	b.level(h - len(notes))
	b.add(notes...)
	return b
}

// bar names station and setup, where the programme stands, and whether
// everything is on disk.
func (a *App) bar() string {
	v, t := &a.v, a.v.theme
	state, role := "✓ saved", look.BarQuiet
	switch {
	case v.failure != nil && !v.failure.done:
		state, role = "✗ NOT SAVED", look.StopWide
	case len(v.saving) > 0:
		state = "· saving " + itoa(len(v.saving))
	}
	if v.status.CopyNote != "" {
		state = "! copy behind   " + state
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
func (a *App) small() []string {
	v, t := &a.v, a.v.theme
	put := func(role look.Role, s string) (out []string) {
		for _, l := range look.Wrap(s, a.w) {
			out = append(out, t.In(role, l))
		}
		return out
	}
	size := itoa(a.w) + " × " + itoa(a.h) + " is too small; " + itoa(leastW) + " × " + itoa(leastH) + " is needed."
	switch {
	case a.modal != nil:
		return put(look.Strong, a.modal.text+" Y: "+a.modal.yes+". N: "+a.modal.no+".")
	case v.failure != nil:
		return put(look.Stop, "NOT SAVED. Make the window larger: "+size)
	case v.asks && !a.desk.entry.Empty():
		return append(put(look.Strong, "Make the window larger: "+size), put(look.Ink, "The entry is kept: "+a.desk.entry.Formatted())...)
	}
	return put(look.Strong, "Make the window larger: "+size)
}

// notes is what there is to say under the screen: a question, a refusal, what is
// wrong with the copy, what was booked last.
func (a *App) notes(w int) []string {
	v := &a.v
	mark, role := " ", look.Ink
	text := ""
	switch {
	case a.modal != nil:
		return append([]string{""}, v.band(look.StopWide, "?", a.modal.text, w)...)
	case a.notice.text != "" && a.notice.bad:
		mark, role, text = "!", look.Strong, a.notice.text
	case a.notice.text != "":
		role, text = look.Strong, a.notice.text
	case a.active == onBooking && v.last != "" && v.lastBad:
		mark, role, text = "!", look.Strong, v.last
	case v.status.CopyNote != "":
		mark, text = "!", v.status.CopyNote
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
	var lines []string
	for i, s := range look.Wrap(text, w-v.edge()-v.margin()) {
		row := v.theme.Row()
		if i == 0 && mark != " " {
			r := role
			if mark == "!" {
				r = look.Out
			}
			row.To(v.gutter()).Put(r, mark)
		}
		lines = append(lines, row.To(v.edge()).Put(role, s).String())
	}
	return lines
}

// shownKeys are the bindings that have their place in the key line now: the
// answers while a question is asked.
func (a *App) shownKeys() []key.Binding {
	if a.modal != nil {
		return []key.Binding{withHelp(keys.Yes, a.modal.yes), withHelp(keys.No, a.modal.no)}
	}
	if a.more {
		return []key.Binding{withHelp(keys.Close, "back")}
	}
	return a.screen().keys(&a.v)
}

// moreKeys tells whether there is a page of keys behind the line.
func (a *App) moreKeys() bool {
	return a.modal == nil && !a.more && a.field() != input.Text && !(a.active == onBooking && a.desk.asking != nil)
}

// mostKeys is how many keys stand in the line; the others are one key away.
const mostKeys = 4

// foot is the last of the window: the key line, or cells to touch where touches
// are wanted. Beside the keypad there is none.
func (a *App) foot() block {
	_, padded := a.keypad()
	switch {
	case padded:
		return block{}
	case !a.v.prefs.Keypad || a.h < 20 || a.w < 60:
		return a.keyLine()
	case a.field() == input.Text && a.modal == nil:
		return letterPad(&a.v, a.w, a.h)
	}
	return a.touchBar()
}

// keyLine is one row of the keys that fit the moment.
func (a *App) keyLine() block {
	v, t := &a.v, a.v.theme
	var b block
	row := t.Row().To(v.edge())
	end := a.w - v.margin()
	all := ""
	if a.moreKeys() {
		all = "? all keys"
		if a.w < 60 {
			all = "? keys"
		}
		end -= look.Width(all) + 3
	}
	shown := a.shownKeys()
	if a.modal != nil || a.active == onBooking && a.desk.asking != nil {
		shown = shortAnswers(shown, end-v.edge())
	}
	for i, k := range shown {
		h := k.Help()
		w := look.Width(h.Key) + 1 + look.Width(h.Desc)
		at := row.Width()
		if i > 0 {
			at += 3
		}
		if i >= mostKeys || at+w > end {
			break
		}
		row.To(at).Put(look.Accent, h.Key).Put(look.Quiet, " "+h.Desc)
		b.touch(at-1, 0, w+2, 1, pressOf(k))
	}
	if all != "" {
		x := a.w - v.margin() - look.Width(all)
		row.To(x).Put(look.Accent, "?").Put(look.Quiet, all[1:])
		b.touch(x-1, 0, look.Width(all)+2, 1, pressOf(keys.Keys))
	}
	b.add(row.String())
	return b
}

// shortAnswers are the answers of a question in a word each where the sentences
// have no room: none of them may be missing.
func shortAnswers(ks []key.Binding, room int) []key.Binding {
	w := -3
	for _, k := range ks {
		w += 3 + look.Width(k.Help().Key) + 1 + look.Width(k.Help().Desc)
	}
	if w <= room {
		return ks
	}
	out := make([]key.Binding, len(ks))
	for i, k := range ks {
		word, _, _ := strings.Cut(k.Help().Desc, ",")
		out[i] = withHelp(k, word)
	}
	return out
}

// touchBar is the keys that fit the moment as cells for a gloved finger.
func (a *App) touchBar() block {
	ks := a.shownKeys()
	if a.modal == nil {
		ks = ks[:min(len(ks), 3)]
		if a.w < 80 {
			ks = ks[:min(len(ks), 2)]
		}
	}
	if a.moreKeys() {
		ks = append(ks[:len(ks):len(ks)], withHelp(keys.Keys, "more"))
	}
	b := block{lines: []string{""}}
	b.put(cells(&a.v, ks, a.w, len(ks)))
	return b
}

// cells are bindings as cells two rows tall, cols of them beside each other, a
// blank row between.
func cells(v *view, ks []key.Binding, w, cols int) block {
	t := v.theme
	var b block
	if len(ks) == 0 {
		return b
	}
	cw := (w-v.edge()-v.margin()+1)/cols - 1
	for i := 0; i < len(ks); i += cols {
		if i > 0 {
			b.add("")
		}
		upper, lower := t.Row().To(v.edge()), t.Row().To(v.edge())
		for _, k := range ks[i:min(i+cols, len(ks))] {
			x := upper.Width()
			role := look.Cell
			if k.Help().Key == "Y" {
				role = look.PadMain
			}
			head, word := " "+k.Help().Key, " "+k.Help().Desc
			if !t.Coloured() {
				head, word = "│"+k.Help().Key, "│"+k.Help().Desc
			}
			if role == look.Cell {
				upper.Left(look.BarCall, head, cw)
			} else {
				upper.Left(role, head, cw)
			}
			lower.Left(role, word, cw)
			upper.To(x + cw + 1)
			lower.To(x + cw + 1)
			b.touch(x, len(b.lines), cw, 2, pressOf(k))
		}
		b.add(upper.String(), lower.String())
	}
	return b
}

// allKeys is every key of the screen with what it does, or cells for a finger.
func (a *App) allKeys(w, h int) block {
	v := &a.v
	ks := a.screen().keys(v)
	b := block{}
	if _, padded := a.keypad(); padded { // what the keypad has is not said twice
		ks = slices.DeleteFunc(slices.Clone(ks), func(k key.Binding) bool { return k.Help().Key == "Enter" })
	}
	if v.prefs.Keypad {
		cols := max(w/24, 2)
		for cols < len(ks) && cellH*((len(ks)+cols-1)/cols) > h {
			cols++
		}
		b.add("")
		b.put(cells(v, ks, w, cols))
		return b
	}
	b.add("", v.section("Every key of this screen", "", w), "")
	for _, k := range ks {
		word := meanings[a.active][k.Help().Key]
		if word == "" {
			word = k.Help().Desc
		}
		row := v.theme.Row().To(v.edge()).Left(look.Accent, k.Help().Key, 7)
		for i, s := range look.Wrap(word, w-v.edge()-7-v.margin()) {
			if i > 0 {
				row = v.theme.Row()
			}
			row.To(v.edge()+7).Put(look.Ink, s)
			b.touch(0, len(b.lines), w, 1, pressOf(k))
			b.add(row.String())
		}
	}
	b.add("")
	if a.active == onBooking {
		for _, s := range look.Wrap("Digits are the reading. A space or a full stop parts it. B or Esc comes back from every screen.", w-v.edge()-v.margin()) {
			b.add(v.theme.Line(v.edge(), look.Quiet, s))
		}
	}
	return b
}

// meanings say more than the key line has room for.
var meanings = map[screenID]map[string]string{onBooking: {
	"Enter": "book the entry; a marked one asks whether it was read again",
	"S":     "strike a reading: the last one, or any other",
	"H":     "the target is hidden for now, or blocked",
	"V":     "the round is void from here: tripod knocked",
	"R":     "write a remark on the setup or beside the last reading",
	"P":     "the whole page, nothing covered; the same key comes back",
	"G":     "turn to another pointing, or to the instrument height",
	"C":     "the rounds against each other; leave one out; another round",
	"L":     "Hold with what is missing, or Lift with the angles",
	"W":     "every setup of the book; the next station; the figure",
	"O":     "theme, plain signs, touch, second journal",
	"K":     "show or hide the keypad",
	"E":     "altitude or gradient on a narrow page",
	"Q":     "leave; everything booked is kept",
	"B":     "back to the pointing that is called",
	"A":     "ask the observer to read it again",
}}

// keypad returns the keypad of the window, where one is shown.
func (a *App) keypad() (widget.Keypad, bool) {
	if !a.v.prefs.Keypad || a.active != onBooking || !a.v.asks {
		return widget.Keypad{}, false
	}
	return widget.KeypadFor(a.w, a.h)
}

// padBlock draws the keypad at the bottom of h rows.
func (a *App) padBlock(pad widget.Keypad, h int) block {
	asking := a.desk.asking != nil || a.modal != nil
	ready := a.desk.judged.state == entryFits || a.desk.judged.state == entryWarned
	now := padState{a.v.theme, pad, asking, ready}
	if now != a.padOf || a.padLines == nil {
		a.padOf, a.padLines = now, pad.Draw(a.v.theme, asking, ready)
	}
	b := block{}
	b.level(h - pad.H)
	for _, c := range pad.Cells(asking) {
		b.touch(c.X, len(b.lines)+c.Y, c.W, c.H, padPress(c.Rune))
	}
	for i := range b.lines {
		b.lines[i] = strings.Repeat(" ", pad.W)
	}
	b.add(a.padLines...)
	return b
}

// padState is all that the picture of the keypad follows from.
type padState struct {
	theme         *look.Theme
	pad           widget.Keypad
	asking, ready bool
}

// padPress is the press of a keypad key.
func padPress(r rune) press {
	switch r {
	case widget.PadBack:
		return named("backspace")
	case widget.PadEnter:
		return named("enter")
	}
	return char(r)
}

// letterPad is a keyboard for names where touches are wanted.
func letterPad(v *view, w, h int) block {
	t := v.theme
	var b block
	kw := (w - v.edge() - v.margin()) / 10
	x0 := (w - 10*kw) / 2
	for _, keys := range []string{"1234567890", "QWERTYUIOP", "ASDFGHJKL'", "ZXCVBNM,.-"} {
		upper, lower := t.Row().To(x0), t.Row().To(x0)
		for _, r := range keys {
			b.touch(upper.Width(), len(b.lines), kw-1, 2, char(r))
			padKey(t, upper, lower, string(r), kw)
		}
		b.add(upper.String(), lower.String())
	}
	upper, lower := t.Row().To(x0), t.Row().To(x0)
	for _, k := range []struct {
		word string
		w    int
		p    press
	}{{"Esc", 2, named("esc")}, {"space", 3, char(' ')}, {"⌫", 1, named("backspace")}, {"↑", 1, named("up")}, {"↓", 1, named("down")}, {"Enter", 2, named("enter")}} {
		b.touch(upper.Width(), len(b.lines), k.w*kw-1, 2, k.p)
		padKey(t, upper, lower, k.word, k.w*kw)
	}
	b.add(upper.String(), lower.String())
	return b
}

func padKey(t *look.Theme, upper, lower *look.Row, word string, w int) {
	if !t.Coloured() {
		upper.Left(look.Cell, "│"+look.Middle(word, w-2), w-1).To(upper.Width() + 1)
		lower.Left(look.Cell, "│"+strings.Repeat("▁", w-2), w-1).To(lower.Width() + 1)
		return
	}
	upper.Left(look.Cell, look.Middle(word, w-1), w-1).To(upper.Width() + 1)
	lower.Fill(look.BandLine, "▁", w-1).To(lower.Width() + 1)
}
