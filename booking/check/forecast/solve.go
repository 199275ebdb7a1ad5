package forecast

import (
	"math"
	"slices"

	"example.org/readback/booking/check/align"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/normal"
)

// fit is one solution of the normal equations. The unknowns are corrections in
// seconds to the rough values: an orientation per round, a direction per target
// but the RO, c, and e per target.
type fit struct {
	f       *Forecast
	n       int
	l       *normal.Matrix
	x       []float64
	scratch []float64
	off     []float64 // of each reading: its misfit over the standard deviation of that, 0 where it is small
}

// row is an equation: at most four unknowns with factors ±1.
type row struct {
	at   [4]int
	sign [4]float64
	n    int
}

func (r *row) put(at int, sign float64) {
	r.at[r.n], r.sign[r.n] = at, sign
	r.n++
}

// rowOf returns the equation of a reading.
func (f *Forecast) rowOf(round, target int, face faces.Face) row {
	var r row
	rounds, targets := len(f.a.Rounds), len(f.s.Names)
	sign := 1.0
	if face == faces.FR {
		sign = -1
	}
	r.put(f.a.Round(round), 1)
	if target > 0 {
		r.put(rounds+target-1, 1)
	}
	c := rounds + targets - 1
	r.put(c, sign)
	r.put(c+1+target, sign)
	return r
}

// deviation returns the reading less the rough value, in seconds.
func (f *Forecast) deviation(r align.Reading) float64 {
	return r.Value.Sub(f.a.Expected(r.Round, r.Target, r.Face)).Seconds()
}

// solve fits the readings, those in out set aside.
func (f *Forecast) solve(out []int) *fit {
	rounds, targets := len(f.a.Rounds), len(f.s.Names)
	x := &fit{f: f, n: rounds + 2*targets}
	x.l, x.x = normal.New(x.n), make([]float64, x.n)
	x.off = make([]float64, len(f.s.Readings))
	x.weigh(f)
	for k, r := range f.s.Readings {
		if !slices.Contains(out, k) {
			x.add(f.rowOf(r.Round, r.Target, r.Face), f.deviation(r), f.noise(r))
		}
	}
	x.l.Factor(0) // every diagonal holds a positive weight
	x.l.Solve(x.x)
	for k, r := range f.s.Readings {
		if slices.Contains(out, k) {
			continue
		}
		a := f.rowOf(r.Round, r.Target, r.Face)
		noise := f.noise(r)
		if v := math.Abs(f.deviation(r) - x.value(a)); v > 2*noise {
			x.off[k] = v / math.Sqrt(math.Max(float64(noise*noise)-x.variance(a), noise*noise/50))
		}
	}
	return x
}

// doubted is how much rougher a reading is taken that was booked although it did
// not fit the others: it and they cannot both be right.
const doubted = 5

func (f *Forecast) noise(r align.Reading) float64 {
	if r.Doubted {
		return doubted * f.sigma
	}
	return f.sigma
}

// weigh enters what is known beforehand.
func (x *fit) weigh(f *Forecast) {
	rounds, targets := len(f.a.Rounds), len(f.s.Names)
	for i := 0; i < x.n; i++ {
		sd := float64(nothingSD)
		switch c := rounds + targets - 1; {
		case i == c && f.known.CollimationSD > 0:
			sd = f.known.CollimationSD
			x.x[i] = f.known.Collimation / (sd * sd)
		case i == c:
			sd = collimationSD
		case i > c:
			sd = targetSD
		}
		x.l.Add(i, i, 1/(sd*sd))
	}
	for _, k := range f.known.Directions {
		if k.Target < 1 || k.Target >= targets || !f.a.Seen[k.Target] {
			continue
		}
		var r row
		r.put(rounds+k.Target-1, 1)
		x.add(r, f.a.Dir[0].Add(k.Direction.Angle()).Sub(f.a.Dir[k.Target]).Seconds(), k.SD)
	}
}

// add adds an observation of standard deviation sd to the normal equations.
func (x *fit) add(r row, value, sd float64) {
	w := 1 / (sd * sd)
	for i := 0; i < r.n; i++ {
		for j := 0; j <= i; j++ {
			x.l.Add(r.at[i], r.at[j], w*r.sign[i]*r.sign[j])
		}
		x.x[r.at[i]] += float64(w * r.sign[i] * value)
	}
}

// value returns the fitted value of an equation.
func (x *fit) value(r row) float64 {
	v := 0.0
	for i := 0; i < r.n; i++ {
		v += float64(r.sign[i] * x.x[r.at[i]])
	}
	return v
}

// variance returns the variance of the fitted value of an equation.
func (x *fit) variance(r row) float64 {
	if x.scratch == nil {
		x.scratch = make([]float64, x.n)
	}
	b := x.scratch
	clear(b)
	for i := 0; i < r.n; i++ {
		b[r.at[i]] = r.sign[i]
	}
	x.l.Forward(b)
	v := 0.0
	for _, y := range b {
		v += float64(y * y)
	}
	return v
}

// predict returns the expected reading and the standard deviation of a reading
// against it.
func (x *fit) predict(round, target int, face faces.Face) (reduce.Direction, float64) {
	r := x.f.rowOf(round, target, face)
	value := x.f.a.Expected(round, target, face).Add(reduce.FromSeconds(x.value(r)))
	return value, math.Sqrt(float64(x.f.sigma*x.f.sigma) + x.variance(r))
}
