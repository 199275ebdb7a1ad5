package season

import (
	"math"
	"math/rand/v2"

	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// trial counts how one slip in one reading that got through is found.
type trial struct {
	factor    float64 // size in limits for rounds
	digits    bool    // a slip in the digits of about that size, not a plain error of it
	n         int
	largest   int // named by the plain largest normalised residual
	likeliest int // named when the tool must name one
	first     int // named first by the tool
	alone     int // named alone
	wrong     int // another named alone
	none      int // nothing named
}

// trials puts one reading of each of n stations off and asks for the culprit.
func (t *Table) trials(n int, seed uint64) {
	site := ground{Sigma: 2, Stated: 2, LeastCount: reduce.Arcsecond, Limits: 5 * reduce.Arcsecond, Targets: [2]int{3, 7}, Rounds: [2]int{2, 2}}
	coarse := site
	coarse.LeastCount = 5 * reduce.Arcsecond
	for i, s := range []ground{site, coarse} {
		for _, x := range []trial{{factor: 1}, {factor: 1, digits: true}, {factor: 1.5}, {factor: 3}, {factor: 0}} {
			rng := rand.New(rand.NewPCG(seed, 100+uint64(10*i)))
			for range n {
				x.run(s.draw(rng, 0), rng)
			}
			t.found[i] = append(t.found[i], x)
		}
	}
	rng := rand.New(rand.NewPCG(seed, 200))
	for range n {
		t.two.run(site.draw(rng, 0), rng)
	}
}

// bookAll books a station without a slip and without help.
func bookAll(o *observer.Observer) *crew {
	c, err := newCrew(o, &tally{})
	if err != nil || c.work() != nil {
		return nil
	}
	return c
}

func (x *trial) run(o *observer.Observer, rng *rand.Rand) {
	c := bookAll(o)
	if c == nil || len(c.s.Rounds) != 2 {
		return // the rounds disagreed by chance: a third was called
	}
	k, ok := x.spoil(c, rng)
	if !ok {
		return
	}
	x.n++
	r := c.s.Readings[k].Slot
	st := check.FaceReadings(c.s)
	is := func(i int) bool {
		q := st.Readings[i]
		return q.Round == r.Round && st.Names[q.Target] == r.Target && q.Face == r.Face
	}
	if i, _, _, ok := culprit.LargestResidual(st); ok && is(i) {
		x.largest++
	}
	if i, ok := culprit.Likeliest(st); ok && is(i) {
		x.likeliest++
	}
	found := check.Suspects(c.s)
	switch {
	case len(found) == 0:
		x.none++
	case names(found[0], r):
		x.first++
		x.alone += one(len(found) == 1)
	case len(found) == 1 && !covers(found[0], r) || len(found) == 1 && x.factor == 0:
		x.wrong++
	}
}

// spoil puts one horizontal reading off and returns its place.
func (x *trial) spoil(c *crew, rng *rand.Rand) (int, bool) {
	for range 200 {
		k := rng.IntN(len(c.s.Readings))
		r := &c.s.Readings[k]
		if r.Slot.Quantity != spec.Horizontal {
			continue
		}
		limit := c.s.Spec.Limits.Rounds.Value
		if !x.digits {
			d := reduce.FromSeconds(limit.Seconds() * x.factor * float64(1-2*rng.IntN(2)))
			r.Value = int64((r.Angle() + d).Normalize())
			return k, true
		}
		call := c.o.Slip(c.s, r.Slot, r.Angle(), rng)
		d := (reduce.Angle(call.Value) - r.Angle()).Wrap().Abs().Seconds() / limit.Seconds()
		if call.Slipped && d >= x.factor*0.9 && d <= x.factor*1.25 {
			r.Value, r.Text = call.Value, keyed(call)
			return k, true
		}
	}
	return 0, false
}

// names tells whether a suspect is exactly the reading of the slot.
func names(s check.Suspect, r spec.Slot) bool {
	return s.Round == r.Round && s.Target == r.Target && s.Face == r.Face
}

// covers tells whether a suspect, as far as it is told, is no other reading.
func covers(s check.Suspect, r spec.Slot) bool {
	return (s.Round == 0 || s.Round == r.Round) && (s.Target == "" || s.Target == r.Target) && (s.Face == faces.NoFace || s.Face == r.Face)
}

// couple counts how two slips in one station are found.
type couple struct {
	n, both, one, none int
}

func (x *couple) run(o *observer.Observer, rng *rand.Rand) {
	c := bookAll(o)
	if c == nil {
		return
	}
	x.n++
	big := trial{factor: 3}
	k, _ := big.spoil(c, rng)
	l := k
	for l == k {
		l = rng.IntN(len(c.s.Readings))
	}
	d := reduce.FromSeconds(3 * c.s.Spec.Limits.Rounds.Value.Seconds() * math.Copysign(1, rng.Float64()-0.5))
	c.s.Readings[l].Value = int64((c.s.Readings[l].Angle() + d).Normalize())
	hits := 0
	found := check.Suspects(c.s)
	for _, i := range []int{k, l} {
		for _, s := range found {
			if names(s, c.s.Readings[i].Slot) {
				hits++
				break
			}
		}
	}
	switch hits {
	case 2:
		x.both++
	case 1:
		x.one++
	default:
		x.none++
	}
}
