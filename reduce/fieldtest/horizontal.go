package fieldtest

import (
	"errors"
	"fmt"
	"math"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
)

// errFieldTest is wrapped by the errors about observations that are no field
// test: too few series, sets or targets, or a pointing missing.
var errFieldTest = errors.New("not a complete field test")

// A Series is one series of the field test of ISO 17123-3: Values[j][k] is set j
// on target k, both faces. For horizontal directions a value is the mean of the
// faces; for vertical angles see VerticalSeries.
type Series struct {
	Values [][]reduce.Angle
}

// The sizes the standard asks for, horizontally: the full test has 4 series of 3
// sets on 5 targets, the short form 1 series of 3 sets on 4 targets; vertically
// the full test has 4 series of 3 sets on 4 targets. [ISO]
const (
	fullSeries        = 4
	Sets              = 3
	fullTargets       = 5
	shortTargets      = 4
	verticalTargets   = 4
	fieldAlpha        = 0.05
	smallestFieldTest = 2 // sets and targets
)

// A FieldTest is the outcome of the field test: the standard deviation of one
// direction (or one vertical angle) observed once on both faces.
type Test struct {
	Series     []precision.Spread // per series, seconds
	Residuals  [][][]float64      // seconds, per series, set and target
	S          precision.Spread   // all series together
	Full       bool               // of the size the full test asks for; else a short form
	AsStandard bool               // of the size of one of the standard's two forms
}

// FieldTestHorizontal works series of horizontal directions: reduced to the
// first target, d = mean − value per target, r = d − mean of d over the set; the
// spread of a series is √(Σr²/((n−1)(t−1))), ν = 8 in the full test and 6 in the
// short form, and the series are pooled. [ISO]
func Horizontal(series []Series) (*Test, error) {
	ft := &Test{}
	for i, s := range series {
		n, t, err := s.size(i)
		if err != nil {
			return nil, err
		}
		r := reducedToFirst(s.Values)
		for k := range t {
			centreColumn(r, k)
		}
		for _, row := range r {
			mean := 0.0
			for _, x := range row {
				mean += x / float64(t)
			}
			for k := range row {
				row[k] -= mean
			}
		}
		ft.add(r, (n-1)*(t-1))
	}
	return ft.close(series, fullTargets, shortTargets)
}

// reducedToFirst returns (first value of the set − value) in seconds beside the
// first set, so that nothing is lost about the full circle.
func reducedToFirst(v [][]reduce.Angle) [][]float64 {
	out := make([][]float64, len(v))
	for j := range v {
		out[j] = make([]float64, len(v[j]))
		for k := range v[j] {
			d := (v[j][k] - v[j][0]) - (v[0][k] - v[0][0])
			out[j][k] = -d.Wrap().Seconds()
		}
	}
	return out
}

// centreColumn takes the mean over the sets off column k: d = mean − value.
func centreColumn(r [][]float64, k int) {
	mean := 0.0
	for _, row := range r {
		mean += row[k] / float64(len(r))
	}
	for _, row := range r {
		row[k] -= mean
	}
}

// A VerticalTest is a FieldTest of vertical angles with the index error found.
type VerticalTest struct {
	Test
	Index   float64        // seconds: mean of all index errors
	IndexSD float64        // seconds: s/√(m·n·t)
	IsZero  precision.Test // the index error against t·IndexSD
}

// VerticalSeries is one series of vertical circle readings, both faces of set j
// on target k.
type VerticalSeries struct {
	Left, Right [][]reduce.Angle
}

// FieldTestVertical works series of vertical circle readings: per target the
// residuals of the sets about their mean, ν = (n−1)·t per series, and the mean
// index error held against zero at 95 %. [ISO]
func Vertical(series []VerticalSeries, c faces.Circle) (*VerticalTest, error) {
	vt := &VerticalTest{}
	sizes := make([]Series, len(series))
	count := 0
	for i, s := range series {
		sizes[i].Values = s.Left
		n, t, err := sizes[i].size(i)
		if err != nil {
			return nil, err
		}
		if a, b, err := (Series{s.Right}).size(i); err != nil || a != n || b != t {
			return nil, fmt.Errorf("%w: series %d has not both faces of every pointing", errFieldTest, i+1)
		}
		r := make([][]float64, n)
		for j := range r {
			r[j] = make([]float64, t)
			for k := range r[j] {
				alt, e := faces.VerticalPair(s.Left[j][k], s.Right[j][k], c)
				first, _ := faces.VerticalPair(s.Left[0][k], s.Right[0][k], c)
				r[j][k] = (alt - first).Seconds()
				vt.Index += e.Seconds()
				count++
			}
		}
		for k := range t {
			centreColumn(r, k)
		}
		vt.add(r, (n-1)*t)
	}
	if _, err := vt.close(sizes, verticalTargets, verticalTargets); err != nil {
		return nil, err
	}
	vt.Index /= float64(count)
	vt.IndexSD = vt.S.S / math.Sqrt(float64(count))
	vt.IsZero = precision.Zero(vt.Index, vt.IndexSD, vt.S.Dof, fieldAlpha)
	return vt, nil
}

// size checks that a series is complete and returns its sets and targets.
func (s Series) size(i int) (n, t int, err error) {
	n = len(s.Values)
	if n < smallestFieldTest || len(s.Values[0]) < smallestFieldTest {
		return 0, 0, fmt.Errorf("%w: series %d needs two sets on two targets at least", errFieldTest, i+1)
	}
	t = len(s.Values[0])
	for j, row := range s.Values {
		if len(row) != t {
			return 0, 0, fmt.Errorf("%w: series %d, set %d has %d targets, the first set has %d", errFieldTest, i+1, j+1, len(row), t)
		}
	}
	return n, t, nil
}

func (ft *Test) add(r [][]float64, dof int) {
	vv := 0.0
	for _, row := range r {
		for _, x := range row {
			vv += float64(x * x)
		}
	}
	ft.Residuals = append(ft.Residuals, r)
	ft.Series = append(ft.Series, precision.Spread{S: math.Sqrt(vv / float64(dof)), Dof: dof})
}

// close pools the series and says which form of the standard they fill.
func (ft *Test) close(series []Series, full, short int) (*Test, error) {
	if len(series) == 0 {
		return nil, fmt.Errorf("%w: no series", errFieldTest)
	}
	ft.S = precision.Pool(ft.Series...)
	every := func(targets int) bool {
		for _, s := range series {
			if len(s.Values) != Sets || len(s.Values[0]) != targets {
				return false
			}
		}
		return true
	}
	ft.Full = len(series) == fullSeries && every(full)
	ft.AsStandard = ft.Full || len(series) == 1 && every(short)
	return ft, nil
}
