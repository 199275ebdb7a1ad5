package tui

import (
	"fmt"
	"strings"

	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/tui/look"
)

// doing says what the observer does for the pointing, one whole sentence each:
// what comes before the sight, and the sight.
func (w *work) doing() (before, sight string) {
	k, p := w.slot, w.prompt
	if w.chosen {
		p = programme.Prompt{Slot: k}
	}
	switch {
	case p.SetCircle:
		before = fmt.Sprintf("Set the circle between %s and %s.", w.whole(p.From), w.whole(p.To))
	case p.Transit && w.setsBack(k):
		first, _ := w.setup.At(k.Pair())
		before = fmt.Sprintf("Still on face left, set the circle to %s on %s.", readingText(w.setup.Spec, first)+w.setup.Spec.Instrument.Unit.Mark(), k.Target)
	case p.Transit:
		before = "Transit the telescope."
	case w.chosen && w.setup.Lift != nil:
		before = "Read again after the lift: B goes back to the page."
	case w.chosen && w.prompt.Phase == programme.AtVerdict:
		before = "Chosen by you: B goes back."
	case w.chosen:
		before = "Chosen by you: B goes back to the one that is called."
	case p.Returning:
		before = "It was hidden before."
	case p.Again:
		before = "Its figure is struck."
	}
	return before, w.sight(p)
}

// sight says what is sighted or measured.
func (w *work) sight(p programme.Prompt) string {
	k := w.slot
	switch k.Quantity {
	case spec.Vertical:
		return fmt.Sprintf("Read the vertical circle on %s.", k.Target)
	case spec.Slope:
		return fmt.Sprintf("Measure the slope distance to %s.", k.Target)
	case spec.TargetHeight:
		return fmt.Sprintf("Ask for the height of the target at %s.", k.Target)
	case spec.InstrumentHeight:
		if k.Closing {
			return "Measure the height of the instrument again."
		}
		return "Measure the height of the instrument."
	}
	if w.setup.Spec.Order == spec.ByRepetition {
		if text := w.repetition(k); text != "" {
			return text
		}
	}
	byTarget := w.setup.Spec.Order == spec.ByTarget
	switch closes := w.setup.Spec.Closes(k); {
	case closes && k.Target != w.setup.Spec.RO:
		return fmt.Sprintf("Sight %s again: it checks the %s.", k.Target, w.setup.Spec.Order.Stretch())
	case closes && byTarget:
		return fmt.Sprintf("Sight %s again: it closes the round on %s.", k.Target, k.Face.Words())
	case closes:
		return fmt.Sprintf("Sight %s again: it closes the half.", k.Target)
	case p.Returning:
		return fmt.Sprintf("Sight %s, if it is seen now.", k.Target)
	case p.Again:
		return fmt.Sprintf("Sight %s and read it again.", k.Target)
	case k.Face == faces.FL && k.Target == w.setup.Spec.RO:
		return fmt.Sprintf("Sight %s, the RO.", k.Target)
	case p.Transit && (k.Face == faces.FR || !byTarget):
		return fmt.Sprintf("Sight %s.", k.Target)
	case k.Face == faces.FL:
		return fmt.Sprintf("Turn clockwise → and sight %s.", k.Target)
	}
	return fmt.Sprintf("Turn anticlockwise ← and sight %s.", k.Target)
}

// repetition says what is done where an angle is repeated and not sighted as by halves.
func (w *work) repetition(k spec.Slot) string {
	switch n := w.setup.Spec.Repetitions; {
	case k.Quantity == spec.Accumulated:
		return fmt.Sprintf("Carry the circle back to %s and turn to %s, until the angle is turned %d times. Read the circle.", w.setup.Spec.RO, k.Target, n)
	case w.carried(k):
		return fmt.Sprintf("The circle was carried on since %s was sighted: V, void the round.", k.Target)
	case k.Target != w.setup.Spec.RO:
		return fmt.Sprintf("Turn clockwise → and sight %s: the single angle.", k.Target)
	case w.setsBack(k):
		return fmt.Sprintf("Then transit, and sight %s.", k.Target)
	}
	return ""
}

// carried tells whether the angle was repeated already on the face of a sight that is
// called again: what the circle read then cannot be read any more.
func (w *work) carried(k spec.Slot) bool {
	for _, t := range w.setup.Spec.Targets {
		if _, ok := w.setup.At(spec.Slot{Quantity: spec.Accumulated, Round: k.Round, Face: k.Face, Target: t}); ok && k.Repeat == 0 {
			return true
		}
	}
	return false
}

// setsBack tells whether face right of a repeated angle begins with the sight: the
// circle, carried on by face left, is brought back to the figure it began with.
func (w *work) setsBack(k spec.Slot) bool {
	_, begun := w.setup.At(k.Pair())
	return w.setup.Spec.Order == spec.ByRepetition && k.Quantity == spec.Horizontal && k.Target == w.setup.Spec.RO && k.Face == faces.FR && begun
}

// whole prints a circle setting: in whole degrees, gon or mils where it is one.
func (w *work) whole(a reduce.Angle) string {
	a = a.Normalize()
	if u := w.setup.Spec.Instrument.Unit; u.Decimal() {
		if a%u.Whole() == 0 {
			return a.Format(u, 0) + u.Mark()
		}
		return a.Format(u, 2) + u.Mark()
	}
	if a%reduce.Degree == 0 {
		return fmt.Sprintf("%d°", a/reduce.Degree)
	}
	return fmt.Sprintf("%d°%02d′", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute)
}

// stage says where in the programme the setup stands, in the words of the bar.
func (w *work) stage(cols int) []string {
	switch {
	case !w.open:
		return nil
	case w.setup.Lift != nil:
		return []string{"the tripod is lifted"}
	case !w.asks:
		return []string{"everything called is booked"}
	}
	switch w.slot.Quantity {
	case spec.Vertical:
		return append([]string{"vertical circle"}, w.dots(cols, w.setup.Spec.VerticalSlots)...)
	case spec.Slope, spec.TargetHeight:
		return []string{"distances", w.progress()}
	case spec.InstrumentHeight:
		return []string{"instrument height"}
	}
	of := ""
	if planned := max(w.setup.Spec.Rounds, spec.LeastRounds); w.slot.Round <= planned {
		of = fmt.Sprintf(" of %d", planned)
	}
	return append([]string{fmt.Sprintf("round %d%s", w.slot.Round, of)}, w.dots(cols, func(f faces.Face) []spec.Slot { return w.setup.Spec.HalfSlots(w.slot.Round, f) })...)
}

// dots shows the pointings of both halves, booked, called and still open; a half
// too long for it is counted.
func (w *work) dots(cols int, half func(faces.Face) []spec.Slot) []string {
	text := ""
	for _, f := range []faces.Face{faces.FL, faces.FR} {
		text += f.String() + " " + w.marks(half(f)) + "  "
	}
	text = strings.TrimSpace(text)
	if cols < 80 || look.Width(text) > cols/3 {
		return []string{w.slot.Face.String() + " " + w.progress()}
	}
	return []string{text}
}

// marks are pointings by a sign each: booked, called, still open.
func (w *work) marks(slots []spec.Slot) (text string) {
	for _, k := range slots {
		_, done := w.setup.At(k)
		switch {
		case w.asks && k == w.slot:
			text += "◆"
		case done:
			text += "●"
		default:
			text += "○"
		}
	}
	return text
}

// progress counts the pointings of the present half or round: "3 of 8".
func (w *work) progress() string {
	slots := w.halfSlots()
	done := 0
	for i, k := range slots {
		if k == w.slot {
			return fmt.Sprintf("%d of %d", i+1, len(slots))
		}
		if _, ok := w.setup.At(k); ok {
			done++
		}
	}
	return fmt.Sprintf("%d of %d", done, len(slots))
}

// halfSlots are the pointings of the half, or of the round target by target, that is
// being observed.
func (w *work) halfSlots() []spec.Slot {
	s := w.setup.Spec
	switch w.slot.Quantity {
	case spec.Vertical:
		return s.VerticalSlots(w.slot.Face)
	case spec.Slope, spec.TargetHeight:
		return s.DistanceSlots()
	case spec.Horizontal, spec.Accumulated:
		return s.SweepOf(w.slot)
	}
	return nil
}
