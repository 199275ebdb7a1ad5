package sheet

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
)

// roundSections is one section for every round begun, as it was booked.
func (w *writer) roundSections() []section {
	var secs []section
	for _, r := range w.red.Rounds {
		secs = append(secs, w.roundSection(r))
	}
	return secs
}

func (w *writer) roundSection(r booking.RoundWork) section {
	sec := section{Title: fmt.Sprintf("Round %d", r.Number), Whole: len(r.Pairs) < 14}
	sec.Lead = append(sec.Lead, w.roundLead(r))
	t := &table{Head: []string{"Sighted", "Face left", "Face right", "2c", "Mean", "From the RO"}}
	for _, p := range r.Pairs {
		slot := booking.Slot{Quantity: booking.Horizontal, Round: r.Number, Face: booking.FL, Target: p.Target, Closing: p.Closing}
		name := visible(p.Target)
		if p.Closing {
			name += " (closing)"
		}
		cs := []cell{plain(name), w.slotCell(slot, r.Void, &sec.Notes), w.slotCell(slot.Pair(), r.Void, &sec.Notes)}
		t.Rows = append(t.Rows, row{Cells: append(cs, w.pairCells(p)...)})
	}
	if r.ClosingFL != nil || r.ClosingFR != nil {
		foot := cells("Closing − opening", "", "", "", "", "")
		if r.ClosingFL != nil {
			foot[1] = plain(w.small(*r.ClosingFL))
		}
		if r.ClosingFR != nil {
			foot[2] = plain(w.small(*r.ClosingFR))
		}
		if r.HasRO {
			foot[4] = plain(w.direction(r.RO))
		}
		t.Rows = append(t.Rows, row{Cells: foot, Foot: true})
	}
	sec.Table = t
	sec.After = roundFate(r)
	return sec
}

// roundLead says at which setting and when the halves were observed.
func (w *writer) roundLead(r booking.RoundWork) string {
	parts := []string{fmt.Sprintf("Circle setting %d", r.Setting)}
	for _, face := range []booking.Face{booking.FL, booking.FR} {
		from, to, ok := w.span(func(x booking.Reading) bool {
			return x.Slot.Quantity == booking.Horizontal && x.Slot.Round == r.Number && x.Slot.Face == face
		})
		if ok {
			parts = append(parts, fmt.Sprintf("%s %s to %s", face.Words(), w.clock(from), w.clock(to)))
		}
	}
	return strings.Join(parts, "; ") + "."
}

// pairCells are 2c, mean and reduced direction of a pair.
func (w *writer) pairCells(p booking.PairWork) []cell {
	twoC, mean, direction := "", "", ""
	if p.HasPair {
		twoC, mean = w.small(p.TwoC), w.direction(p.Mean)
	}
	if p.HasDirection && !p.Closing {
		direction = w.direction(p.Direction)
	}
	return cells(twoC, mean, direction)
}

// roundFate says why a round does not count.
func roundFate(r booking.RoundWork) []string {
	var ss []string
	if v := r.Void; v != nil {
		ss = append(ss, sentence(fmt.Sprintf("Round void, every reading of it struck, said at %s by %s: %s", visible(v.From.String()), visible(v.By), visible(v.Reason))))
	}
	if o := r.LeftOut; o != nil {
		ss = append(ss, sentence(fmt.Sprintf("Round left out of the means%s by %s: %s", lateWords(o.AfterLift), visible(o.By), visible(o.Reason))))
	}
	return ss
}

// slotCell writes every reading of a slot, struck ones first, or why there is
// none. void is said when the round of the slot is void.
func (w *writer) slotCell(slot booking.Slot, void *booking.RoundVoided, notes *[]note) cell {
	var c cell
	for _, r := range w.setup.Readings {
		first := r.Slot
		first.Repeat = 0
		if first != slot {
			continue
		}
		ln := line{Text: w.reading(r), Struck: !r.Stands()}
		if texts := w.readingNotes(r, void); len(texts) > 0 {
			ln.Mark = w.note(notes, strings.Join(texts, " "))
		}
		c = append(c, ln)
	}
	for _, k := range w.setup.Skips {
		if _, booked := w.setup.At(slot); k.Slot != slot || booked {
			continue
		}
		word := "passed over"
		if k.Blocked {
			word = "blocked"
		}
		c = append(c, line{Text: word, Mark: w.note(notes, sentence(fmt.Sprintf("%s: %s, said by %s", slotName(slot), visible(k.Reason), visible(k.By))))})
	}
	return c
}

// readingNotes tells all that is written beside a reading.
func (w *writer) readingNotes(r booking.Reading, void *booking.RoundVoided) []string {
	var ss []string
	if k := r.Struck; k != nil && (void == nil || k.Reason != void.Reason) {
		ss = append(ss, sentence(fmt.Sprintf("Struck %s%s by %s: %s", w.clock(k.At), lateWords(k.AfterLift), visible(k.By), visible(k.Reason))))
	}
	if k := r.LeftOut; k != nil {
		ss = append(ss, sentence(fmt.Sprintf("Left out of the means %s%s by %s: %s", w.clock(k.At), lateWords(k.AfterLift), visible(k.By), visible(k.Reason))))
	}
	if r.Slot.Repeat > 0 {
		ss = append(ss, fmt.Sprintf("Measured again as a check, repeat %d.", r.Slot.Repeat))
	}
	if r.AfterLift {
		ss = append(ss, "Read again after the lift.")
	}
	for _, f := range r.Findings {
		if f.Severity == booking.Warn || f.Severity == booking.Stop {
			ss = append(ss, sentence("Said at entry: "+visible(f.Text)))
		}
	}
	if r.Confirmed {
		ss = append(ss, sentence(fmt.Sprintf("Booked although marked: read again, confirmed by %s", visible(r.By))))
	}
	for _, m := range w.setup.Remarks {
		if m.On == r.Seq {
			ss = append(ss, sentence(fmt.Sprintf("Remark by %s: %s", visible(m.By), visible(m.Text))))
		}
	}
	if len(ss) == 0 {
		return nil
	}
	first := fmt.Sprintf("%s, reading %d", slotName(r.Slot), r.Seq)
	if t, ok := w.readTime(r); ok {
		first += " of " + w.clock(t)
	}
	return append([]string{fmt.Sprintf("%s, keyed “%s”.", first, visible(r.Text))}, ss...)
}

// slotName names a slot within its own table, without round and quantity.
func slotName(s booking.Slot) string {
	name := visible(s.Target)
	if s.Closing {
		name += " (closing)"
	}
	return strings.TrimSpace(s.Face.String() + " " + name)
}
