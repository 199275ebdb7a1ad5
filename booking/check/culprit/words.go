package culprit

import (
	"fmt"
	"math"
	"strings"

	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// sentence says what is suspected, without any reading.
func (f *field) sentence(s Suspect) string {
	where := place(s)
	switch {
	case s.Kind == slip.Drift:
		return f.driftSentence(s.Size)
	case s.Kind == slip.MovedAfter && s.Round == 0:
		return fmt.Sprintf("In one of the rounds face right as a whole has turned against face left, by about %s: the circle or the tripod has moved between the halves. It cannot be told in which round.", f.about(s.Size))
	case s.Kind == slip.MovedAfter && f.beginsHalf(s):
		return fmt.Sprintf("In round %d face right as a whole has turned against face left, by about %s: the circle or the tripod has moved between the halves.", s.Round, f.about(s.Size))
	case s.Kind == slip.MovedAfter && s.Target == "":
		return fmt.Sprintf("In round %d the circle or the tripod has moved: it cannot be told from which pointing on.", s.Round)
	case s.Kind == slip.MovedAfter:
		others := ""
		if s.Alike {
			others = fmt.Sprintf("; others fit alike (this one %.0f in 100)", 100*s.Weight)
		}
		return fmt.Sprintf("Everything from %s on has turned together%s: the circle or the tripod has moved.", where, others)
	case s.Target == f.s.Name(0) && s.Face == faces.NoFace && s.Kind == slip.DirectionDiffers:
		return fmt.Sprintf("All targets shift together: the reference object is at fault (%s).", where)
	case s.Kind == slip.DirectionDiffers:
		return fmt.Sprintf("Both faces of %s agree with each other and not with the rest: was another point sighted?", where)
	}
	text := fmt.Sprintf("%s does not fit the other readings", strings.ToUpper(where[:1])+where[1:])
	if s.Target == f.s.Name(0) {
		text += "; all targets shift with it"
	}
	if s.Alike {
		text += fmt.Sprintf("; others fit alike (this one %.0f in 100)", 100*s.Weight)
	}
	if len(s.Readers) > 0 {
		return text + ". " + ReadersText(s.Readers)
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
	case faces.FL:
		t += ", face left"
	case faces.FR:
		t += ", face right"
	}
	if s.Round > 0 {
		t += fmt.Sprintf(", round %d", s.Round)
	}
	return t
}

// driftSentence says what a drift of so many seconds a sight does: even, it falls
// out of the mean of both faces, which are sighted in opposite order; a pause as
// long as one sight leaves half of it in the directions beyond.
func (f *field) driftSentence(each float64) string {
	harm := math.Sqrt2 * f.sigma
	if last := len(f.list) - 1; f.s.Sigma <= 0 && f.list[last].form == drifting {
		harm *= f.scatter(math.Max(0, f.ss-f.pull[last]*f.pull[last]/math.Max(f.own[last], leastRedundancy)), 1)
	}
	word := "hardly suffer"
	if math.Abs(each) > harm {
		word = "suffer where the sights are not made at an even pace"
	}
	return fmt.Sprintf("The circle or the tripod is turning slowly, about %s from sight to sight: 2c runs one way in the order of pointing. "+
		"The means of both faces %s: about %s from sight to sight is the limit for that.", f.about(each), word, f.about(harm))
}

// about prints a number of seconds without its sign.
func (f *field) about(seconds float64) string {
	return reduce.FormatDeviation(math.Abs(seconds), f.s.Unit, 1)
}

// beginsHalf tells whether the sight of a suspect opens the second half of its round.
func (f *field) beginsHalf(s Suspect) bool {
	for k, r := range f.s.Readings {
		if r.Round == s.Round && r.Face == s.Face && f.s.Name(r.Target) == s.Target && r.Closing == s.Closing {
			return f.opensHalf(k)
		}
	}
	return false
}
