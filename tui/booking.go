package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
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
	asking []booking.Finding // the entry is marked and Enter was pressed: has it been read again?

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
	slot  booking.Slot
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
func notationOf(spec booking.Spec, k booking.Slot) widget.Notation {
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
func (s *bookingScreen) ask(fs []booking.Finding) { s.asking = fs }

func (s *bookingScreen) field(v *view) input.Field {
	if !v.asks {
		return input.Command
	}
	return input.Reading
}

func (s *bookingScreen) press(v *view, p press) []ask {
	if s.asking != nil {
		return s.answer(v, p)
	}
	switch {
	case !v.asks && p.is(keys.Enter):
		return asks(goTo{onVerdict})
	case !v.asks:
		return s.command(v, p)
	case s.left != "" && s.entry.Empty() && p.is(keys.TakeLeft):
		s.entry.Set(s.left)
		s.left = ""
	case s.left != "" && s.entry.Empty() && p.is(keys.Back):
		s.left = ""
	case p.is(keys.Enter):
		return asks(bookText{text: s.entry.Text()})
	case p.is(keys.Back):
		s.entry.Backspace()
	case p.isChar() && s.entry.Takes(p.r):
		if !s.entry.Insert(p.r) {
			return asks(say{text: quote(string(p.r)) + " cannot stand there.", bad: true})
		}
	default:
		return s.command(v, p)
	}
	s.judged = v.judge(s.entry.Text())
	return nil
}

// answer takes the answer to "Has the observer read it again?". Enter is none:
// a bouncing key must not confirm.
func (s *bookingScreen) answer(v *view, p press) []ask {
	switch {
	case p.is(keys.Yes):
		return asks(bookText{text: s.entry.Text(), confirmed: true})
	case p.is(keys.OtherFace):
		if other, ok := v.exp.OtherFace(); ok {
			return asks(bookText{text: s.entry.Text(), confirmed: true}, write{otherFaceWriting(other, readingText(v.setup.Spec, other))})
		}
	case p.is(keys.No):
		s.asking = nil
		s.entry.Clear()
		s.judged = v.judge("")
		return asks(readAgain{})
	case p.is(keys.Enter):
		return nil
	case p.is(keys.Back):
		s.asking = nil
		return s.press(v, p)
	case p.isChar() && s.entry.Takes(p.r):
		return asks(say{text: "Answer first: Y, it was read again and is this figure, or N.", bad: true})
	}
	s.asking = nil
	return s.command(v, p)
}

// command takes the single letters.
func (s *bookingScreen) command(v *view, p press) []ask {
	switch {
	case p.is(keys.Strike):
		return asks(goTo{onStrike})
	case p.is(keys.Amend) && v.open:
		return asks(goTo{onAmend})
	case p.is(keys.Hidden) && v.asks:
		return asks(write{hiddenWriting(v)})
	case p.is(keys.Void) && v.canVoid():
		return asks(write{voidWriting(v.voidFrom())})
	case p.is(keys.Remark):
		return asks(write{remarkWriting(v)})
	case p.is(keys.Page):
		return asks(goTo{onPage})
	case p.is(keys.Go):
		return asks(goTo{onPointings})
	case p.is(keys.Compare):
		return asks(goTo{onCompare})
	case p.is(keys.Verdict):
		return asks(goTo{onVerdict})
	case p.is(keys.Day):
		return asks(goTo{onDay})
	case p.is(keys.Work):
		return asks(goTo{onWork})
	case p.is(keys.Options):
		return asks(goTo{onOptions})
	case p.is(keys.Keypad):
		q := v.prefs
		q.Keypad = !q.Keypad
		return asks(prefer{q})
	case p.is(keys.Up):
		s.off--
	case p.is(keys.Down):
		s.off++
	case p.is(keys.Column) && turnsColumn(v):
		return asks(turnColumn{})
	case p.is(keys.Another) && !v.drill && v.beforeVerticals() != "":
		return anotherRound("a reading is suspect")
	case p.is(keys.ReadAgain) && v.drill:
		return asks(readAgain{})
	case p.is(keys.Home) && v.chosen:
		return asks(choose{nil})
	case p.is(keys.Quit):
		return asks(leave{})
	}
	return nil
}

// keys are the bindings of the bar.
func (s *bookingScreen) keys(v *view) []key.Binding {
	if s.asking != nil {
		ks := []key.Binding{withHelp(keys.Yes, "yes, it is this figure"), withHelp(keys.No, "no, key it anew")}
		if _, ok := v.exp.OtherFace(); ok && s.asking[0].Code != check.Moved {
			ks = append(ks, withHelp(keys.OtherFace, "other face: yes, and call that one"))
		}
		if s.asking[0].Code == check.Moved && v.canVoid() {
			ks = append(ks, keys.Void)
		}
		return ks
	}
	ks := make([]key.Binding, 0, 20)
	if s.left != "" && s.entry.Empty() {
		ks = append(ks, keys.TakeLeft, withHelp(keys.Back, "drop it"))
	}
	if !v.drill && v.beforeVerticals() != "" {
		ks = append(ks, keys.Another)
	}
	if v.asks {
		ks = append(ks, keys.Enter)
	} else {
		ks = append(ks, withHelp(keys.Enter, "the verdict"))
	}
	if v.chosen {
		ks = append(ks, keys.Home)
	}
	if v.drill && v.asks {
		ks = append(ks, keys.ReadAgain)
	}
	ks = append(ks, keys.Strike, keys.Verdict, keys.Page)
	if v.asks {
		ks = append(ks, keys.Hidden)
	}
	ks = append(ks, keys.Go, keys.Compare, keys.Remark)
	if v.canVoid() {
		ks = append(ks, keys.Void)
	}
	ks = append(ks, keys.Work, keys.Options, keys.Keypad)
	if turnsColumn(v) {
		ks = append(ks, keys.Column)
	}
	if v.open {
		ks = append(ks, keys.Amend)
	}
	return append(ks, keys.Day, keys.Quit)
}

// voidFrom is the pointing at which a round is said void: the one that is called
// where it is in a round, else the last one booked in a round.
func (w *work) voidFrom() booking.Slot {
	if w.slot.Quantity == booking.Horizontal {
		if _, begun := w.setup.Round(w.slot.Round); begun {
			return w.slot
		}
	}
	for i := len(w.setup.Readings) - 1; i >= 0; i-- {
		if k := w.setup.Readings[i].Slot; k.Quantity == booking.Horizontal && w.setup.Readings[i].Stands() {
			return k
		}
	}
	return booking.Slot{}
}

// canVoid tells whether there is a round to be said void.
func (w *work) canVoid() bool {
	if !w.open || w.readOnly {
		return false
	}
	_, err := w.setup.VoidRound(w.voidFrom(), "x")
	return err == nil
}
