package places

import (
	"math"

	"example.org/readback/reduce/normal"
	"example.org/readback/reduce/precision"
	"example.org/readback/reduce/traverse"
)

// Limits are the risks of the tests.
type Limits struct {
	GlobalRisk float64 // of s₀² against χ², both sides together: 0.05
	LocalRisk  float64 // of one normalised residual: 0.001
	Power      float64 // that the smallest slip told shows: 0.80
}

// DefaultLimits are Baarda's customary risks. [M12]
func DefaultLimits() Limits { return Limits{GlobalRisk: 0.05, LocalRisk: 0.001, Power: 0.80} }

// A Place is an adjusted point.
type Place struct {
	At         traverse.Point
	Covariance traverse.Covariance // with σ₀ = 1; zero for a fixed point
	Fixed      bool
	Lost       bool // nothing fixes it: it and what was observed to it were left out
}

// Ellipse95 returns the ellipse that holds the place with a chance of 95 % where the
// stated standard deviations are right.
func (p Place) Ellipse95() traverse.Ellipse {
	e := p.Covariance.Ellipse()
	e.A, e.B = e.A*traverse.Ellipse95, e.B*traverse.Ellipse95
	return e
}

// A Residual judges one observation.
type Residual struct {
	Used       bool    // false: it hangs on a lost point
	V          float64 // adjusted − observed, radians or metres
	Redundancy float64 // 0 to 1: the part of a slip in it that shows in V
	W          float64 // |V|/(σ√r); 0 where nothing checks it
	Detectable float64 // smallest slip that would show, radians or metres; +Inf where nothing checks it
}

// unchecked is the redundancy number under which nothing checks an observation.
const unchecked = 1e-6

// Checked tells whether anything checks the observation.
func (r Residual) Checked() bool { return r.Used && r.Redundancy > unchecked }

// An Adjusted is an adjusted network.
type Adjusted struct {
	Places       []Place
	Orientations []float64 // of each set, radians clockwise from north, [0, 2π); see Oriented
	Oriented     []bool    // the set was used
	Residuals    []Residual
	Dof          int
	S0           float64        // √([pvv]/Dof): near 1 where the standard deviations are right; 0 where Dof is 0
	Global       precision.Test // of s₀² against χ²/dof
	Free         bool           // the datum is free: inner constraints
	Turned       bool           // a bearing is known
	Known        int            // points with a known place

	w      *work
	q      *normal.Matrix
	limits Limits
	white  []float64 // normalised residuals v/σ, of the used observations
}

// Adjust adjusts the network. Points that nothing fixes are left out and told as
// lost. Errors: ErrNoSolution, or one wrapping ErrObservation.
func Adjust(n *Network, limits Limits) (*Adjusted, error) {
	if err := n.check(); err != nil {
		return nil, err
	}
	w := newWork(n)
	if len(n.Points) == 0 {
		return &Adjusted{limits: limits, w: w}, nil
	}
	if err := w.settle(); err != nil {
		return nil, err
	}
	w.settleDatum()
	w.orientSets()
	w.linearise()
	w.assemble(w.envelope())
	w.m.Factor(undetermined)
	a := &Adjusted{w: w, q: w.m.Inverse(), limits: limits, Free: w.datum.free() && w.datum.anchors == 0, Turned: w.datum.turned, Known: w.datum.anchors}
	a.judge()
	a.take()
	return a, nil
}

// judge works residuals, redundancies and tests.
func (a *Adjusted) judge() {
	w := a.w
	a.Residuals = make([]Residual, len(w.net.Observations))
	a.white = make([]float64, len(w.obs))
	a.Oriented = make([]bool, len(w.orient))
	sum := 0.0
	redundancy := a.redundancies()
	for i, o := range w.obs {
		r := w.rows[i]
		a.white[i] = -r.l
		sum += float64(r.l * r.l)
		x := Residual{Used: true, V: -r.l * o.SD, Redundancy: max(0, redundancy[i]), Detectable: math.Inf(1)}
		if x.Checked() {
			x.W = math.Abs(r.l) / math.Sqrt(x.Redundancy)
			x.Detectable = precision.DetectableError(x.Redundancy, o.SD, a.limits.LocalRisk, a.limits.Power)
		}
		a.Residuals[w.from[i]] = x
	}
	a.Dof = len(w.obs) - w.n
	for s, m := range w.inSets {
		if len(m) > 0 {
			a.Oriented[s] = true
			a.Dof--
		}
	}
	if a.Dof > 0 {
		a.S0 = math.Sqrt(sum / float64(a.Dof))
		a.Global = precision.Spread{S: a.S0, Dof: a.Dof}.Between(1, a.limits.GlobalRisk)
	}
}

// redundancies returns 1 − cᵀQc − u²/Σu² of every used observation, c being its row
// with the orientation eliminated. [M12]
func (a *Adjusted) redundancies() []float64 {
	w := a.w
	out := make([]float64, len(w.obs))
	place := make([]int, w.n)
	for i := range w.rows {
		if r := &w.rows[i]; r.set < 0 {
			h := 0.0
			for j := range r.n {
				for k := range r.n {
					h += float64(r.val[j] * r.val[k] * a.q.At(r.col[j], r.col[k]))
				}
			}
			out[i] = 1 - h
		}
	}
	for s, x := range w.sets {
		n := len(x.col)
		block := make([]float64, n*n)
		for j, c := range x.col {
			place[c] = j
			for k, d := range x.col[:j+1] {
				block[j*n+k] = a.q.At(c, d)
				block[k*n+j] = block[j*n+k]
			}
		}
		c := make([]float64, n)
		for _, i := range w.inSets[s] {
			r := &w.rows[i]
			for j := range c {
				c[j] = -r.u * x.val[j] / x.uu
			}
			for k := range r.n {
				c[place[r.col[k]]] += r.val[k]
			}
			h := r.u * r.u / x.uu
			for j, v := range c {
				t := 0.0
				for k, b := range block[j*n : j*n+n] {
					t += float64(b * c[k])
				}
				h += float64(v * t)
			}
			out[i] = 1 - h
		}
	}
	return out
}

// take fills places and orientations.
func (a *Adjusted) take() {
	w := a.w
	a.Places = make([]Place, len(w.at))
	cofactors := a.pointCofactors()
	for p := range w.at {
		a.Places[p] = Place{At: w.at[p], Fixed: w.net.Points[p].Fixed, Lost: w.lost[p], Covariance: cofactors[p]}
	}
	a.Orientations = make([]float64, len(w.orient))
	for s, o := range w.orient {
		if o = math.Mod(o, 2*math.Pi); o < 0 {
			o += 2 * math.Pi
		}
		a.Orientations[s] = o
	}
}

// pointCofactors returns the cofactors of every place; of a free datum those of the
// inner constraints. [S]
func (a *Adjusted) pointCofactors() []traverse.Covariance {
	w := a.w
	out := make([]traverse.Covariance, len(w.at))
	var t *transform
	if w.datum.free() {
		t = a.transform()
	}
	for p, ws := range w.ways {
		var q [2][2]float64
		for _, x := range ws {
			for _, y := range ws {
				v := a.q.At(x.col, y.col)
				q[0][0] += float64(x.by.E * y.by.E * v)
				q[0][1] += float64(x.by.E * y.by.N * v)
				q[1][1] += float64(x.by.N * y.by.N * v)
			}
		}
		if t != nil && !w.lost[p] {
			t.apply(w, p, &q)
		}
		out[p] = traverse.Covariance{EE: max(0, q[0][0]), EN: q[0][1], NN: max(0, q[1][1])}
	}
	return out
}

// chiLimit is the upper limit of s₀² at the risk alpha, one-sided.
func chiLimit(dof int, alpha float64) float64 {
	f := precision.StatedFactor(dof, alpha)
	return f * f
}

// Reweighted returns the network adjusted with the standard deviations of its
// observations multiplied by factor: what other rounds would give. The values stay
// as they are.
func (a *Adjusted) Reweighted(factor func(i int, o Observation) float64) (*Adjusted, error) {
	n := &Network{Stop: a.w.net.Stop, Points: append([]Point(nil), a.w.net.Points...), Observations: append([]Observation(nil), a.w.net.Observations...)}
	for i := range n.Observations {
		n.Observations[i].SD *= factor(i, n.Observations[i])
	}
	return Adjust(n, a.limits)
}
