package instrument

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/fieldtest"
)

// A FieldTest is the outcome of a field test.
type FieldTest struct {
	Instrument spec.Instrument
	Setups     []int
	Left       []LeftOut               // setups in doubt, which do not count
	Horizontal *fieldtest.Test         // nil: the setups hold none
	Vertical   *fieldtest.VerticalTest // nil: the setups hold none
	Missing    []string                // why a part could not be worked, a sentence each
}

// ErrNoTest is wrapped by the errors about setups that are no field test at all.
var ErrNoTest = errors.New("these setups are no field test")

// WorkFieldTest works the setups as one field test. They must be of one
// instrument; the error says which one is not. A part that cannot be worked is named in Missing; ErrNoTest is returned
// when neither can.
func WorkFieldTest(setups []booking.Setup) (FieldTest, error) {
	var r FieldTest
	if len(setups) == 0 {
		return r, fmt.Errorf("%w: none is chosen", ErrNoTest)
	}
	r.Instrument = setups[0].Spec.Instrument
	for _, s := range setups {
		if s.Spec.Instrument != r.Instrument {
			return r, fmt.Errorf("%w: setup %d has another instrument than setup %d; choose setups of one", ErrNoTest, s.Number, setups[0].Number)
		}
		r.Setups = append(r.Setups, s.Number)
	}
	var err error
	if r.Horizontal, err = horizontal(setups); err != nil {
		r.Missing = append(r.Missing, fmt.Sprintf("No test of directions: %v.", err))
	}
	if r.Vertical, err = vertical(setups, r.Instrument.Circle); err != nil {
		r.Missing = append(r.Missing, fmt.Sprintf("No test of altitudes: %v.", err))
	}
	if r.Horizontal == nil && r.Vertical == nil {
		return r, fmt.Errorf("%w: %s", ErrNoTest, r.Missing[0])
	}
	return r, nil
}

// horizontal takes each setup as a series of its complete used rounds.
func horizontal(setups []booking.Setup) (*fieldtest.Test, error) {
	var series []fieldtest.Series
	for _, s := range setups {
		one := fieldtest.Series{}
		for _, w := range reduction.Compare(s).Rounds {
			if w.Complete {
				one.Values = append(one.Values, directions(s, w))
			}
		}
		if len(one.Values) < 2 || len(s.Spec.Targets) == 0 {
			return nil, fmt.Errorf("setup %d has not two complete rounds on two targets", s.Number)
		}
		series = append(series, one)
	}
	t, err := fieldtest.Horizontal(series)
	if err == nil {
		countClosings(t, setups)
	}
	return t, err
}

// countClosings makes the spread of setups whose halves close on the RO that of
// directions sighted once, as the verdict counts it: the RO is the mean of two
// sights there, and s is low by √(1 − 1/(2t)), t the targets with the RO.
func countClosings(t *fieldtest.Test, setups []booking.Setup) {
	sum, dof := 0.0, 0
	for i, s := range setups {
		if low := reduction.Of(s).Low; low > 0 {
			t.Series[i].S /= low
		}
		x := t.Series[i]
		sum, dof = sum+float64(x.S*x.S)*float64(x.Dof), dof+x.Dof
	}
	if dof > 0 {
		t.S.S = math.Sqrt(sum / float64(dof))
	}
}

// directions are the directions of one round, the RO first.
func directions(s booking.Setup, w reduction.RoundWork) []reduce.Angle {
	set := []reduce.Angle{0}
	for _, t := range s.Spec.Targets {
		d, _ := w.Direction(t) // the round is complete
		set = append(set, d.Angle())
	}
	return set
}

// vertical takes each setup as one set.
func vertical(setups []booking.Setup, c faces.Circle) (*fieldtest.VerticalTest, error) {
	var left, right [][]reduce.Angle
	var names []string
	for _, s := range setups {
		l, r, ns := verticalSet(s)
		if len(ns) < 2 {
			return nil, fmt.Errorf("setup %d has not two altitudes on both faces", s.Number)
		}
		if names != nil && !slices.Equal(names, ns) {
			return nil, fmt.Errorf("setup %d has altitudes of other targets than setup %d", s.Number, setups[0].Number)
		}
		names = ns
		left, right = append(left, l), append(right, r)
	}
	sets := len(left)
	if sets%fieldtest.Sets == 0 {
		sets = fieldtest.Sets
	}
	var series []fieldtest.VerticalSeries
	for i := 0; i < len(left); i += sets {
		series = append(series, fieldtest.VerticalSeries{Left: left[i : i+sets], Right: right[i : i+sets]})
	}
	if len(left) < 2 {
		return nil, errors.New("one setup is one set of altitudes: choose two setups at least, three for the standard")
	}
	return fieldtest.Vertical(series, c)
}

// verticalSet is the vertical pairs of a setup with the names of their targets.
func verticalSet(s booking.Setup) (left, right []reduce.Angle, names []string) {
	for _, v := range reduction.Of(s).Verticals {
		if v.HasPair {
			left, right = append(left, v.FL.Angle()), append(right, v.FR.Angle())
			names = append(names, v.Target)
		}
	}
	return left, right, names
}
