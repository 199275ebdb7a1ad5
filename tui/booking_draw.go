package tui

import (
	"fmt"
	"strings"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/tui/look"
	"example.org/readback/tui/plot"
	"example.org/readback/tui/widget"
)

// The longest word of the flags of each set of states.
const (
	bookingWords = 7
	verdictWords = 12
	compareWords = 8
)

// From these sizes on there is more: room for air, for figures five rows tall,
// for pictures at the right.
const (
	airyH  = 24
	hugeH  = 28
	sideW  = 100
	side   = 26 // columns of the pictures
	wideW  = 140
	wide   = 46
	tallH  = 40 // what is to come, and the progress
	compH  = 20 // under it, and under 60 columns, face and target share a row
	compW  = 60
	stateH = 3
)

func (s *bookingScreen) draw(v *view, w, h int) block {
	if !v.asks {
		return s.drawDone(v, w, h)
	}
	pictures := v.w >= sideW && !v.prefs.Keypad
	main := w
	if pictures {
		main = w - s.sideWidth(v) - 3
	}
	entry, state := s.drawEntry(v, main, h), s.drawState(v, main)
	b := s.drawCall(v, main, h-len(entry)-len(state))
	b.add(entry...)
	b.add(state...)
	rest := h - len(b.lines)
	if v.h >= airyH && (!v.prefs.Keypad || rest > 8) {
		rest--
	}
	if rest > 1 && v.h >= compH {
		come := s.toCome(v, main, rest)
		page := rest - len(come)
		if len(come) > 0 {
			page = min(page, len(s.paged(v, main).lines))
		}
		b.put(s.drawPage(v, main, page))
		b.add(come...)
	}
	b.level(h)
	if pictures {
		b.beside(w-s.sideWidth(v)-v.margin(), s.pictures(v, s.sideWidth(v), h))
	}
	return b
}

func (s *bookingScreen) sideWidth(v *view) int {
	if v.w >= wideW {
		return wide
	}
	return side
}

// drawCall draws what is called now: face and target, the largest words of the
// screen, and what the observer does. In a small window it has room rows.
func (s *bookingScreen) drawCall(v *view, w, room int) block {
	t := v.theme
	before, sight := v.doing()
	text := strings.TrimSpace(before + " " + sight)
	face, name := v.slot.Face.String(), v.slot.Target
	if v.slot.Quantity == spec.Accumulated {
		name += fmt.Sprintf(", after %d repetitions", v.setup.Spec.Repetitions)
	}
	if v.slot.Quantity == spec.InstrumentHeight {
		name = v.setup.Spec.Station
	}
	var b block
	if v.w < compW || v.h < compH {
		row := t.Row().To(v.edge())
		if face != "" {
			row.Put(look.Badge, " "+face+" ").To(row.Width() + 1)
		}
		at := row.Width()
		for i, s := range look.Wrap(name, w-at-1) {
			if i > 0 {
				row = t.Row().To(at)
			}
			b.add(row.Put(look.Accent, s).String())
		}
		for _, t := range []string{text, sight} { // the shorter one where the state needs the rows
			if lines := v.lines(v.edge(), look.Ink, t, w); len(b.lines)+len(lines) <= room {
				b.add(lines...)
				break
			}
		}
		return b
	}
	if v.h >= airyH {
		b.add("")
	}
	tall, tw, pad := make([]string, widget.NameRows), 0, 2
	if v.prefs.Keypad && v.w < sideW {
		pad = 1
	}
	if face != "" {
		tall, tw = widget.Badge(t, look.Badge, face, pad)
		for i := range tall {
			tall[i] += "  "
		}
		tw += 2
	}
	x, under, first := v.edge()+tw, v.h >= airyH, 0
	var beside []string
	if n := widget.NameWidth(name); n > 0 && x+n < w {
		for i, l := range widget.Name(t, look.Accent, name, 0) {
			tall[i] += l
		}
		tw, x, first = tw+n, x+n+3, 1
		if words := v.inLines(look.Ink, text, w-x-v.margin()); !under && x+23 < w && len(words) <= 3 { // the sentence stands behind the name
			beside, text = words, ""
		}
	} else { // as many rows as it takes: nothing is cut
		beside = append(v.inLines(look.Accent, name, w-x-v.margin()), v.inLines(look.Ink, text, w-x-v.margin())...)
		text = ""
	}
	b.add(v.hung(tall, tw, x, first, beside)...)
	if text != "" {
		b.add(v.lines(v.edge(), look.Ink, text, w)...)
	} else if under {
		b.add("")
	}
	b.touch(0, 0, w, len(b.lines), char('g'))
	return b
}

// drawEntry draws what the observer of a drill calls and what is keyed, in tall
// figures with the row of marks under them.
func (s *bookingScreen) drawEntry(v *view, w, h int) []string {
	t := v.theme
	var out []string
	if v.drill {
		out = append(out, s.drawCalled(v, w)...)
	}
	if v.h >= airyH {
		out = append(out, "")
	}
	most := 3
	if v.h >= hugeH {
		most = 5
	}
	if h < 9 || h < 9+len(s.asking) {
		most = 1
	}
	text := s.entry.Formatted()
	height := widget.TallestFor(text, w-v.edge()-1, most)
	if t.Signs == look.ASCII && height == widget.Huge {
		height = widget.Tall
	}
	indent := strings.Repeat(" ", v.edge())
	for _, l := range widget.Figures(t, height, text, s.judged.out) {
		out = append(out, indent+l)
	}
	return out
}

// drawCalled is the strip of the observer's call in a drill, second only to the
// figures.
func (s *bookingScreen) drawCalled(v *view, w int) []string {
	t := v.theme
	call, says, at := v.called, "the observer calls", v.edge()+23
	if strings.Trim(call, "0123456789. ") == "" {
		call = spaced(call)
	}
	if at+look.Width(call) >= w {
		says, at = "calls", v.edge()+8
	}
	var lines []string
	for i, s := range look.Wrap(call, w-at-1) {
		row := t.Row()
		if i == 0 {
			row.To(v.gutter()).Put(look.BarCall, "▸").To(v.edge()+1).Put(look.Bar, says)
		}
		lines = append(lines, row.To(at).Put(look.BarCall, s).Ground(look.Bar, w))
	}
	if v.h >= hugeH {
		empty := t.Row().Ground(look.Bar, w)
		lines = append(append([]string{empty}, lines...), empty)
	}
	return lines
}

// spaced parts the digits of a call, its groups more.
func spaced(s string) string {
	var b strings.Builder
	for _, r := range s {
		b.WriteRune(r)
		b.WriteByte(' ')
	}
	return strings.TrimSpace(b.String())
}

// drawState draws the state of the entry: its flag and a sentence, and beneath a
// strip to look at or how readings are keyed; the question, while it is asked.
func (s *bookingScreen) drawState(v *view, w int) []string {
	var out []string
	if s.asking != nil {
		out = append(out, s.drawAsking(v, w)...)
	} else {
		sign, word, role := s.judged.state.mark()
		text := look.Ink
		if s.judged.state == entryEmpty {
			text = look.Quiet
		}
		sentence := s.judged.text
		if t := v.beforeVerticals(); t != "" && s.entry.Empty() {
			sign, word, role, text = "!", "suspect", look.Warn, look.Ink
			sentence = strings.Join(shorter(t, w-v.flagAt(bookingWords)-v.margin(), 4), " ")
		}
		if s.left != "" && s.entry.Empty() {
			sentence = s.leftWords() + " T takes it, Back drops it, a digit begins anew."
			if v.h < compH {
				sentence = strings.TrimSuffix(s.leftWords(), "was left half keyed.") + "left: T takes it, Back drops it."
			}
		}
		if v.h < compH {
			at := v.flagAt(bookingWords)
			sentence = strings.Join(shorter(sentence, w-at-v.margin(), 2), " ")
		}
		out = v.flag(role, sign, word, bookingWords, text, sentence, w)
		if v.h < compH && len(out) > 1 {
			return out
		}
		if s.left != "" && !s.entry.Empty() && v.h >= compH {
			out = append(out, v.theme.Line(v.flagAt(bookingWords), look.Quiet, s.leftWords()))
		} else if strip := s.strip(v, w); strip != "" {
			out = append(out, strip)
		} else if len(out) < stateH-1 && v.h >= compH {
			at := v.flagAt(bookingWords)
			if t := notationText(v.setup.Spec, v.slot); look.Width(t) <= w-at-v.margin() {
				out = append(out, v.theme.Line(at, look.Quiet, t))
			}
		}
	}
	for len(out) < stateH && v.h >= compH {
		out = append(out, "")
	}
	return out
}

// drawAsking asks whether a marked entry has been read again.
func (s *bookingScreen) drawAsking(v *view, w int) []string {
	t, at := v.theme, v.flagAt(bookingWords)
	question := "Has the observer read it again?"
	if at+look.Width(question) > w {
		question = "Was it read again?"
	}
	row := t.Row().To(v.gutter()).Put(look.StopWide, "?").To(v.edge()).Put(look.StopWide, "again?").To(at).Put(look.StopWide, question)
	out := []string{row.Ground(look.StopWide, w)}
	most := 6
	if v.h < compH || v.w < compW {
		most = 3
	}
	for _, l := range shorter(s.askingText(), w-at-v.margin(), most) {
		out = append(out, t.Line(at, look.Ink, l))
	}
	return out
}

// shorter breaks sentences to at most so many rows, leaving whole ones out where
// they do not fit: those between the first, which says what is off, and the
// last, which says what to do.
func shorter(text string, w, rows int) []string {
	parts := strings.SplitAfter(text, ". ")
	lines := look.Wrap(text, w)
	for n := len(parts) - 1; n > 0 && len(lines) > rows; n-- {
		kept := append(append([]string{}, parts[:n-1]...), parts[len(parts)-1])
		lines = look.Wrap(strings.Join(kept, ""), w)
	}
	return lines
}

// askingText is why the entry is marked.
func (s *bookingScreen) askingText() string {
	text := ""
	for _, f := range s.asking {
		if f.Severity == event.Stop {
			text += f.Text + " "
		}
	}
	return strings.TrimSpace(text)
}

// strip shows the 2c of a ready entry among those of the pairs before, against
// the limit of their spread.
func (s *bookingScreen) strip(v *view, w int) string {
	k := v.slot
	if k.Quantity != spec.Horizontal || s.judged.state != entryFits && s.judged.state != entryWarned {
		return ""
	}
	value, err := v.setup.Parse(k, s.entry.Text())
	pair, ok := v.setup.At(k.Pair())
	if err != nil || !ok {
		return ""
	}
	fl, fr := reduce.DirectionAt(reduce.Angle(value)), pair.Direction()
	if k.Face == faces.FR {
		fl, fr = fr, fl
	}
	limit := v.red.Comparison.Limits.TwoC.Value
	p := plot.Strip{Limit: limit.Seconds()}
	for _, r := range v.red.Rounds {
		for _, x := range r.Pairs {
			if x.HasPair {
				p.Marks = append(p.Marks, plot.Mark{Value: x.TwoC.Seconds(), Sign: "▪"})
			}
		}
	}
	p.Marks = append(p.Marks, plot.Mark{Value: faces.TwoC(fl, fr).Seconds(), Sign: "◆", Now: true})
	at := v.flagAt(bookingWords)
	note := "2c of " + size(v.setup.Spec, limit)
	room := min(w-at-v.margin()-look.Width(note)-2, 41)
	return v.theme.Row().To(at).Add(p.Draw(v.theme, room), max(room, 0)).To(at+room+2).Put(look.Quiet, note).String()
}
