package tui

import (
	"fmt"

	"example.org/readback/booking"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
)

// a writing is a reason or a remark to be written: what it is for, the usual
// ones to pick from, and what it becomes.
type writing struct {
	title string
	about string   // one sentence on what it does
	usual []string // picked by number or touch
	first string   // the first way to end it, where there are others
	other []option // keys that change what it becomes
	back  screenID // where Esc and an empty Backspace go
	must  bool     // it cannot be left empty
	then  func(text string) []ask
}

// an option is a second way to end a writing.
type option struct {
	text string
	then func(text string) []ask
}

// the writingScreen is one line of text with the usual answers under it.
type writingScreen struct {
	writing
	line   textLine
	option int
}

func (s *writingScreen) enter(*view) {
	s.line = newTextLine()
	s.option = 0
}

func (s *writingScreen) field(*view) input.Field { return input.Text }

// take picks a usual answer by its number or a touch, and writes.
func (s *writingScreen) take(_ *view, p press) ([]ask, bool) {
	empty := s.line.Text() == ""
	switch on := p.on.(type) {
	case onAnswer:
		s.option = int(on)
		return nil, true
	case onRow:
		return s.end(s.usual[on]), true
	}
	switch {
	case p.is(keys.Back) && empty:
		return asks(goTo{s.back}), true
	case p.isChar() && empty && p.r >= '1' && int(p.r-'1') < len(s.usual):
		return s.end(s.usual[p.r-'1']), true
	}
	return s.line.take(p)
}

func (s *writingScreen) actions(*view) []action {
	written := func() []ask {
		if s.must && s.line.Text() == "" {
			return asks(say{text: "Write it, or pick one by its number.", bad: true})
		}
		return s.end(s.line.Text())
	}
	next := func() []ask { s.option = (s.option + 1) % (len(s.other) + 1); return nil }
	as := []action{does(keys.Write, written), gives(keys.Leave, goTo{s.back}), does(keys.Down, next).named("the other way").when(len(s.other) > 0, "")}
	return append(as, too(next, keys.Up)...)
}

func (s *writingScreen) end(text string) []ask {
	if s.option > 0 {
		return s.other[s.option-1].then(text)
	}
	return s.then(text)
}

func (s *writingScreen) draw(v *view, w, h int) block {
	t := v.theme
	room := w - v.edge() - v.margin()
	b := titled(v, s.title, "", w)
	if about := v.lines(v.edge(), look.Quiet, s.about, w); len(b.lines)+len(about)+s.rows(room) <= h { // it gives way to what can be picked
		b.add(about...)
	}
	air := h-len(b.lines) >= 2*len(s.usual)+len(s.other)+6
	if air {
		b.add("")
	}
	for i := 0; len(s.other) > 0 && i <= len(s.other); i++ {
		text, role, mark := s.first, look.Quiet, "○"
		if i > 0 {
			text = s.other[i-1].text
		}
		if i == s.option {
			role, mark = look.Strong, "●"
		}
		for k, l := range look.Wrap(text, room-2) {
			b.touch(0, len(b.lines), w, 1, touching(onAnswer(i)))
			row := t.Row().To(v.edge())
			if k == 0 {
				row.Put(role, mark)
			}
			b.add(row.To(v.edge()+2).Put(role, l).String())
		}
	}
	if len(s.other) > 0 && air {
		b.add("")
	}
	b.add(t.Row().To(v.gutter()).Put(look.Accent, "▸").To(v.edge()).Put(look.Accent, "▌").Add(s.line.view(t, room-1), room-1).String())
	if air {
		b.add("")
	}
	for i, u := range s.usual {
		n := 1
		if air {
			n = 2
		}
		b.touch(0, len(b.lines), w, n, touching(onRow(i)))
		b.add(t.Row().To(v.edge()).Put(look.Accent, itoa(i+1)).Put(look.Ink, "  "+u).String())
		if air {
			b.add("")
		}
	}
	return b
}

// rows is how many rows the answers take, the line to be written among them.
func (s *writingScreen) rows(room int) int {
	n := 1 + len(s.usual)
	if len(s.other) > 0 {
		n += len(look.Wrap(s.first, room-2))
	}
	for _, o := range s.other {
		n += len(look.Wrap(o.text, room-2))
	}
	return n
}

func hiddenWriting(v *view) writing {
	k := v.slot
	skip := func(blocked bool) func(string) []ask {
		return func(reason string) []ask {
			return recorded(onBooking, func(s booking.Setup) (booking.PointingSkipped, error) { return s.Skip(k, blocked, reason) })
		}
	}
	stretch := v.setup.Spec.Order.Stretch()
	ways := []option{{"Blocked: not called again in this " + stretch, skip(true)}}
	if k.Quantity == booking.Slope && k.Repeat == 0 {
		ways = append(ways, option{"No distance to " + k.Target + " in this setup", func(string) []ask { return noDistance(v.setup.Spec, k.Target) }})
	}
	return writing{
		title: capital(slotWords(k)) + " cannot be read now",
		about: "Enter alone writes “hidden”.",
		first: "Hidden for now: called again at the end of the " + stretch,
		usual: []string{"vehicle in the line", "people in the line", "haze", "target not yet up"},
		other: ways,
		back:  onBooking, then: skip(false),
	}
}

func voidWriting(k booking.Slot) writing {
	return writing{
		title: fmt.Sprintf("Round %d is void from here", k.Round),
		about: "Every reading of the round is struck and stays legible. A new round begins at the same circle setting.",
		usual: []string{"tripod knocked", "instrument out of level", "circle slipped", "wrong reference object"},
		back:  onBooking, must: true,
		then: because(onBooking, booking.Setup.VoidRound, k),
	}
}

func remarkWriting(v *view) writing {
	w := writing{
		title: "Write a remark",
		about: "It stands on the page and on the sheet.",
		first: "On the setup",
		usual: []string{"haze", "strong wind", "vibration", "sun on the tripod"},
		back:  onBooking, must: true,
		then: because(onBooking, booking.Setup.Remark, 0),
	}
	if v.setup.Lift != nil {
		w.back = onPage
	}
	if last, ok := v.setup.Last(); ok {
		w.other = []option{{"Beside the last reading, " + slotWords(last.Slot), because(onBooking, booking.Setup.Remark, last.Seq)}}
	}
	return w
}

func strikeWriting(r booking.Reading, text string) writing {
	return writing{
		title: "Strike " + text + " of " + slotWords(r.Slot),
		first: "This reading alone",
		about: "The figure stays legible on the page, with the reason beside it. The pointing is called again.",
		usual: []string{"misread", "keyed wrongly", "wrong target", "wrong face", "bubble moved"},
		back:  onStrike, must: true,
		then: because(onBooking, booking.Setup.Strike, r.Seq),
	}
}

// otherFaceWriting strikes the other face of a pair, whose reading was read again and
// found the same: it is called again.
func otherFaceWriting(r booking.Reading, text string) writing {
	w := strikeWriting(r, text)
	w.usual = append([]string{r.Slot.Face.Other().Words() + " read again and found the same"}, w.usual...)
	w.back = onBooking
	return w
}

func leaveOutWriting(round int) writing {
	return writing{
		title: fmt.Sprintf("Leave round %d out of the means", round),
		about: "Its readings stay on the page. Write why: the reason is printed beside them.",
		usual: []string{"it does not agree with the others", "tripod disturbed during it", "haze during it"},
		back:  onCompare, must: true,
		then: because(onCompare, booking.Setup.LeaveOut, round),
	}
}

func takeBackWriting(round int) writing {
	return writing{
		title: fmt.Sprintf("Take round %d back into the means", round),
		about: "Write why it counts again.",
		usual: []string{"left out by mistake", "it agrees with the later rounds"},
		back:  onCompare, must: true,
		then: because(onCompare, booking.Setup.TakeBack, round),
	}
}

func liftWriting() writing {
	return writing{
		title: "Lift the tripod on Hold",
		about: "The checks are not met. The reason is printed on the sheet beside them.",
		usual: []string{"the site must be cleared", "weather", "the station will be occupied again"},
		back:  onVerdict, must: true,
		then: func(reason string) []ask { return asks(liftTripod{reason}) },
	}
}
