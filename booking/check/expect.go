package check

import (
	"example.org/readback/booking"
	"example.org/readback/booking/check/completion"
	"example.org/readback/booking/check/forecast"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// Known is what is known of a station beyond its own setup: directions to the RO
// from an earlier occupation or from coordinates, and how the instrument stood
// in its earlier setups.
type Known struct {
	// Direction returns the direction from the RO to a target and its standard
	// deviation in seconds; nil when nothing is known.
	Direction func(target string) (d reduce.Direction, sd float64, ok bool)
	// Horizontal returns the horizontal distance to a target in metres, from an
	// earlier occupation, the other end or coordinates, its standard deviation and
	// where it comes from; nil when nothing is known.
	Horizontal func(target string) (metres, sd float64, from string, ok bool)
	// Collimation and Index are what the earlier setups of the instrument say of
	// c and of the index error. Their zero value says nothing.
	Collimation, Index Earlier
	// Before is what the setups before say of the instrument and the station, to be
	// recorded with a setup when it is opened.
	Before spec.Before
}

// An Earlier is a value that earlier setups give, with its standard deviation:
// how far it wanders from setup to setup. SD 0: nothing is known.
type Earlier struct {
	Value reduce.Angle
	SD    float64 // seconds
}

// An Expectation is what the present readings say of the next one. It never
// leaves this package as a figure: it only judges. It is worked out once for a
// pointing and asked at every key.
type Expectation struct {
	slot  spec.Slot
	setup booking.Setup
	basis basis
	bands []band            // where the reading is expected; none: nothing is
	keys  []completion.Band // the same for the check at the keystroke
	fit   *forecast.Forecast
	known bool // the direction of the target is known beforehand
	told  Known

	// 2c, or the index errors, of the pairs so far, this one left out: in groups that
	// agree, the largest first.
	pairs [][]pairError
}

// basis is what an expectation is made of.
type basis uint8

const (
	onNothing    basis = iota
	onSetting          // the circle setting of the round
	onPair             // the other face
	onClosing          // the RO at the beginning of the half
	onDirections       // earlier rounds, or directions known beforehand
	onFirst            // the same sight, read before on this face
	onSum              // by repetition, so many times the single angle
	onAltitude         // that nothing stands near the zenith or the nadir
)

// A band is where a reading is expected: within the entry limit of the centre.
type band struct {
	centre reduce.Angle
	limit  reduce.Angle // the entry limit
	sd     reduce.Angle // of a reading against the centre; 0: anywhere in the band
}

// entryFactor is how many standard deviations the entry limit lies off.
const entryFactor = 3.6

// entryLimit returns the entry limit of a reading whose difference from what is
// expected has the standard deviation sd (seconds):
//
//	3.6 · sd, never under half the limit for rounds and never under the least count.
//
// A clean reading exceeds 3.6 standard deviations once in 3,000. The standard
// deviation counts the reading itself and all that the expectation is made of
// (package forecast). A reading off by half the limit for rounds moves the mean
// of its pair by a quarter of it: smaller differences are never marked.
func entryLimit(l spec.Limits, leastCount reduce.Angle, sd float64) reduce.Angle {
	return max(reduce.FromSeconds(entryFactor*sd), l.Rounds.Value/2, leastCount)
}

// Expect returns what is expected of a slot.
func Expect(s booking.Setup, slot spec.Slot, known Known) Expectation {
	e := Expectation{slot: slot, setup: s, told: known}
	switch slot.Quantity {
	case spec.Horizontal:
		e.expectDirection(known)
	case spec.Accumulated:
		e.expectSum()
	case spec.Vertical:
		e.expectVertical(known)
	}
	for _, b := range e.bands {
		e.keys = append(e.keys, completion.Band{Centre: b.centre, Half: b.limit})
	}
	return e
}

// Expects tells whether anything is expected of the reading.
func (e *Expectation) Expects() bool { return len(e.bands) > 0 }

// OffAt tells at which key a text has left what is expected: the number of
// characters keyed when no reading inside the entry limit could come of it any
// more, or when it was the figure of another place; 0 where neither is so.
func (e *Expectation) OffAt(text string) int {
	i := e.setup.Spec.Instrument
	if len(e.keys) > 0 {
		if at := completion.FirstMark(text, i.Unit, i.LeastCount, e.keys); at > 0 {
			return at
		}
	}
	if e.elsewhereBooked(completion.Completions(text, i.Unit, i.LeastCount)) {
		return len(text)
	}
	return 0
}

// elsewhereBooked tells whether an entry that is complete is the figure of another
// place.
func (e *Expectation) elsewhereBooked(set completion.Set) bool {
	a, ok := set.Only()
	if ok {
		_, ok = e.mixed(a)
	}
	return ok
}

// Marked tells whether a text, complete or not, can no longer become a reading
// inside the entry limit. It is the check of one key.
func (e *Expectation) Marked(text string) bool {
	if text == "" || !e.slot.Quantity.Angular() {
		return false
	}
	i := e.setup.Spec.Instrument
	set := completion.Completions(text, i.Unit, i.LeastCount)
	return !set.MeetsAny(e.keys) || e.elsewhereBooked(set)
}

// MarkedText is the sentence for an entry that is marked before it is complete. It
// says what the entry is held against, and no figure.
func (e *Expectation) MarkedText() string {
	against := "The other readings lead one to expect another figure"
	switch e.basis {
	case onSetting:
		against = "This is not at the circle setting that was called"
	case onAltitude:
		against = "This is no reading of this face of the vertical circle"
	}
	return against + ". Key it to the end, then have it read again."
}

// Check judges a complete entry: the difference with its sign, a warning where a
// limit of the setup is exceeded, and a stop where the entry limit is. The kind
// of slip, where one clearly leads, stands in the sentence of the stop.
func (e Expectation) Check(value int64) []event.Finding {
	if !e.slot.Quantity.Angular() {
		return e.judgeLength(lengths.Length(value))
	}
	return e.judge(reduce.Angle(value))
}

// nearest returns the band that the reading lies deepest in, or that it misses
// by the least.
func (e *Expectation) nearest(a reduce.Angle) band {
	best := e.bands[0]
	beyond := func(b band) reduce.Angle { return (a - b.centre).Wrap().Abs() - b.limit }
	for _, b := range e.bands[1:] {
		if beyond(b) < beyond(best) {
			best = b
		}
	}
	return best
}

// ExpectsFigure tells whether a figure is expected: more than that the circle is
// set or the face is right.
func (e *Expectation) ExpectsFigure() bool {
	return len(e.bands) > 0 && e.basis != onSetting && e.basis != onAltitude
}

// Limit returns the entry limit: the difference from what is expected from which
// a reading is marked, 0 where nothing is expected.
func (e *Expectation) Limit() reduce.Angle {
	if len(e.bands) == 0 {
		return 0
	}
	return e.bands[0].limit
}
