package booking

import "reflect"

// Unsaid lists what of crew and instrument is not said yet, in words: it is never in
// the way of a reading, and asked for before the tripod is lifted. What was keyed from
// paper is taken as far as the paper went.
func (s Spec) Unsaid() (out []string) {
	if s.KeyedAfterwards != nil {
		return nil
	}
	for _, x := range []struct{ name, words string }{{s.Observer, "who observes"}, {s.Booker, "who books"}, {s.Instrument.Name, "which instrument it is"}} {
		if blank(x.name) {
			out = append(out, x.words)
		}
	}
	return out
}

// OnlySays tells whether another spec says of crew and instrument what this one does
// not say yet, and changes nothing else: no reason is needed for that.
func (s Spec) OnlySays(t Spec) bool {
	for _, x := range []struct {
		was *string
		is  string
	}{{&s.Observer, t.Observer}, {&s.Booker, t.Booker}, {&s.Instrument.Name, t.Instrument.Name}, {&s.Instrument.Serial, t.Instrument.Serial}} {
		if blank(*x.was) {
			*x.was = x.is
		}
	}
	return reflect.DeepEqual(s, t)
}
