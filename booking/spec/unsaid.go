package spec

import (
	"reflect"
)

// A later is a word on crew or instrument that may be said after the first reading, and
// what is not known without it; a number that an instrument need not have says nothing.
type later struct {
	word *string
	of   string
}

// saidLater are the words of a spec that may be said later.
func (s *Spec) saidLater() []later {
	return []later{
		{&s.Observer, "who observes"}, {&s.Booker, "who books"}, {&s.Instrument.Name, "which instrument it is"},
		{&s.Instrument.Serial, ""},
	}
}

// Unsaid lists what of crew and instrument is not said yet, in words: it is never in
// the way of a reading, and asked for before the tripod is lifted. What was keyed from
// paper is taken as far as the paper went.
func (s Spec) Unsaid() (out []string) {
	if s.KeyedAfterwards != nil {
		return nil
	}
	for _, x := range s.saidLater() {
		if x.of != "" && blank(*x.word) {
			out = append(out, x.of)
		}
	}
	return out
}

// OnlySays tells whether another spec says of crew and instrument what this one does
// not say yet, and changes nothing else: no reason is needed for that.
func (s Spec) OnlySays(t Spec) bool {
	said := t.saidLater()
	for i, x := range s.saidLater() {
		if blank(*x.word) {
			*x.word = *said[i].word
		}
	}
	return reflect.DeepEqual(s, t)
}
