package season

import (
	"fmt"
	"math"
	"math/rand/v2"

	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A spoiler makes one thing go wrong in a station: it returns the faults, and tells
// whether a suspect is what went wrong. structure is what the optimum knows of it;
// without patterns there is none.
type spoiler struct {
	Name string
	make func(c Cell, rng *rand.Rand) ([]observer.Fault, isIt)
	structure
}

// isIt tells whether a suspect is what went wrong, as far as it is told.
type isIt func(culprit.Suspect) bool

// Spoilers are the slips of the table. σ in their names is that of one reading.
func Spoilers() []spoiler {
	target := single(func(r culprit.Reading) bool { return r.Target > 0 })
	seconds := func(d float64) func(Cell) float64 { return func(Cell) float64 { return d } }
	sigmas := func(k float64) func(Cell) float64 { return func(c Cell) float64 { return k * math.Sqrt2 * c.Sigma } }
	var list []spoiler
	for _, d := range []float64{10, 15, 20, 30, 60} {
		list = append(list, spoiler{fmt.Sprintf("one reading %g″ off", d), oneOff(d), structure{target, seconds(d)}})
	}
	return append(list,
		spoiler{Name: "digits exchanged", make: digitsExchanged},
		spoiler{Name: "wrong target, one face", make: wrongTarget},
		spoiler{Name: "wrong target, both faces", make: wrongPair},
		spoiler{"a pair 14 σ off", pairOff, structure{pairs, sigmas(14)}},
		spoiler{"a half shifted 14 σ", halfShifted, structure{halves, sigmas(14)}},
		spoiler{"a kick of 14 σ", kicked, structure{kicks, sigmas(14)}},
		spoiler{"a drift of 2 σ a sight", drifting(2), structure{drift, sigmas(2)}},
		spoiler{"a drift of 0.5 σ a sight", drifting(0.5), structure{drift, sigmas(0.5)}},
		spoiler{"the RO alone 30″ off", roOff, structure{single(func(r culprit.Reading) bool { return r.Target == 0 && !r.Closing }), seconds(30)}},
		spoiler{"two readings 30″ off", twoOff, structure{twoSingles, seconds(30)}},
		spoiler{Name: "a vertical reading 60″ off", make: verticalOff},
	)
}

func oneOff(seconds float64) func(Cell, *rand.Rand) ([]observer.Fault, isIt) {
	return func(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
		f := c.place(rng)
		f.By = c.size(rng, seconds)
		return []observer.Fault{f}, at(f)
	}
}

func digitsExchanged(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f := c.place(rng)
	f.Exchanged = true
	return []observer.Fault{f}, at(f)
}

func wrongTarget(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f := c.place(rng)
	f.Sighted = c.other(rng, f.Target)
	return []observer.Fault{f}, at(f)
}

func wrongPair(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f := c.place(rng)
	f.Face, f.Sighted = faces.NoFace, c.other(rng, f.Target)
	return []observer.Fault{f}, at(f)
}

func pairOff(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f := c.place(rng)
	f.Face, f.By = faces.NoFace, c.size(rng, 14*math.Sqrt2*c.Sigma)
	return []observer.Fault{f}, at(f)
}

func halfShifted(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f := observer.Fault{Round: 1 + rng.IntN(c.Rounds), Face: face(rng), By: c.size(rng, 14*math.Sqrt2*c.Sigma)}
	return []observer.Fault{f}, inRound(f.Round)
}

// kicked turns everything from the third sight of a half on; what turned on face
// left stays turned on face right.
func kicked(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f := observer.Fault{Round: 1 + rng.IntN(c.Rounds), Face: face(rng), From: 2 + rng.IntN(c.Targets-1), By: c.size(rng, 14*math.Sqrt2*c.Sigma)}
	faults := []observer.Fault{f}
	if f.Face == faces.FL {
		faults = append(faults, observer.Fault{Round: f.Round, Face: faces.FR, By: f.By})
	}
	return faults, inRound(f.Round)
}

func drifting(sigmas float64) func(Cell, *rand.Rand) ([]observer.Fault, isIt) {
	return func(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
		return []observer.Fault{{Each: c.size(rng, sigmas*math.Sqrt2*c.Sigma)}}, func(x culprit.Suspect) bool { return x.Kind == slip.Drift }
	}
}

func roOff(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f := observer.Fault{Round: 1 + rng.IntN(c.Rounds), Face: face(rng), Target: c.names()[0], By: c.size(rng, 30)}
	return []observer.Fault{f}, at(f)
}

func twoOff(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f, g := c.place(rng), c.place(rng)
	f.By, g.By = c.size(rng, 30), c.size(rng, 30)
	return []observer.Fault{f, g}, func(x culprit.Suspect) bool { return at(f)(x) || at(g)(x) }
}

func verticalOff(c Cell, rng *rand.Rand) ([]observer.Fault, isIt) {
	f := c.place(rng)
	f.Quantity, f.Round, f.By = spec.Vertical, 0, c.size(rng, 60)
	return []observer.Fault{f}, func(x culprit.Suspect) bool { return x.Upright && x.Target == f.Target }
}

// place draws one reading of a target.
func (c Cell) place(rng *rand.Rand) observer.Fault {
	ns := c.names()
	return observer.Fault{Round: 1 + rng.IntN(c.Rounds), Face: face(rng), Target: ns[1+rng.IntN(len(ns)-1)]}
}

func (c Cell) other(rng *rand.Rand, target string) string {
	for ns := c.names(); ; {
		if n := ns[rng.IntN(len(ns))]; n != target {
			return n
		}
	}
}

func (c Cell) size(rng *rand.Rand, seconds float64) reduce.Angle {
	if rng.IntN(2) == 0 {
		seconds = -seconds
	}
	return reduce.FromSeconds(seconds)
}

func face(rng *rand.Rand) faces.Face {
	if rng.IntN(2) == 0 {
		return faces.FL
	}
	return faces.FR
}

// at tells whether a suspect is the reading of a fault.
func at(f observer.Fault) isIt {
	return func(x culprit.Suspect) bool {
		return x.Target == f.Target && (x.Round == 0 || x.Round == f.Round) && (f.Face == faces.NoFace || x.Face == faces.NoFace || x.Face == f.Face)
	}
}

func inRound(round int) isIt {
	return func(x culprit.Suspect) bool { return x.Round == 0 || x.Round == round }
}
