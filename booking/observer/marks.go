package observer

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/slope"
	"example.org/readback/reduce/traverse"
)

// A mark is where a station or a target is, metres.
type mark struct {
	at  traverse.Point
	up  float64
	rod lengths.Length // height of the target over the mark
}

// ground places the marks of the first station's lines, that station at nothing.
func (o *Observer) ground(first spec.Spec) map[string]mark {
	marks := map[string]mark{first.Station: {rod: 1_400 * lengths.Millimetre}}
	for _, l := range o.Lines {
		d, up := slope.Reduce(l.Slope.Metres(), l.Altitude, o.Height.Metres(), l.Height.Metres(), first.Refraction)
		sin, cos := math.Sincos(l.Direction.Radians())
		marks[l.Target] = mark{at: traverse.Point{E: d * sin, N: d * cos}, up: up, rod: l.Height}
	}
	return marks
}

// at returns the same observer with the same instrument on another station of
// the ground of the first: what is sighted there fits what was sighted from the
// first, so that figures close. A name that the first station does not know
// stands at a place that follows from the seed and the name.
func (o *Observer) at(s booking.Setup) *Observer {
	marks := o.ground(o.Spec)
	find := func(name string) mark {
		if m, ok := marks[name]; ok {
			return m
		}
		return o.somewhere(name)
	}
	out := *o
	if h, ok := s.At(spec.Slot{Quantity: spec.InstrumentHeight}); ok {
		out.Height = h.Length() // the learner measured it
	}
	out.Seed, out.Spec, out.Lines, out.Faults, out.left = o.Seed+uint64(s.Number)<<32, s.Spec, nil, nil, nil
	here := find(s.Spec.Station)
	var ro reduce.Angle
	for i, name := range s.Spec.Sighted() {
		l, bearing := line(here, find(name), out.Height, s.Spec.Refraction)
		if i == 0 {
			ro = bearing
		}
		l.Target, l.Direction = name, (bearing - ro).Normalize()
		out.Lines = append(out.Lines, l)
	}
	return &out
}

// somewhere is the place of a name that is not on the ground yet: 60 m to 240 m
// from its middle.
func (o *Observer) somewhere(name string) mark {
	h := fnv.New64a()
	h.Write([]byte(name))
	r := rand.New(rand.NewPCG(o.Seed, h.Sum64()))
	sin, cos := math.Sincos(2 * math.Pi * r.Float64())
	d := 60 + 180*r.Float64()
	return mark{at: traverse.Point{E: d * sin, N: d * cos}, up: 10*r.Float64() - 3, rod: lengths.Length(1_200+r.IntN(500)) * lengths.Millimetre}
}

// line is the sight from one mark to another with the bearing it has.
func line(from, to mark, hi lengths.Length, k float64) (Line, reduce.Angle) {
	bearing, err := traverse.Bearing(from.at, to.at)
	d := traverse.Distance(from.at, to.at)
	if err != nil || d == 0 {
		return Line{Height: to.rod}, 0
	}
	curve := (1 - k) * d * d / (2 * slope.EarthRadius)
	rise := to.up - from.up - hi.Metres() + to.rod.Metres() - curve
	return Line{
		Altitude: reduce.FromRadians(math.Atan2(rise, d)),
		Slope:    lengths.FromMetres(math.Hypot(rise, d)),
		Height:   to.rod,
	}, bearing.Angle()
}
