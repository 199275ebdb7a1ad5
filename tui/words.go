package tui

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
	"example.org/readback/tui/look"
)

// sentence makes an error a whole sentence for the booker.
func sentence(err error) string {
	if err == nil {
		return ""
	}
	var p *reduce.ParseError
	var refused *booking.Refused
	t := err.Error()
	switch {
	case errors.As(err, &p):
		t = p.What
	case errors.As(err, &refused):
		t = refused.Text
	}
	return capital(t) + stop(t)
}

// capital begins a sentence.
func capital(s string) string {
	rs := []rune(s)
	if len(rs) > 0 && rs[0] != 'σ' { // a sign, no letter of a word
		rs[0] = unicode.ToUpper(rs[0])
	}
	return string(rs)
}

// stop is the full stop a sentence still lacks.
func stop(s string) string {
	if s == "" || strings.ContainsRune(".?!", rune(s[len(s)-1])) {
		return ""
	}
	return "."
}

// quote shows keyed text as it was; of one that is longer than any reading or name its
// beginning, and how much more it is.
func quote(s string) string {
	rs := []rune(look.Clean(s))
	if len(rs) <= mostText {
		return "“" + string(rs) + "”"
	}
	return "“" + string(rs[:mostText/2]) + "” and " + itoa(len(rs)-mostText/2) + " more characters"
}

// count says a number of things.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// angle prints a circle reading or a direction of a setup in its unit.
func angle(s spec.Spec, a reduce.Angle) string {
	return reduce.DirectionAt(a).Format(s.Instrument.Unit, s.Instrument.Places())
}

// widest is a direction that takes the most cells.
func widest() reduce.Direction {
	return reduce.DirectionAt(359*reduce.Degree + 55*reduce.Arcminute + 55*reduce.Arcsecond)
}

// fine prints a worked direction with one decimal more than a reading has.
func fine(s spec.Spec, d reduce.Direction) string {
	return d.Format(s.Instrument.Unit, s.Instrument.Places()+1)
}

// told prints a small difference with its sign and its unit: seconds, or the
// small unit of a decimal circle.
func told(s spec.Spec, a reduce.Angle) string {
	if a == 0 {
		return size(s, a)
	}
	return a.FormatSmall(s.Instrument.Unit)
}

// signed is told for a column, whose head says a unit that is a word.
func signed(s spec.Spec, a reduce.Angle) string {
	return reduce.WithoutWord(told(s, a), s.Instrument.Unit)
}

// size prints a difference without its sign, with its unit.
func size(s spec.Spec, a reduce.Angle) string { return a.FormatSize(s.Instrument.Unit) }

// smallHead is the head of a column of small differences.
func smallHead(s spec.Spec, what string) string {
	return strings.TrimSpace(what + " " + reduce.SmallWord(s.Instrument.Unit))
}

// lengthText prints a length in the unit of the setup.
func lengthText(s spec.Spec, l lengths.Length) string {
	return l.Format(s.LengthUnit, 3) + " " + s.LengthUnit.String()
}

// readingText prints what a reading says.
func readingText(s spec.Spec, r booking.Reading) string {
	if r.Slot.Quantity.Angular() {
		return angle(s, r.Angle())
	}
	return lengthText(s, r.Length())
}

// slotShort names a pointing that was just booked: "Alder FR".
func slotShort(k spec.Slot) string {
	switch k.Quantity {
	case spec.Horizontal:
		if k.Closing {
			return k.Target + " " + k.Face.String() + " closing"
		}
		return k.Target + " " + k.Face.String()
	case spec.Accumulated:
		return k.Target + " " + k.Face.String() + " after the repetitions"
	case spec.Vertical:
		return k.Target + " " + k.Face.String() + " vertical"
	}
	return slotWords(k)
}

// slotBrief is slotWords for a narrow place: "Alder FR, round 2".
func slotBrief(k spec.Slot) string {
	switch n := k.Repeat; {
	case n > 0:
		k.Repeat = 0
		return fmt.Sprintf("%s, again %d", slotBrief(k), n)
	case k.Quantity.OfRound() && k.Round > 0:
		return fmt.Sprintf("%s, round %d", slotShort(k), k.Round)
	case k.Quantity == spec.InstrumentHeight && k.Closing:
		return "instrument height again"
	}
	return slotShort(k)
}

// slotWords names a pointing: "Alder, face right, round 2".
func slotWords(k spec.Slot) string {
	if n := k.Repeat; n > 0 {
		k.Repeat = 0
		return fmt.Sprintf("%s, again %d", slotWords(k), n)
	}
	var ws []string
	switch k.Quantity {
	case spec.InstrumentHeight:
		if k.Closing {
			return "instrument height, measured again"
		}
		return "instrument height"
	case spec.Slope, spec.TargetHeight:
		return k.Target + ", " + slotQuantity(k)
	case spec.Vertical:
		return k.Target + ", " + k.Face.Words() + ", vertical circle"
	}
	ws = append(ws, k.Target)
	if k.Closing {
		ws = append(ws, "closing")
	}
	if k.Quantity == spec.Accumulated {
		ws = append(ws, "after the repetitions")
	}
	ws = append(ws, k.Face.Words())
	if k.Round > 0 {
		ws = append(ws, fmt.Sprintf("round %d", k.Round))
	}
	return strings.Join(ws, ", ")
}

func slotQuantity(k spec.Slot) string {
	if k.Quantity == spec.Slope {
		return "slope distance"
	}
	return k.Quantity.String()
}

// said says what an event was, once it is in the book.
func said(e event.Event, order spec.Order) string {
	text, _ := eventWords(e, order)
	return text
}

// eventWords are what is said of an event once it is in the book, and its name on the
// screen of a failed write.
func eventWords(e event.Event, order spec.Order) (said, name string) {
	switch e := e.(type) {
	case event.ReadingBooked:
		return "", "the reading of " + slotWords(e.Slot) + ", keyed " + e.Text
	case event.SetupOpened:
		return "", "the opening of the setup on " + e.Spec.Station
	case event.ReadingStruck:
		return "Struck. The figure stays legible on the page.", "a strike"
	case event.ReadingLeftOut:
		return "The reading is left out. The reason stands beside it.", "a reading left out"
	case event.ReadingTakenBack:
		return "The reading counts again.", "a reading taken back"
	case event.SetupAmended:
		return "The setup is amended. What it was stays in the book.", "the amending of the setup"
	case event.SetupStruck:
		return "The setup is struck. Its number stays in the book.", "the striking of the setup"
	case event.PointingSkipped:
		name := slotWords(e.Slot)
		if e.Blocked {
			return capital(name) + " is blocked: it is not called again in this " + order.Stretch() + ".", "passing over " + name
		}
		return capital(name) + " is hidden for now: it is called again at the end of the " + order.Stretch() + ".", "passing over " + name
	case event.RoundVoided:
		return fmt.Sprintf("Round %d is void and struck. A new round begins at the same circle setting.", e.Round), fmt.Sprintf("round %d void", e.Round)
	case event.RoundLeftOut:
		return fmt.Sprintf("Round %d is left out. The reason stands beside it.", e.Round), fmt.Sprintf("round %d left out", e.Round)
	case event.RoundTakenBack:
		return fmt.Sprintf("Round %d counts again.", e.Round), fmt.Sprintf("round %d taken back", e.Round)
	case event.RoundAdded:
		return "Another round is called.", "another round asked for"
	case event.HalfAsked:
		return capital(e.Face.Words()) + fmt.Sprintf(" of round %d is called again. The first stays; leave the circle as it is.", e.Round), "a half asked for again"
	case event.RemarkMade:
		return "The remark is written.", "the remark " + quote(e.Text)
	case event.InstrumentChecked:
		return "The check is written down. It stands with the instrument's health.", "the check of the instrument"
	case event.WeatherNoted:
		return "The weather is written down.", "the weather"
	case event.HandedOver:
		return "The note is written. Whoever opens the book next sees it above the work list.", "the note to the next crew"
	case event.FileNamed:
		return e.Name + " is named, with its hash.", "the file " + e.Name
	case event.PackedUp:
		return "The pack-up is written down.", "the list of the pack-up"
	case event.BookDescribed:
		return "Written down. Sheets and files carry it from now on.", "job, client and place"
	case event.FiguresSet:
		return "Written down. Figures are worked with it from now on.", "settings"
	case event.CentreNoted:
		return "Written down. Figures are reduced to the mark from now on.", "what stood beside its mark"
	case event.LevelsLoaded:
		return "Written down. The heights of figures are worked with it.", "levelled differences"
	case event.Lifted:
		return "The tripod is lifted.", "the lifting of the tripod"
	case event.CopySet:
		if e.Dir == "" {
			return "No second journal is kept.", "the place of the second journal"
		}
		return "A second journal is kept in " + e.Dir + ".", "the place of the second journal"
	}
	return "", "an event of the book"
}

// saidOf says what was booked and what it showed at once: the 2c of a pair, the
// misclosure of a half, the index error. bad tells that a limit is passed.
func saidOf(w *work, e event.ReadingBooked) (text string, bad bool) {
	r := booking.Reading{Slot: e.Slot, Value: e.Value}
	text = "Booked: " + slotShort(e.Slot) + " " + readingText(w.setup.Spec, r) + "."
	extra, bad := "", false
	switch e.Slot.Quantity {
	case spec.Horizontal, spec.Accumulated:
		extra, bad = w.shown(e.Slot)
	case spec.Vertical:
		for _, v := range w.red.Verticals {
			if v.Target == e.Slot.Target && v.HasPair {
				extra = " Altitude " + v.Altitude.Format(w.setup.Spec.Instrument.Unit, w.setup.Spec.Instrument.Places()+1) + ", index error " + told(w.setup.Spec, v.Index) + "."
			}
		}
		if s := w.red.Index; s != nil && s.Width() > w.red.Comparison.Limits.Index.Value && extra != "" {
			width, most := s.Width().SizeAgainst(w.red.Comparison.Limits.Index.Value, w.setup.Spec.Instrument.Unit)
			extra += fmt.Sprintf(" The index error spreads %s, limit %s.", width, most)
			bad = true
		}
	}
	return text + extra, bad
}

// shown says what a horizontal reading made known: 2c of its pair, misclosure of
// its half.
func (w *work) shown(k spec.Slot) (text string, bad bool) {
	limits := w.red.Comparison.Limits
	for _, r := range w.red.Rounds {
		if r.Number != k.Round {
			continue
		}
		for _, p := range r.Pairs {
			if p.Target == k.Target && p.Closing == k.Closing && p.HasPair {
				text += " 2c " + told(w.setup.Spec, p.TwoC) + "."
			}
		}
		for _, x := range r.Repeated {
			if k.Quantity == spec.Accumulated && x.Face == k.Face {
				off, most := x.Off().FormatAgainst(limits.ROMisclosure.Value, w.setup.Spec.Instrument.Unit)
				if x.Off() == 0 {
					off = told(w.setup.Spec, 0)
				}
				text += fmt.Sprintf(" The mean of %d differs by %s from the single angle, limit %s.", w.setup.Spec.Repetitions, off, most)
				bad = bad || x.Off().Abs() > limits.ROMisclosure.Value
			}
		}
		for _, x := range r.Closings {
			if x.Target != k.Target || x.Face != k.Face || !w.setup.Spec.Closes(k) {
				continue
			}
			m, on := x.Misclosure, ""
			miss, most := m.FormatAgainst(limits.ROMisclosure.Value, w.setup.Spec.Instrument.Unit)
			if m == 0 {
				miss = told(w.setup.Spec, 0)
			}
			if k.Target != w.setup.Spec.RO {
				on = " on " + k.Target
			}
			text += fmt.Sprintf(" The %s closes%s with %s, limit %s.", w.setup.Spec.Order.Stretch(), on, miss, most)
			bad = bad || m.Abs() > limits.ROMisclosure.Value
		}
	}
	for _, r := range w.red.Comparison.Rounds {
		if r.Number == k.Round && r.Complete && compared(w.red.Comparison) {
			text += " " + compareSentence(w.setup.Spec, w.red.Comparison)
			bad = bad || !w.red.Comparison.Agrees
		}
	}
	if c, _ := check.TwoC(w.setup, w.red); c.Name != "" && !c.Met && text != "" {
		text, bad = text+" "+c.Text, true
	}
	return text, bad
}

// itoa is short for the numbers on the screen.
func itoa(n int) string { return strconv.Itoa(n) }
