package tui

import (
	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
)

// the strikeScreen chooses the reading to strike: the last one stands first and
// Enter takes it, any other by its number or the arrows.
type strikeScreen struct {
	list
	seqs []uint64
}

func (s *strikeScreen) enter(v *view) {
	s.list = list{columns: []column{{title: "no.", right: true}, {title: "reading", right: true}, {title: "pointing"}, {title: "booked", drop: 1}}, brief: 2, pick: s.chose}
	s.seqs = s.seqs[:0]
	rs := v.setup.Readings
	for i := len(rs) - 1; i >= 0; i-- {
		if !rs[i].Stands() {
			continue
		}
		mark := ""
		if rs[i].LeftOut != nil {
			mark = "–"
		}
		s.seqs = append(s.seqs, rs[i].Seq)
		s.list.rows = append(s.list.rows, row{mark, []string{itoa(len(s.seqs)), readingText(v.setup.Spec, rs[i]), slotWords(rs[i].Slot), rs[i].At.Format("15:04:05")}, slotBrief(rs[i].Slot)})
	}
}

func (s *strikeScreen) actions(v *view) []action {
	any, word := len(s.seqs) > 0, "strike this one"
	if !any {
		word = "strike the whole setup"
	}
	home := gives(keys.Home, goTo{v.place()})
	as := []action{s.picks(v, word), does(keys.OutOfMeans, func() []ask { return s.leaveOut(v) }).when(any, ""), home}
	if any {
		as = append(as, moves(keys.Up, keys.Down)...)
	}
	return append(as, too(home.do, keys.Strike)...)
}

func (s *strikeScreen) chose(v *view) []ask {
	if len(s.seqs) == 0 && v.setup.Lift == nil {
		return asks(write{strikeSetupWriting(v.setup.Spec.Station)})
	}
	if s.list.chosen >= len(s.seqs) {
		return asks(goTo{onBooking})
	}
	r, ok := v.setup.Reading(s.seqs[s.list.chosen])
	if !ok {
		return nil
	}
	ws := strikeWriting(r, readingText(v.setup.Spec, r))
	if v.setup.Lift != nil {
		ws.about = "The figure stays legible on the page, with the reason beside it. G reads the pointing again."
	}
	if pair, ok := v.setup.At(r.Slot.Pair()); ok && r.Slot.Quantity.Angular() {
		ws.other = []option{{"The pair: " + slotWords(pair.Slot) + " as well", func(reason string) []ask {
			return append(because(onBooking, booking.Setup.Strike, r.Seq)(reason), because(onBooking, booking.Setup.Strike, pair.Seq)(reason)...)
		}}}
	}
	return asks(write{ws})
}

// leaveOut leaves the chosen reading out of the means, or takes it back.
func (s *strikeScreen) leaveOut(v *view) []ask {
	if s.list.chosen >= len(s.seqs) {
		return nil
	}
	r, _ := v.setup.Reading(s.seqs[s.list.chosen])
	return asks(write{meansWriting(v.setup, r, readingText(v.setup.Spec, r))})
}

func (s *strikeScreen) draw(v *view, w, h int) block {
	note := "its number, or the arrows"
	if len(s.seqs) == 0 {
		note = ""
	}
	b := titled(v, "Strike a reading", note, w)
	if len(s.seqs) == 0 {
		b.words(&v.frame, look.Ink, "No reading of this setup stands. Was it opened by mistake? Enter strikes it whole: it keeps its number.", w)
		return b
	}
	then := "its pointing is called again"
	if v.setup.Lift != nil {
		then = "G reads its pointing again"
	}
	b.words(&v.frame, look.Quiet, "It stays legible on the page, and "+then+".", w)
	b.add("")
	b.put(s.list.draw(&v.frame, w, h-len(b.lines)))
	return b
}

// standing finds the reading of a slot for a list.
func standing(s booking.Setup, k spec.Slot) string {
	if r, ok := s.At(k); ok {
		return readingText(s.Spec, r)
	}
	return ""
}
