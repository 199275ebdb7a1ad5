package tui

import (
	"fmt"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// the pointingsScreen is the list of pointings, to turn to another than the one
// that is called: those of the present round or part, the vertical circle,
// distances and the instrument height.
type pointingsScreen struct {
	list
	slots []spec.Slot
}

func (s *pointingsScreen) enter(v *view) {
	s.list = list{columns: []column{{title: "no.", right: true}, {title: "reading", right: true}, {title: "pointing"}}, brief: 2, pick: s.chose,
		cell: func(i int) (string, string) { return s.list.rows[i].cells[2], s.list.rows[i].cells[1] }}
	s.slots = s.slots[:0]
	if v.setup.Lift != nil {
		s.add(v, struckPlaces(v.setup)...)
		return
	}
	round := v.slot.Round
	if round == 0 {
		round = len(v.setup.Rounds)
	}
	if round > 0 {
		if r, ok := v.setup.Round(round); !ok || r.Void == nil {
			s.add(v, v.setup.Spec.RoundSlots(round)...)
			s.addHalves(v, round)
		}
		if r, ok := v.setup.Round(round - 1); ok && r.Void == nil && !v.setup.AnyIn(round) { // the circle still stands as it did
			s.add(v, v.setup.Spec.RoundSlots(r.Number)...)
			s.addHalves(v, r.Number)
		}
	}
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		for _, name := range verticalOrder(v.setup.Spec, face) {
			s.add(v, spec.Slot{Quantity: spec.Vertical, Face: face, Target: name})
		}
	}
	for _, name := range v.setup.Spec.Sighted() {
		s.add(v, spec.Slot{Quantity: spec.Slope, Target: name}, spec.Slot{Quantity: spec.TargetHeight, Target: name})
	}
	s.add(v, spec.Slot{Quantity: spec.InstrumentHeight}, spec.Slot{Quantity: spec.InstrumentHeight, Closing: true})
}

// verticalOrder is the order of the vertical circle readings, also in a setup
// that does not call for them.
func verticalOrder(spec spec.Spec, face faces.Face) []string {
	spec.Verticals = true
	var names []string
	for _, k := range spec.VerticalSlots(face) {
		names = append(names, k.Target)
	}
	return names
}

// addHalves adds what is called of halves that were asked for again, and the halves
// that can be: such a half is a place without a target.
func (s *pointingsScreen) addHalves(v *view, round int) {
	for _, h := range v.setup.Halves {
		if h.Round != round {
			continue
		}
		for _, k := range v.setup.Spec.HalfSlots(round, h.Face) {
			k.Repeat = h.Repeat
			s.add(v, k)
		}
	}
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		if _, err := v.setup.AgainHalf(round, face); err != nil {
			continue
		}
		words := fmt.Sprintf("The whole half again: %s, round %d", face.Words(), round)
		s.slots = append(s.slots, spec.Slot{Quantity: spec.Horizontal, Round: round, Face: face})
		s.list.rows = append(s.list.rows, row{"", []string{itoa(len(s.slots)), "", words}, face.String() + " half, all again"})
	}
}

func (s *pointingsScreen) add(v *view, slots ...spec.Slot) {
	for _, k := range slots {
		mark, state := "", standing(v.setup, k)
		if state != "" {
			mark = "✓"
		}
		if v.asks && k == v.slot {
			mark = "▸"
			s.list.chosen = len(s.slots)
		}
		s.slots = append(s.slots, k)
		s.list.rows = append(s.list.rows, row{mark, []string{itoa(len(s.slots)), state, capital(slotWords(k))}, capital(slotBrief(k))})
	}
}

func (s *pointingsScreen) actions(v *view) []action {
	home := gives(keys.Home, goTo{v.place()})
	as := append([]action{s.picks(v, "turn to this one"), does(keys.Again, func() []ask { return s.again(v) }), home}, moves(keys.Up, keys.Down)...)
	return append(as, too(home.do, keys.Go)...)
}

// again measures the chosen pointing once more.
func (s *pointingsScreen) again(v *view) []ask {
	if v.setup.Lift != nil || len(s.slots) == 0 {
		return asks(say{text: "The tripod was lifted: only what was struck is read again.", bad: true})
	}
	k := s.slots[s.list.chosen]
	if isHalf(k) {
		return s.chose(v)
	}
	again, err := v.setup.Again(k)
	if err != nil {
		return asks(say{text: sentence(err), bad: true})
	}
	return asks(choose{&again}, goTo{onBooking})
}

func (s *pointingsScreen) chose(v *view) []ask {
	if s.list.chosen >= len(s.slots) {
		return asks(goTo{v.place()})
	}
	k := s.slots[s.list.chosen]
	if isHalf(k) {
		return recorded(onBooking, func(s booking.Setup) (event.HalfAsked, error) { return s.AgainHalf(k.Round, k.Face) })
	}
	if _, ok := v.setup.At(k); ok {
		return asks(say{text: fmt.Sprintf("%s is booked. Press A to measure it once more, or strike it first: then it is called again.", capital(slotWords(k))), bad: true})
	}
	if k == v.prompt.Slot {
		return asks(choose{nil}, goTo{onBooking})
	}
	return asks(choose{&k}, goTo{onBooking})
}

// isHalf tells whether a place of the list is a whole half.
func isHalf(k spec.Slot) bool { return k.Quantity == spec.Horizontal && k.Target == "" }

func (s *pointingsScreen) draw(v *view, w, h int) block {
	b := titled(v, "Pointings", "a number, or the arrows", w)
	b.put(s.list.draw(&v.frame, w, h-len(b.lines)))
	return b
}

// titled begins a screen: air, a title with a note at its end, air where there is
// room for it.
func titled(v *view, title, note string, w int) block {
	b := v.air()
	b.add(v.section(title, note, w)...)
	b.put(v.air())
	return b
}
