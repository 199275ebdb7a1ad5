package precision

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// RangeLimit returns the studentised range q(1 − alpha; n, dof): what the largest
// less the smallest of n normal values, over their standard deviation, stays
// inside but for a share alpha. The standard deviation is found independently with
// dof degrees of freedom; dof ≤ 0: it is known. 3.64 at 0.05, 2 and 5; 2.77 at 0.05
// and 2 where it is known. +Inf where alpha is not between 0 and 1; 0 below two
// values. [QR]
func RangeLimit(alpha float64, n, dof int) float64 {
	switch {
	case !(alpha > 0 && alpha < 1):
		return math.Inf(1)
	case n < 2:
		return 0
	case n == 2: // a single difference: Student's t, exactly
		if dof > 0 {
			return math.Sqrt2 * studentQuantile(1-alpha/2, float64(dof))
		}
		return math.Sqrt2 * NormalLimit(alpha)
	}
	// Each of the n(n−1)/2 differences at its share of the risk: never too small.
	high := RangeLimit(alpha/(float64(n)*float64(n-1)/2), 2, dof)
	low := RangeLimit(alpha, 2, dof)
	if dof <= 0 {
		return rangeRoot(alpha, n, high)
	}
	cdf := tabulated(n, 2*high)
	nodes := scatters(dof)
	return root(func(q float64) float64 { return 1 - rangeOver(cdf, q, n, nodes) - alpha }, low, high)
}

// RangeWithin returns how likely the range of n normal values over their known
// standard deviation is at most q: what RangeLimit is the inverse of. 1 below two
// values. [QR]
func RangeWithin(q float64, n int) float64 {
	switch {
	case n < 2:
		return 1
	case !(q > 0):
		return 0
	}
	return rangeKnown(q, n)
}

// rangeRoot is RangeLimit for a known standard deviation, by Newton's steps from
// above on the logarithm of the risk, which is nearly straight.
func rangeRoot(alpha float64, n int, q float64) float64 {
	for range 12 {
		beyond := 1 - rangeKnown(q, n)
		if !(beyond > 0) {
			q *= 0.95
			continue
		}
		step := beyond * math.Log(beyond/alpha) / rangeDensity(q, n)
		if q += step; math.Abs(step) < 1e-7*q {
			break
		}
	}
	return q
}

// rangeDensity is the derivative of rangeKnown:
// n (n−1) ∫ φ(z) φ(z−q) (Φ(z) − Φ(z−q))^(n−2) dz. [QR]
func rangeDensity(q float64, n int) float64 {
	const h = 0.2
	sum := 0.0
	for z := -6.0; z <= 6+q; z += h {
		sum += float64(math.Exp(-(float64(z*z)+float64((z-q)*(z-q)))/2) * power(normalCDF(z)-normalCDF(z-q), n-2))
	}
	return float64(n) * float64(n-1) * sum * h / (2 * math.Pi)
}

// root finds where f, positive at low and not at high, passes zero, by false
// position with halving (Illinois), to a millionth.
func root(f func(float64) float64, low, high float64) float64 {
	a, b := f(low), f(high)
	if b >= 0 {
		return high
	}
	if a <= 0 {
		return low
	}
	for side := 0; high-low > 1e-6*high; {
		x := (float64(low*b) - float64(high*a)) / (b - a)
		y := f(x)
		if math.Abs(y) < 1e-12 {
			return x
		}
		if y > 0 {
			low, a = x, y
			if side == 1 {
				b /= 2
			}
			side = 1
		} else {
			high, b = x, y
			if side == -1 {
				a /= 2
			}
			side = -1
		}
	}
	return high
}

// rangeOver returns how likely the range of n normal values over their standard
// deviation is at most q: known is the answer for a known standard deviation, nodes
// are those of scatters, nil where it is known.
//
//	known:   n ∫ φ(z) (Φ(z) − Φ(z−q))^(n−1) dz
//	else:    the same at q·s, over the distribution of s = √(χ²/dof)   [QR]
func rangeOver(known func(q float64, n int) float64, q float64, n int, nodes [][2]float64) float64 {
	if nodes == nil {
		return known(q, n)
	}
	sum := 0.0
	for _, x := range nodes {
		sum += float64(x[1] * known(q*x[0], n))
	}
	return math.Min(1, sum)
}

// scatters returns nodes of s = √(χ²/dof) with their weights: the trapezium rule on
// ln s, whose integrand dies away on both sides. nil where dof ≤ 0.
func scatters(dof int) [][2]float64 {
	if dof <= 0 {
		return nil
	}
	nu := float64(dof)
	chi := distuv.ChiSquared{K: nu}
	low, high := math.Log(chi.Quantile(1e-13)/nu)/2, math.Log(chi.Quantile(1-1e-13)/nu)/2
	const steps = 60
	h := (high - low) / steps
	nodes := make([][2]float64, steps+1)
	for i := range nodes {
		s := math.Exp(low + float64(h*float64(i)))
		x := nu * s * s
		nodes[i] = [2]float64{s, chi.Prob(x) * 2 * x * h}
	}
	return nodes
}

// rangeKnown is rangeOver for a known standard deviation, by the trapezium
// rule, which is as good as exact for such an integrand.
func rangeKnown(q float64, n int) float64 {
	const h = 0.2
	sum := 0.0
	for z := -6.0; z <= 6+q; z += h {
		inside := normalCDF(z) - normalCDF(z-q)
		sum += float64(math.Exp(-z*z/2) * power(inside, n-1))
	}
	return math.Min(1, float64(n)*sum*h/math.Sqrt(2*math.Pi))
}

// tabulated returns rangeKnown for n values from a table, by cubic interpolation:
// the integral over the standard deviation asks for it a thousand times.
func tabulated(n int, high float64) func(q float64, n int) float64 {
	const step = 0.1
	last := int(math.Min(high, 14)/step) + 4 // beyond 14 all is inside
	phi := make([]float64, 2*60+1+last)      // Φ from −6 − high on
	for i := range phi {
		phi[i] = normalCDF(step * float64(i-60-last))
	}
	at := make([]float64, last)
	for z := -60; z <= 60; z += 2 {
		density := math.Exp(-float64(z*z) * step * step / 2)
		for i := 1; i < last; i++ {
			at[i] += float64(density * power(phi[z+60+last]-phi[z+60+last-i], n-1))
		}
	}
	for i := range at {
		at[i] = math.Min(1, at[i]*float64(n)*2*step/math.Sqrt(2*math.Pi))
	}
	return func(q float64, _ int) float64 {
		i := int(q / step)
		if i+2 >= last {
			return at[last-1]
		}
		a, b, c, d := 0.0, at[i], at[i+1], at[i+2]
		switch {
		case i > 0:
			a = at[i-1]
		case n%2 == 0: // near nothing it grows as q^(n−1), which is odd for even n
			a = -c
		default:
			a = c
		}
		t := q/step - float64(i)
		cubic := float64(3*(b-c)) + d - a
		square := float64(2*a) - float64(5*b) + float64(4*c) - d + float64(t*cubic)
		return b + float64(t/2*(c-a+float64(t*square)))
	}
}

// power returns x to the k, k whole and not negative.
func power(x float64, k int) float64 {
	p := 1.0
	for ; k > 0; k >>= 1 {
		if k&1 == 1 {
			p *= x
		}
		x *= x
	}
	return p
}

func normalCDF(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
