package tui

import (
	"fmt"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
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
	b := titled(v, s.title, "", w)
	if about := v.lines(v.edge(), look.Quiet, s.about, w); len(b.lines)+len(about)+len(s.answers(v, w, false).lines) <= h { // it gives way to what can be picked
		b.add(about...)
	}
	air := h-len(b.lines) >= 2*len(s.usual)+len(s.other)+6
	if air {
		b.add("")
	}
	l := s.answers(v, w, air)
	b.put(l.view(len(l.lines)))
	return b
}

// answers are the ways to end it, the line to be written, and the usual answers, with
// air between them where there is room.
func (s *writingScreen) answers(v *view, w int, air bool) leaf {
	l := v.leaf(w)
	end := func(from int, on any) { // what was set from there on is one place to touch
		if air {
			l.blank()
		}
		for i := from; on != nil && i < len(l.lines); i++ {
			l.lines[i].on = on
		}
	}
	for i := 0; len(s.other) > 0 && i <= len(s.other); i++ {
		text, role, mark := s.first, look.Quiet, "○"
		if i > 0 {
			text = s.other[i-1].text
		}
		if i == s.option {
			role, mark = look.Strong, "●"
		}
		ls := l.across(ink{w: 1, text: mark, role: role}, ink{x: 2, w: -1, text: text, role: role})
		for k := range ls {
			ls[k].on = onAnswer(i)
		}
	}
	if len(s.other) > 0 {
		end(len(l.lines), nil)
	}
	field := l.add(ink{w: 1, text: "▌", role: look.Accent}, ink{x: 1, w: l.room() - 1, text: s.line.view(v.theme, l.room()-1), painted: true})
	field.mark, field.role = "▸", look.Accent
	end(len(l.lines), nil)
	for i, u := range s.usual {
		at := len(l.lines)
		l.add(ink{w: 1, text: itoa(i + 1), role: look.Accent}, ink{x: 3, w: -1, text: u, role: look.Ink})
		end(at, onRow(i))
	}
	return l
}

func hiddenWriting(v *view) writing {
	k := v.slot
	skip := func(blocked bool) func(string) []ask {
		return func(reason string) []ask {
			return recorded(onBooking, func(s booking.Setup) (event.PointingSkipped, error) { return s.Skip(k, blocked, reason) })
		}
	}
	stretch := v.setup.Spec.Order.Stretch()
	ways := []option{{"Blocked: not called again in this " + stretch, skip(true)}}
	if k.Quantity == spec.Slope && k.Repeat == 0 {
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

// reason is a writing that cannot be left empty.
func reason(back screenID, title, about string, then func(text string) []ask, usual ...string) writing {
	return writing{title: title, about: about, usual: usual, back: back, must: true, then: then}
}

func voidWriting(k spec.Slot) writing {
	return reason(onBooking, fmt.Sprintf("Round %d is void from here", k.Round),
		"Every reading of the round is struck and stays legible. A new round begins at the same circle setting.",
		because(onBooking, booking.Setup.VoidRound, k), "tripod knocked", "instrument out of level", "circle slipped", "wrong reference object")
}

func remarkWriting(v *view) writing {
	w := reason(onBooking, "Write a remark", "It stands on the page and on the sheet.",
		because(onBooking, booking.Setup.Remark, 0), "haze", "strong wind", "vibration", "sun on the tripod")
	w.first = "On the setup"
	if v.setup.Lift != nil {
		w.back = onPage
	}
	if last, ok := v.setup.Last(); ok {
		w.other = []option{{"Beside the last reading, " + slotWords(last.Slot), because(onBooking, booking.Setup.Remark, last.Seq)}}
	}
	return w
}

func strikeWriting(r booking.Reading, text string) writing {
	w := reason(onStrike, "Strike "+text+" of "+slotWords(r.Slot), "The figure stays legible on the page, with the reason beside it. The pointing is called again.",
		because(onBooking, booking.Setup.Strike, r.Seq), "misread", "keyed wrongly", "wrong target", "wrong face", "bubble moved")
	w.first = "This reading alone"
	return w
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
	return reason(onCompare, fmt.Sprintf("Leave round %d out of the means", round), "Its readings stay on the page. Write why: the reason is printed beside them.",
		because(onCompare, booking.Setup.LeaveOut, round), "it does not agree with the others", "tripod disturbed during it", "haze during it")
}

func takeBackWriting(round int) writing {
	return reason(onCompare, fmt.Sprintf("Take round %d back into the means", round), "Write why it counts again.",
		because(onCompare, booking.Setup.TakeBack, round), "left out by mistake", "it agrees with the later rounds")
}

func liftWriting() writing {
	return reason(onVerdict, "Lift the tripod on Hold", "The checks are not met. The reason is printed on the sheet beside them.",
		func(reason string) []ask { return asks(liftTripod{reason}) }, "the site must be cleared", "weather", "the station will be occupied again")
}
