package tui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/help"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/viewport"

	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
)

// shownKeys are the bindings that have their place in the key line now: the
// answers while a question is asked.
func (a *app) shownKeys() []key.Binding {
	if a.modal != nil {
		return []key.Binding{withHelp(keys.Yes, a.modal.yes), withHelp(keys.No, a.modal.no)}
	}
	if a.more {
		return []key.Binding{withHelp(keys.Close, "back")}
	}
	return listed(a.screen().actions(&a.v))
}

// moreKeys tells whether there is a page of keys behind the line.
func (a *app) moreKeys() bool {
	return a.modal == nil && !a.more && a.field() != input.Text && !(a.active == onBooking && a.desk.asking != nil)
}

// mostKeys is how many keys stand in the line; the others are one key away.
const mostKeys = 4

// foot is the last of the window: the key line, or cells to touch where touches
// are wanted. Beside the keypad there is none.
func (a *app) foot() block {
	_, padded := a.keypad()
	switch {
	case padded:
		return block{}
	case !a.v.prefs.Keypad || a.h < 20 || a.w < 60:
		return a.keyLine()
	case a.field() == input.Text && a.modal == nil:
		return letterPad(&a.v.frame, a.w, a.h)
	}
	return a.touchBar()
}

// keyLine is one row of the keys that fit the moment.
func (a *app) keyLine() block {
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
	n, at := 0, v.edge()
	for ; n < min(len(shown), mostKeys); n++ {
		h := shown[n].Help()
		w := look.Width(h.Key) + 1 + look.Width(h.Desc)
		if at+w > end {
			break
		}
		b.touch(at-1, 0, w+2, 1, pressOf(shown[n]))
		at += w + 3
	}
	row.Add(v.keyHelp().ShortHelpView(shown[:n]), max(at-3-v.edge(), 0))
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
func (a *app) touchBar() block {
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
	b.put(cells(&a.v.frame, ks, a.w, len(ks)))
	return b
}

// keyHelp writes keys with what they do in the roles of the theme.
func (f *frame) keyHelp() help.Model {
	h, t := help.New(), f.theme
	name, word := t.Style(look.Accent), t.Style(look.Quiet)
	h.ShortSeparator = "   "
	h.Styles = help.Styles{ShortKey: name, ShortDesc: word, ShortSeparator: word, Ellipsis: word,
		FullKey: name.Inline(false), FullDesc: t.Style(look.Ink).Inline(false), FullSeparator: word}
	return h
}

// allKeys is every key of the screen with what it does: a page that scrolls, or
// cells for a finger where there is room for them.
func (a *app) allKeys(w, h int) block {
	v := &a.v
	ks := listed(a.screen().actions(v))
	if _, padded := a.keypad(); padded { // what the keypad has is not said twice
		ks = slices.DeleteFunc(slices.Clone(ks), func(k key.Binding) bool { return k.Help().Key == "Enter" })
	}
	if a.keyCells() {
		cols := max(w/24, 2)
		for cols < len(ks) && cellH*((len(ks)+cols-1)/cols) > h { // b adds a row of air, the last cell needs none
			cols++
		}
		b := block{lines: []string{""}}
		b.put(cells(&v.frame, ks, w, cols))
		return b
	}
	b := titled(v, "Every key of this screen", "", w)
	page, of := a.keyPage(ks, w-v.edge()-v.margin())
	vp := viewport.New(w-v.edge(), max(h-len(b.lines), 0))
	vp.SetContent(strings.Join(page, "\n"))
	vp.SetYOffset(a.moreTop)
	a.moreTop = vp.YOffset
	at := len(b.lines)
	for i, l := range splitLines(vp.View()) {
		y := vp.YOffset + i
		more := ""
		switch {
		case i == 0 && !vp.AtTop():
			more = "↑"
		case i == vp.Height-1 && !vp.AtBottom():
			more = "↓"
		}
		if y < len(of) {
			b.touch(0, at+i, w, 1, of[y])
		}
		if more != "" {
			l = look.FitLine(l, w-v.edge()-1) + v.theme.In(look.Accent, more)
		}
		b.add(v.theme.Row().To(v.edge()).Add(l, w-v.edge()).String())
	}
	return b
}

// keyCells tells whether the page of keys is cells.
func (a *app) keyCells() bool { return a.v.prefs.Keypad && touchRoom(a.w, a.h) }

// keyPage are the lines of the page of keys, and the press that each stands for.
func (a *app) keyPage(ks []key.Binding, w int) (lines []string, of []press) {
	const name = 6
	var rows []key.Binding
	for _, k := range ks {
		word := meanings[a.active][k.Help().Key]
		if word == "" {
			word = k.Help().Desc
		}
		for i, s := range look.Wrap(word, w-name-1) {
			h := look.Pad("", name)
			if i == 0 {
				h = look.Pad(k.Help().Key, name)
			}
			rows, of = append(rows, key.NewBinding(key.WithKeys(k.Keys()...), key.WithHelp(h, s))), append(of, pressOf(k))
		}
	}
	lines = splitLines(a.v.keyHelp().FullHelpView([][]key.Binding{rows}))
	if a.active == onBooking {
		lines = append(lines, "")
		for _, s := range look.Wrap("Digits are the reading. A space or a full stop parts it. B or Esc comes back from every screen.", w) {
			lines = append(lines, a.v.theme.In(look.Quiet, s))
		}
	}
	return lines, of
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
	"D":     "check of the instrument, weather, photo, pack-up, note, job, what stood beside its mark, levelled differences",
	"E":     "mean or reduced direction, altitude or gradient, where only one fits",
	"Q":     "leave; everything booked is kept",
	"B":     "back to the pointing that is called",
	"A":     "ask the observer to read it again",
}}
