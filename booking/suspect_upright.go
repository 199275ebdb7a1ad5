package booking

import (
	"fmt"
	"math"
	"slices"

	"example.org/readback/booking/culprit"
	"example.org/readback/booking/entry"
	"example.org/readback/booking/slip"
	"example.org/readback/reduce"
)

// uprightSuspects names the vertical pair whose index error stands apart: where
// the spread exceeds its limit, or where one of three pairs or more lies further
// off the middle one than chance brings any. It names the face too where a slip
// explains one of them and not the other. With two pairs either may be the one;
// both are named.
func (s Setup) uprightSuspects() []Suspect {
	var pairs []VerticalWork
	for _, v := range s.workVerticals() {
		if v.HasPair {
			pairs = append(pairs, v)
		}
	}
	if len(pairs) < 2 {
		return nil
	}
	middle, scatter := s.middleIndex(pairs)
	var span *Span
	odd := pairs[0]
	for _, v := range pairs {
		off := (v.Index - middle).Wrap()
		span = span.with(off)
		if off.Abs() > (odd.Index - middle).Wrap().Abs() {
			odd = v
		}
	}
	exceeded := span.Width() > s.Spec.Limits.Index.Value
	if len(pairs) == 2 && exceeded {
		a, b := s.upright(pairs[0], pairs[1].Index), s.upright(pairs[1], pairs[0].Index)
		a.Alike, b.Alike = true, true
		return []Suspect{a, b}
	}
	apart := (odd.Index - middle).Wrap().Abs().Seconds() / scatter
	if exceeded || len(pairs) > 2 && apart > reduce.NormalLimit(uprightRisk/float64(len(pairs))) {
		return []Suspect{s.upright(odd, middle)}
	}
	return nil
}

// uprightRisk is the risk of naming one of the vertical pairs of a sound setup.
const uprightRisk = 0.01

// middleIndex returns the median index error and the standard deviation of one
// against it in seconds: that of the stated or taken noise, or that of the
// scatter (1.48 × the median distance from the median) where it is larger.
func (s Setup) middleIndex(pairs []VerticalWork) (middle reduce.Angle, scatter float64) {
	var list []reduce.Angle
	for _, v := range pairs {
		list = append(list, v.Index)
	}
	slices.Sort(list)
	middle = list[len(list)/2]
	for i, x := range list {
		list[i] = (x - middle).Wrap().Abs()
	}
	slices.Sort(list)
	noise := s.verticalNoise() / math.Sqrt2 * math.Sqrt(1+math.Pi/2/float64(len(pairs)))
	return middle, math.Max(noise, 1.48*list[len(list)/2].Seconds())
}

// upright describes a vertical pair whose index error should be near to expected.
func (s Setup) upright(v VerticalWork, expected reduce.Angle) Suspect {
	x := Suspect{Target: v.Target, Upright: true, Weight: 1}
	x.Text = fmt.Sprintf("The index error of the vertical pair on %s stands apart.", v.Target)
	off := 2 * (v.Index - expected).Wrap()
	l, r := s.slipOf(v.FL.Angle(), off), s.slipOf(v.FR.Angle(), off)
	found := l
	switch {
	case l.Density >= clearly*r.Density && l.Kind != slip.Unknown:
		x.Face = culprit.FaceLeft
	case r.Density >= clearly*l.Density && r.Kind != slip.Unknown:
		x.Face, found = culprit.FaceRight, r
	case l.Kind != r.Kind || l.Part != r.Part:
		return x
	}
	x.Kind, x.Part = found.Kind, found.Part
	if x.Kind != slip.Unknown {
		x.Text += " " + found.Text
	}
	return x
}

// slipOf searches for the slip in a reading that is off by so much.
func (s Setup) slipOf(a, off reduce.Angle) slip.Result {
	i := s.Spec.Instrument
	sd := reduce.FromSeconds(2 * s.verticalNoise())
	half := entryLimit(s.Spec.Limits, i.LeastCount, sd.Seconds())
	band := entry.Band{Centre: (a - off).Normalize(), Half: half}
	return slip.Search(slip.Case{
		Value: a, Unit: i.Unit, LeastCount: i.LeastCount,
		Expected: []slip.Expectation{{Band: band, Sigma: sd}},
	})
}
