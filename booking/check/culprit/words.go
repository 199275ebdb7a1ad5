package culprit

import (
	"fmt"
	"strings"

	"example.org/readback/booking/check/slip"
)

// sentence says what is suspected, without any reading.
func (f *field) sentence(s Suspect) string {
	where := place(s)
	switch {
	case s.Kind == slip.MovedAfter && s.Target == "":
		return fmt.Sprintf("In round %d the circle or the tripod has moved: from which pointing on cannot be told.", s.Round)
	case s.Kind == slip.MovedAfter:
		return fmt.Sprintf("Everything from %s on has turned together: the circle or the tripod has moved.", where)
	case s.Target == f.s.Name(0) && s.Face == AnyFace && s.Kind == slip.DirectionDiffers:
		return fmt.Sprintf("All targets shift together: the reference object is at fault (%s).", where)
	case s.Kind == slip.DirectionDiffers:
		return fmt.Sprintf("Both faces of %s agree with each other and not with the rest: was another point sighted?", where)
	}
	text := fmt.Sprintf("%s does not fit the other readings", strings.ToUpper(where[:1])+where[1:])
	if s.Target == f.s.Name(0) {
		text += "; all targets shift with it"
	}
	if s.Alike {
		text += "; others fit alike"
	}
	if s.Kind == slip.Unknown && s.Part == slip.NoPart {
		return text + "."
	}
	return text + ". " + slip.Sentence(s.Kind, s.Part, f.s.Unit)
}

// place names a suspect's reading: "Alder, face left, round 2".
func place(s Suspect) string {
	t := s.Target
	if s.Closing {
		t += " closing"
	}
	switch s.Face {
	case FaceLeft:
		t += ", face left"
	case FaceRight:
		t += ", face right"
	}
	if s.Round > 0 {
		t += fmt.Sprintf(", round %d", s.Round)
	}
	return t
}
