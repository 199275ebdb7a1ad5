package places

import (
	"errors"
	"fmt"
	"math"

	"example.org/readback/reduce/traverse"
)

// A Kind is what was observed.
type Kind uint8

// The kinds.
const (
	Direction Kind = 1 // from From to To, in the set Set
	Distance  Kind = 2 // horizontal, between From and To
	Angle     Kind = 3 // at From, clockwise from Back to To
	Bearing   Kind = 4 // from From to To, clockwise from north
	East      Kind = 5 // coordinate of From
	North     Kind = 6 // coordinate of From
)

// angular tells whether values of the kind are radians.
func (k Kind) angular() bool { return k == Direction || k == Angle || k == Bearing }

// A Point is a name with the place it starts from.
type Point struct {
	Name  string
	At    traverse.Point // where the adjustment starts, or where it is held
	Fixed bool           // its place is known without doubt and held
}

// An Observation is one thing observed between points, which are told by their
// places in the list of points.
type Observation struct {
	Kind           Kind
	From, To, Back int
	Set            int     // of a direction: number of its set, from 0
	Value          float64 // radians or metres
	SD             float64 // standard deviation, likewise; positive
}

// ErrObservation is wrapped by the errors about observations that no adjustment
// can take.
var ErrObservation = errors.New("the observation cannot be adjusted")

// A Network is everything observed, with the places it starts from.
type Network struct {
	Points       []Point
	Observations []Observation
	Stop         func() bool // asked within the long loops: true ends the work with an error, or what was found so far; nil: never
}

// errStopped is what Adjust returns where Stop ended it.
var errStopped = errors.New("the adjustment was stopped")

// stopped tells whether the work is to end.
func (n *Network) stopped() bool { return n.Stop != nil && n.Stop() }

// check refuses what cannot be adjusted.
func (n *Network) check() error {
	in := func(i int) bool { return i >= 0 && i < len(n.Points) }
	for i, o := range n.Observations {
		switch two := o.Kind != East && o.Kind != North; {
		case o.Kind < Direction || o.Kind > North:
			return fmt.Errorf("%w: number %d is of no kind", ErrObservation, i)
		case !in(o.From) || two && (!in(o.To) || o.To == o.From) || o.Kind == Angle && (!in(o.Back) || o.Back == o.From || o.Back == o.To):
			return fmt.Errorf("%w: number %d names no point, or one point twice", ErrObservation, i)
		case o.Kind == Direction && (o.Set < 0 || o.Set > len(n.Observations)):
			return fmt.Errorf("%w: number %d is of set %d", ErrObservation, i, o.Set)
		case !(o.SD > 0) || math.IsInf(o.SD, 0) || math.IsNaN(o.Value) || math.IsInf(o.Value, 0):
			return fmt.Errorf("%w: number %d has the value %g and the standard deviation %g", ErrObservation, i, o.Value, o.SD)
		}
	}
	for _, p := range n.Points {
		if bad := p.At.E + p.At.N; math.IsNaN(bad) || math.IsInf(bad, 0) {
			return fmt.Errorf("%w: the place of %s is no number", ErrObservation, p.Name)
		}
	}
	return nil
}

// sets returns how many sets of directions there are.
func (n *Network) sets() int {
	most := 0
	for _, o := range n.Observations {
		if o.Kind == Direction {
			most = max(most, o.Set+1)
		}
	}
	return most
}
