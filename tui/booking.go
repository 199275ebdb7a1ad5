package tui

import (
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/tui/input"
	"example.org/readback/tui/widget"
)

// the bookingScreen is where the booker is most of the day: one pointing, one
// entry, one check line, and the page under or beside them.
type bookingScreen struct {
	entry  widget.Entry
	of     draftOf            // what the entry is for
	drafts map[draftOf]string // entries that were left half keyed
	left   string             // one of them, of this pointing: it stands struck out until it is taken or dropped
	judged judgement
	asking []event.Finding // the entry is marked and Enter was pressed: has it been read again?

	page        *leaf
	off         int // lines the booker scrolled the page by
	pageVersion int
	pageW       int
	kept        keptPage
	come        []string // what is still to be booked, as it was drawn last
	side        struct {
		keptPictures
		lines []string
	}
}

type draftOf struct {
	setup int
	slot  spec.Slot
}

// enter comes back from a detour: what was half keyed before it stands struck out
// and never joins with the next reading.
func (s *bookingScreen) enter(v *view) {
	s.sync(v)
	if v.asks && !s.entry.Empty() {
		s.left = s.entry.Text()
		s.clear(v)
	}
}

// clear empties the entry.
func (s *bookingScreen) clear(v *view) {
	s.entry.Clear()
	s.asking = nil
	s.judged = v.judge("")
}

// sync follows the pointing: an entry half keyed for another pointing is kept
// for it.
func (s *bookingScreen) sync(v *view) {
	s.pageVersion, s.off = 0, 0
	if !v.asks {
		s.asking = nil
		return
	}
	of := draftOf{v.setup.Number, v.slot}
	if of != s.of {
		if s.drafts == nil {
			s.drafts = map[draftOf]string{}
		}
		if !s.entry.Empty() {
			s.left = s.entry.Text()
		}
		if s.left != "" {
			s.drafts[s.of] = s.left
		}
		s.entry.Notation = notationOf(v.setup.Spec, v.slot)
		s.entry.Clear()
		s.left = s.drafts[of]
		delete(s.drafts, of)
		s.of, s.asking = of, nil
	}
	s.judged = v.judge(s.entry.Text())
}

// leftWords says what was left half keyed, struck out.
func (s *bookingScreen) leftWords() string {
	e := widget.Entry{Notation: s.entry.Notation}
	e.Set(s.left)
	return "~" + strings.TrimSpace(e.Formatted()) + "~ was left half keyed."
}

// notationOf is how readings of the slot are keyed.
func notationOf(spec spec.Spec, k spec.Slot) widget.Notation {
	if k.Quantity.Angular() {
		return widget.Notation{Unit: spec.Instrument.Unit, LeastCount: spec.Instrument.LeastCount}
	}
	return widget.Notation{Suffix: spec.LengthUnit.String()}
}

// booked empties the entry after its text went into the book.
func (s *bookingScreen) booked() {
	s.entry.Clear()
	s.asking, s.left = nil, ""
	delete(s.drafts, s.of)
}

// ask puts the question that a marked entry has to answer.
func (s *bookingScreen) ask(fs []event.Finding) { s.asking = fs }

func (s *bookingScreen) field(v *view) input.Field {
	if !v.asks {
		return input.Command
	}
	return input.Reading
}

// take gives digits to the entry; while the question stands, nothing but an answer is taken.
func (s *bookingScreen) take(v *view, p press) ([]ask, bool) {
	entered := v.asks && p.isChar() && s.entry.Takes(p.r)
	if s.asking != nil {
		switch as := act(s.actions(v), p); {
		case as != nil || p.is(keys.Enter): // a bouncing key must not confirm
			return as, true
		case entered:
			return asks(say{text: "Answer first: Y, it was read again and is this figure, or N.", bad: true}), true
		}
		s.asking = nil
	}
	switch {
	case entered && !s.entry.Insert(p.r):
		return asks(say{text: quote(string(p.r)) + " cannot stand there.", bad: true}), true
	case entered:
	case v.asks && p.is(keys.Back) && !s.leaves():
		s.entry.Backspace()
	default:
		return nil, false
	}
	s.judged = v.judge(s.entry.Text())
	return nil, true
}

// leaves tells whether the text that was left half keyed stands where the entry is empty.
func (s *bookingScreen) leaves() bool { return s.left != "" && s.entry.Empty() }

// actions are what the keys do, those that fit the moment first.
func (s *bookingScreen) actions(v *view) []action {
	if s.asking != nil {
		return s.answers(v)
	}
	again := !v.drill && v.beforeVerticals() != ""
	verdict := gives(keys.Enter, goTo{onVerdict}).named("the verdict")
	if v.asks {
		verdict = does(keys.Enter, func() []ask { return asks(bookText{text: s.entry.Text()}) })
	}
	person := "A asks the observer of a drill to read again. Here the observer is a person: ask."
	keypad := v.prefs
	keypad.Keypad = !keypad.Keypad
	return []action{
		does(keys.TakeLeft, func() []ask {
			s.entry.Set(s.left)
			s.left, s.judged = "", v.judge(s.entry.Text())
			return nil
		}).when(v.asks && s.leaves(), "Nothing was left half keyed."),
		does(keys.Back, func() []ask { s.left = ""; return nil }).named("drop it").when(v.asks && s.leaves(), ""),
		does(keys.Another, func() []ask { return anotherRound("a reading is suspect") }).when(again, ""),
		verdict,
		gives(keys.Home, choose{nil}).when(v.chosen, "This is the pointing that is called."),
		gives(keys.ReadAgain, readAgain{}).when(v.drill && v.asks, person),
		gives(keys.Strike, goTo{onStrike}),
		gives(keys.Verdict, goTo{onVerdict}),
		gives(keys.Page, goTo{onPage}),
		does(keys.Hidden, func() []ask { return asks(write{hiddenWriting(v)}) }).when(v.asks, "Nothing is called, so nothing is hidden."),
		gives(keys.Go, goTo{onPointings}),
		gives(keys.Compare, goTo{onCompare}),
		does(keys.Remark, func() []ask { return asks(write{remarkWriting(v)}) }),
		s.void(v),
		gives(keys.Work, goTo{onWork}),
		gives(keys.Options, goTo{onOptions}),
		gives(keys.Keypad, prefer{keypad}),
		turn(v),
		gives(keys.Amend, goTo{onAmend}).when(v.open, ""),
		gives(keys.Day, goTo{onDay}),
		gives(keys.Quit, leave{}),
		{key: keys.Up, do: func() []ask { s.off--; return nil }, unlisted: true},
		{key: keys.Down, do: func() []ask { s.off++; return nil }, unlisted: true},
	}
}

// answers are those to "Has the observer read it again?".
func (s *bookingScreen) answers(v *view) []action {
	other, has := v.exp.OtherFace()
	moved := s.asking[0].Code == check.Moved
	return []action{
		gives(keys.Yes, bookText{text: s.entry.Text(), confirmed: true}).named("yes, it is this figure"),
		does(keys.No, func() []ask {
			s.clear(v)
			return asks(readAgain{})
		}).named("no, key it anew"),
		does(keys.OtherFace, func() []ask {
			return asks(bookText{text: s.entry.Text(), confirmed: true}, write{otherFaceWriting(other, readingText(v.setup.Spec, other))})
		}).named("other face: yes, and call that one").when(has && !moved, ""),
		s.void(v).when(moved && v.canVoid(), ""),
	}
}

func (s *bookingScreen) void(v *view) action {
	return does(keys.Void, func() []ask {
		s.asking = nil
		return asks(write{voidWriting(v.voidFrom())})
	}).when(v.canVoid(), "No round is begun that could be void.")
}

// turn is the switch of the last column of a narrow page.
func turn(v *view) action {
	return gives(keys.Column, turnColumn{}).when(turnsColumn(v), "The page has room for both figures: there is nothing to switch.")
}

// voidFrom is the pointing at which a round is said void: the one that is called
// where it is in a round, else the last one booked in a round.
func (w *work) voidFrom() spec.Slot {
	if w.slot.Quantity.OfRound() {
		if _, begun := w.setup.Round(w.slot.Round); begun {
			return w.slot
		}
	}
	for i := len(w.setup.Readings) - 1; i >= 0; i-- {
		if k := w.setup.Readings[i].Slot; k.Quantity.OfRound() && w.setup.Readings[i].Stands() {
			return k
		}
	}
	return spec.Slot{}
}

// canVoid tells whether there is a round to be said void.
func (w *work) canVoid() bool {
	if !w.open || w.readOnly {
		return false
	}
	_, err := w.setup.VoidRound(w.voidFrom(), "x")
	return err == nil
}
