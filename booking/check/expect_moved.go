package check

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// moved searches the whole setup with the reading at hand in it: where it and the
// ones before it in the round are out by the same, the circle or the tripod has
// moved, and it is that which is said, not that the reading looks misread. The
// sentence names the sight it began at and about how far, from the second such
// reading on.
// exceeded tells that the reading is outside the entry limit: else more is asked of
// what speaks for a move.
func (e *Expectation) moved(a reduce.Angle, exceeded bool) (text string, ok bool) {
	if e.slot.Quantity != spec.Horizontal || e.basis == onFirst {
		return "", false
	}
	var from []string
	size := 0.0
	for _, x := range e.with(a, exceeded) {
		switch {
		case x.Round != e.slot.Round:
			return "", false
		case reduce.FromSeconds(x.Size).Abs() > knock:
			return "", false
		case x.Kind == slip.MovedAfter:
			if size == 0 {
				size = x.Size
			}
			from = append(from, sightOf(x))
		case x.Target == e.firstOfSweep() && x.Target != e.slot.Target && e.sightsBefore() > 1:
			if len(from) > 1 {
				from[len(from)-1] += ","
			}
			return fmt.Sprintf("Everything since %s is about %s out, or %s itself is: the circle or the tripod has moved, or that sight was wrong. Void the round and begin it again, or strike %s and read it again.",
				x.Target, e.about(x.Size), x.Target, x.Target), true
		}
	}
	if len(from) == 0 {
		return "", false
	}
	if len(from) > 1 {
		from[len(from)-1] += ","
	}
	return fmt.Sprintf("Everything since %s is about %s out: the circle or the tripod has moved. Void the round and begin it again.",
		strings.Join(from, ", or since "), e.about(size)), true
}

// with searches the whole setup with the reading at hand in it.
func (e *Expectation) with(a reduce.Angle, exceeded bool) []Suspect {
	st := faceStation(&e.setup)
	st.Readings = append(slices.Clone(st.Readings), align.Reading{
		Round: e.slot.Round, Target: slices.Index(st.Names, e.slot.Target), Face: e.slot.Face,
		Closing: e.slot.Closing, Value: reduce.DirectionAt(a),
	})
	return culprit.Find(st, exceeded).Suspects
}

// began says at which sight of a half that does not close the shift began, as far
// as the other readings tell: the other face, or an earlier round.
func (e *Expectation) began(a reduce.Angle) string {
	var at []string
	for _, x := range e.with(a, true) {
		if x.Round == e.slot.Round && (x.Kind == slip.MovedAfter || x.Target == e.slot.Target) {
			at = append(at, sightOf(x))
		}
	}
	byTarget := e.setup.Spec.Order == spec.ByTarget
	alone := !slices.ContainsFunc(e.setup.Readings, func(r booking.Reading) bool {
		k := r.Slot
		return r.Stands() && k.Quantity == spec.Horizontal && (k.Round != e.slot.Round || k.Face != e.slot.Face && !byTarget)
	})
	switch {
	case alone && byTarget:
		return "The next round shows which sight began it."
	case alone:
		return "The other face shows which sight began it."
	case len(at) > 0:
		return "It began at " + strings.Join(at, ", or at ") + "."
	}
	return "It cannot be told which sight began it."
}

// about prints a shift, given in seconds, without its sign.
func (e *Expectation) about(seconds float64) string {
	return e.size(reduce.FromSeconds(seconds).Abs().Round(e.step()))
}

// knock is the most that a circle or tripod turns unnoticed (assumed): more is a
// slip in a figure or another target.
const knock = 10 * reduce.Arcminute

// sightsBefore counts the sights of the half, or of the round where that is observed
// target by target, that stand.
func (e *Expectation) sightsBefore() int {
	n := 0
	for _, k := range e.setup.Spec.SweepOf(e.slot) {
		if _, ok := e.setup.At(k); ok {
			n++
		}
	}
	return n
}

// firstOfSweep names what the half of the slot begins with, or its round.
func (e *Expectation) firstOfSweep() string { return e.setup.Spec.SweepOf(e.slot)[0].Target }

// sightOf names the sight of a suspect.
func sightOf(x Suspect) string {
	switch {
	case x.Target == "":
		return "some sight of this round"
	case x.Closing:
		return "the closing sight of " + x.Target
	case x.Face == faces.NoFace:
		return x.Target
	}
	return x.Target + " on " + x.Face.Words()
}
