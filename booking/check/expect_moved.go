package check

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
)

// moved searches the whole setup with the reading at hand in it: where it and the
// ones before it in the round are out by the same, the circle or the tripod has
// moved, and it is that which is said, not that the reading looks misread. The
// sentence names the sight it began at and about how far, from the second such
// reading on.
func (e *Expectation) moved(a reduce.Angle) (text string, ok bool) {
	if e.slot.Quantity != booking.Horizontal {
		return "", false
	}
	st := faceStation(&e.setup)
	st.Readings = append(slices.Clone(st.Readings), align.Reading{
		Round: e.slot.Round, Target: slices.Index(st.Names, e.slot.Target), Right: e.slot.Face == booking.FR,
		Closing: e.slot.Closing, Value: reduce.DirectionAt(a),
	})
	var from []string
	size := 0.0
	for _, x := range culprit.Find(st, true).Suspects {
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
		case x.Target == e.firstOfHalf() && x.Target != e.slot.Target && e.sightsBefore() > 1:
			return fmt.Sprintf("Either the first sight of this half, %s, is about %s out, or everything after it is: the circle or the tripod has moved. Void the round and begin it again.",
				x.Target, e.signed(reduce.FromSeconds(x.Size))), true
		}
	}
	if len(from) == 0 {
		return "", false
	}
	return fmt.Sprintf("Everything from %s on is about %s out: the circle or the tripod has moved. Void the round and begin it again.",
		strings.Join(from, ", or from "), e.signed(reduce.FromSeconds(size))), true
}

// knock is the most that a circle or tripod turns unnoticed (assumed): more is a
// slip in a figure or another target.
const knock = 10 * reduce.Arcminute

// sightsBefore counts the sights of the half that stand.
func (e *Expectation) sightsBefore() int {
	n := 0
	for _, k := range e.setup.Spec.HalfSlots(e.slot.Round, e.slot.Face) {
		if _, ok := e.setup.At(k); ok {
			n++
		}
	}
	return n
}

// firstOfHalf names what the half of the slot begins with.
func (e *Expectation) firstOfHalf() string {
	return e.setup.Spec.HalfSlots(e.slot.Round, e.slot.Face)[0].Target
}

// sightOf names the sight of a suspect.
func sightOf(x Suspect) string {
	switch {
	case x.Target == "":
		return "a sight of this round"
	case x.Closing:
		return "the closing sight of " + x.Target
	case x.Face == culprit.AnyFace:
		return x.Target
	}
	return x.Target + " on " + faceWords(x.Face)
}

func faceWords(f culprit.Face) string {
	if f == culprit.FaceRight {
		return booking.FR.Words()
	}
	return booking.FL.Words()
}
