package forecast

import (
	"slices"

	"example.org/readback/booking/check/align"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A Known direction is one from the RO to a target that is known beforehand.
type Known struct {
	Target    int // place in Station.Names
	Direction reduce.Direction
	SD        float64 // seconds
}

// A Before is what is known before the first sight.
type Before struct {
	Directions    []Known
	Collimation   float64 // seconds: c of the instrument from its earlier setups
	CollimationSD float64 // seconds; 0: nothing is known of it
}

// An Expected reading.
type Expected struct {
	Reading reduce.Direction
	SD      float64 // seconds: of the difference between a reading and this
}

// Standard deviations of what is known beforehand, in seconds.
const (
	collimationSD = 25
	targetSD      = 1.5
	nothingSD     = 1e5 // of what is not known at all
	vague         = 600 // an expectation vaguer than this is none
)

// outlying is how far off the fit, in standard deviations, a reading is set aside.
const outlying = 6

// A Forecast is a station fitted, ready to be asked for any reading.
type Forecast struct {
	s     align.Station
	a     align.Alignment
	known Before
	sigma float64
	fits  []*fit // the fit, or the two that a contradiction leaves
}

// New fits the station.
func New(s align.Station, known Before) *Forecast {
	f := &Forecast{s: s, a: align.Align(s), known: known, sigma: s.Noise()}
	if len(s.Readings) == 0 {
		return f
	}
	f.place()
	all := f.solve(nil)
	either := all.outliers()
	if len(either) == 0 {
		f.fits = []*fit{all}
	}
	for _, k := range either {
		f.fits = append(f.fits, f.settle([]int{k}))
	}
	return f
}

// place takes known directions as the rough directions of targets not seen.
func (f *Forecast) place() {
	for _, k := range f.known.Directions {
		if k.Target > 0 && k.Target < len(f.a.Dir) && !f.a.Seen[k.Target] && f.a.Seen[0] {
			f.a.Dir[k.Target] = f.a.Dir[0].Add(k.Direction.Angle())
			f.a.Seen[k.Target] = true
		}
	}
}

// outliers returns the reading to set aside first, none where all agree, and two
// where either of them may be the one that is wrong.
func (x *fit) outliers() []int {
	if len(x.off) == 0 {
		return nil
	}
	most := slices.Max(x.off)
	if most < outlying {
		return nil
	}
	var out []int
	for k, v := range x.off {
		if v > 0.9*most && len(out) < 2 {
			out = append(out, k)
		}
	}
	return out
}

// settle sets aside one reading after the other until the rest agree.
func (f *Forecast) settle(out []int) *fit {
	for {
		x := f.solve(out)
		more := x.outliers()
		if len(more) == 0 || len(out) >= 4 {
			return x
		}
		out = append(out, more[0])
	}
}

// Reading returns what is expected of a reading: nothing, one value, or two where
// the readings so far contradict each other.
func (f *Forecast) Reading(round, target int, face faces.Face) []Expected {
	if target >= len(f.a.Seen) || !f.a.Seen[target] || f.a.Round(round) < 0 {
		return nil
	}
	var list []Expected
	for _, x := range f.fits {
		value, sd := x.predict(round, target, face)
		if sd > vague {
			continue
		}
		e := Expected{Reading: value, SD: sd}
		if len(list) == 0 || list[0].Reading.Sub(value).Abs() > reduce.FromSeconds(sd) {
			list = append(list, e)
		}
	}
	return list
}
