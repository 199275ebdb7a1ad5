package check

import (
	"fmt"
	"math"

	"example.org/readback/booking"
	"example.org/readback/booking/check/completion"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/precision"
	"example.org/readback/reduce/slope"
)

// uprightSuspects names the vertical pair whose index error stands apart: where one
// of three pairs or more lies further off the others than chance brings any,
// whatever the limit says. It names the face too where a slip explains one of them
// and not the other. With two pairs, whose spread exceeds its limit, either may be
// the one; both are named. A pair booked under each other's face keeps its index
// error; it is named for lying beyond the zenith.
func uprightSuspects(s booking.Setup, r reduction.Reduction) []Suspect {
	var pairs []reduction.VerticalWork
	var out []Suspect
	for _, v := range r.Verticals {
		switch {
		case !v.HasPair:
		case overhead(s, v, faces.FL) && overhead(s, v, faces.FR):
			out = append(out, Suspect{
				Target: v.Target, Upright: true, Weight: 1, Kind: slip.FaceNotChanged,
				Text: fmt.Sprintf("Both vertical circle readings of %s look booked under each other's face.", v.Target),
			})
		default:
			pairs = append(pairs, v)
		}
	}
	return append(out, oddIndex(s, pairs, r.Comparison)...)
}

// overhead tells whether a reading lies beyond the zenith, where the other face
// reads.
func overhead(s booking.Setup, v reduction.VerticalWork, f faces.Face) bool {
	alt := faces.AltitudeFL(v.FL.Angle(), s.Spec.Instrument.Circle)
	if f == faces.FR {
		alt = faces.AltitudeFR(v.FR.Angle(), s.Spec.Instrument.Circle)
	}
	return alt.Abs() > reduce.HalfTurn-steepest
}

// oddIndex names the pair whose index error stands apart from the mean of the
// others: beyond the normal deviate, or Student's where σ is not stated, at its
// share of the risk.
func oddIndex(s booking.Setup, pairs []reduction.VerticalWork, c reduction.Comparison) []Suspect {
	if len(pairs) < 2 {
		return nil
	}
	if len(pairs) == 2 {
		if (pairs[1].Index - pairs[0].Index).Wrap().Abs() <= c.Limits.Index.Value {
			return nil
		}
		a, b := upright(s, pairs[0], pairs[1].Index, pairs), upright(s, pairs[1], pairs[0].Index, pairs)
		a.Alike, b.Alike, a.Weight, b.Weight = true, true, 0.5, 0.5
		return []Suspect{a, b}
	}
	if odd, off := furthest(pairs); beyond(off, c.Scale.Upright(s.Spec.Instrument), pairs, odd) {
		return []Suspect{upright(s, pairs[odd], restIndex(pairs, odd), pairs)}
	}
	return nil
}

// furthest returns which of the pairs has the index error that lies furthest off the
// mean of the others, and by how many seconds.
func furthest(pairs []reduction.VerticalWork) (odd int, off float64) {
	for i, v := range pairs {
		if x := (v.Index - restIndex(pairs, i)).Wrap().Abs().Seconds(); i == 0 || x > off {
			odd, off = i, x
		}
	}
	return odd, off
}

// checkIndex holds the spread of the index error against its limit, and says which
// pair to read again.
func checkIndex(s booking.Setup, r reduction.Reduction) Check {
	again := ""
	var pairs []reduction.VerticalWork
	for _, v := range r.Verticals {
		if v.HasPair {
			pairs = append(pairs, v)
		}
	}
	switch len(pairs) {
	case 0:
	case 1:
		again = fmt.Sprintf("read the vertical circle on %s again, on both faces", pairs[0].Target)
	case 2:
		again = fmt.Sprintf("read the vertical circle on %s and on %s again, on both faces", pairs[0].Target, pairs[1].Target)
	default:
		odd, _ := furthest(pairs)
		again = fmt.Sprintf("read the vertical circle on %s again, on both faces", pairs[odd].Target)
	}
	return checkSpan(s, "index", "the index error", r.Index, r.Comparison.Limits.Index, again)
}

// restIndex returns the mean index error of the pairs but one.
func restIndex(pairs []reduction.VerticalWork, but int) reduce.Angle {
	var rest []reduce.Angle
	for i, v := range pairs {
		if i != but {
			rest = append(rest, (v.Index - pairs[0].Index).Wrap())
		}
	}
	return pairs[0].Index + mean(rest)
}

// uprightRisk is the risk of naming one of the vertical pairs of a sound setup.
const uprightRisk = 0.004

// beyond tells whether the index error of pair odd lies further from the mean of the
// others, off seconds, than it may. Where σ is not stated, the scatter is what 2c and the other
// index errors show.
func beyond(off float64, scale reduction.Scale, pairs []reduction.VerticalWork, odd int) bool {
	n := float64(len(pairs))
	apart, least := math.Sqrt(1+1/(n-1)), precision.NormalLimit(uprightRisk/n)
	if scale.Dof == 0 {
		return off > scale.S*apart*least
	}
	var rest []float64
	for i, v := range pairs {
		if i != odd {
			rest = append(rest, (v.Index - pairs[0].Index).Wrap().Seconds())
		}
	}
	_, spread := precision.SampleSpread(rest)
	all := precision.Pool(scale.Shown, spread)
	apart *= math.Max(all.S, scale.Least)
	return off > apart*least && off > apart*precision.StudentLimit(uprightRisk/n, all.Dof) // Student's is the wider, and takes long
}

// upright describes a vertical pair whose index error should be near to expected:
// the face too where that reading alone lies beyond the zenith, or where a slip
// explains it and not the other. Nearly every reading has some digit that makes
// an error under a minute: there the face is left open.
func upright(s booking.Setup, v reduction.VerticalWork, expected reduce.Angle, pairs []reduction.VerticalWork) Suspect {
	x := Suspect{Target: v.Target, Upright: true, Weight: 1}
	x.Text = fmt.Sprintf("The index error of the vertical pair on %s stands apart.", v.Target)
	off := 2 * (v.Index - expected).Wrap()
	l, r := slipOf(s, v, faces.FL, off, pairs), slipOf(s, v, faces.FR, off, pairs)
	leads := func(a, b slip.Result) bool {
		return a.Kind != slip.Unknown && a.Density >= clearly*b.Density && off.Abs() >= reduce.Arcminute
	}
	overL, overR := overhead(s, v, faces.FL), overhead(s, v, faces.FR)
	found := l
	switch {
	case overL && !overR, overL == overR && leads(l, r):
		x.Face = faces.FL
	case overR && !overL, leads(r, l):
		x.Face, found = faces.FR, r
	default:
		x.Readers = []culprit.Reader{{Face: faces.FL, Kinds: culprit.Allowed(l)}, {Face: faces.FR, Kinds: culprit.Allowed(r)}}
		x.Text += " " + culprit.ReadersText(x.Readers)
		if l.Kind != r.Kind || l.Part != r.Part {
			return x
		}
		x.Kind, x.Part = found.Kind, found.Part
		return x
	}
	x.Kind, x.Part = found.Kind, found.Part
	if x.Kind != slip.Unknown {
		x.Text += " " + found.Text
	}
	return x
}

// slipOf searches for the slip in the reading of a pair on a face that is off by
// so much.
func slipOf(s booking.Setup, v reduction.VerticalWork, f faces.Face, off reduce.Angle, pairs []reduction.VerticalWork) slip.Result {
	i := s.Spec.Instrument
	sd := reduce.FromSeconds(2 * verticalNoise(&s))
	half := entryLimit(s.Spec.Limits, i.LeastCount, sd.Seconds())
	around := func(a reduce.Angle) slip.Expectation {
		return slip.Expectation{Band: completion.Band{Centre: a.Normalize(), Half: half}, Sigma: sd}
	}
	on := func(w reduction.VerticalWork) reduce.Angle {
		if f == faces.FR {
			return w.FR.Angle()
		}
		return w.FL.Angle()
	}
	centre := on(v) - off
	c := slip.Case{Value: on(v), Unit: i.Unit, LeastCount: i.LeastCount, Expected: []slip.Expectation{around(centre)}}
	face := around(mirrored(i.Circle, centre))
	face.Half += 2 * reduce.Arcminute
	c.Alternatives = []slip.Alternative{
		{Kind: slip.FaceNotChanged, Expectation: face},
		{Kind: slip.FaceNotChanged, Expectation: around(centre + reduce.HalfTurn)},
	}
	for _, w := range pairs {
		if w.Target != v.Target {
			c.Alternatives = append(c.Alternatives, slip.Alternative{Kind: slip.WrongTarget, Expectation: around(on(w))})
		}
	}
	c.Gradient = slope.Gradient(faces.AltitudeFL(centre.Normalize(), i.Circle))
	if f == faces.FR {
		c.Gradient = slope.Gradient(faces.AltitudeFR(centre.Normalize(), i.Circle))
	}
	return slip.Search(c)
}
