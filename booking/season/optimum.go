package season

import (
	"math"

	"example.org/readback/booking/check/culprit"
	"example.org/readback/reduce/adjust"
	"example.org/readback/reduce/faces"
)

// A structure is what the optimum knows of a spoiler: the patterns in which it
// puts the readings off, one of them as likely as another, and by how much, to
// either side.
type structure struct {
	patterns func(s culprit.Station, c Cell) []pattern
	size     func(c Cell) float64 // seconds
}

// A pattern is the readings that are off, and by how many times the size.
type pattern struct {
	at []int
	by []float64
}

func (p *pattern) add(reading int, times float64) {
	p.at, p.by = append(p.at, reading), append(p.by, times)
}

// A misfit is the plain per-face model of a station adjusted: what any rule has to
// go by that knows neither altitudes nor digits.
type misfit struct {
	f       *adjust.Faces
	station culprit.Station
	q       []float64 // cofactors of the residuals
}

func misfitOf(s culprit.Station) (misfit, bool) {
	f, ok := culprit.Plain(s)
	if !ok {
		return misfit{}, false
	}
	n := len(s.Readings)
	m := misfit{f: f, station: s, q: make([]float64, n*n)}
	for k := range n {
		for l := range k + 1 {
			m.q[k*n+l] = f.Q.At(k, l)
			m.q[l*n+k] = m.q[k*n+l]
		}
	}
	return m, true
}

// ratio returns the logarithm of the likelihood ratio of a spoiler against a sound
// station, for one that knows the true σ, the patterns and the size: by Neyman and
// Pearson's lemma no rule on the same misfit that holds as many sound stations
// holds more spoiled ones.
func (m misfit) ratio(x structure, c Cell) float64 {
	lc := c.LeastCount.Seconds()
	v := float64(2*c.Sigma*c.Sigma) + float64(lc*lc)/12
	d := x.size(c)
	top, sum, n := math.Inf(-1), 0.0, 0
	add := func(l float64) {
		n++
		if l > top {
			sum, top = sum*math.Exp(top-l)+1, l
			return
		}
		sum += math.Exp(l - top)
	}
	for _, z := range x.patterns(m.station, c) {
		pull, own := 0.0, 0.0
		for i, k := range z.at {
			pull -= z.by[i] * m.f.Residuals[k]
			for j, l := range z.at {
				own += z.by[i] * z.by[j] * m.q[k*len(m.f.Residuals)+l]
			}
		}
		add((d*pull - d*d*own/2) / v)
		add((-d*pull - d*d*own/2) / v)
	}
	return top + math.Log(sum/float64(max(n, 1)))
}

// single is one reading of those that fit.
func single(fits func(r culprit.Reading) bool) func(culprit.Station, Cell) []pattern {
	return func(s culprit.Station, _ Cell) []pattern {
		var zs []pattern
		for k, r := range s.Readings {
			if fits(r) {
				zs = append(zs, pattern{[]int{k}, []float64{1}})
			}
		}
		return zs
	}
}

// twoSingles are any two readings of targets, to the same side or not.
func twoSingles(s culprit.Station, _ Cell) []pattern {
	var zs []pattern
	for k, r := range s.Readings {
		for l, q := range s.Readings[:k] {
			if r.Target > 0 && q.Target > 0 {
				zs = append(zs, pattern{[]int{k, l}, []float64{1, 1}}, pattern{[]int{k, l}, []float64{1, -1}})
			}
		}
	}
	return zs
}

// pairs are both faces of one pointing of a target.
func pairs(s culprit.Station, _ Cell) []pattern {
	var zs []pattern
	for k, r := range s.Readings {
		for l, q := range s.Readings {
			if r.Face == faces.FL && q.Face == faces.FR && r.Target > 0 && r.Round == q.Round && r.Target == q.Target {
				zs = append(zs, pattern{[]int{k, l}, []float64{1, 1}})
			}
		}
	}
	return zs
}

// halves are everything in one half.
func halves(s culprit.Station, c Cell) []pattern {
	var zs []pattern
	for round := 1; round <= c.Rounds; round++ {
		for _, face := range []faces.Face{faces.FL, faces.FR} {
			var z pattern
			for k, r := range s.Readings {
				if r.Round == round && r.Face == face {
					z.add(k, 1)
				}
			}
			zs = append(zs, z)
		}
	}
	return zs
}

// kicks are everything in a round from the third sight of a half on.
func kicks(s culprit.Station, c Cell) []pattern {
	var zs []pattern
	for round := 1; round <= c.Rounds; round++ {
		for _, face := range []faces.Face{faces.FL, faces.FR} {
			for from := 2; from <= c.Targets; from++ {
				var z pattern
				place := 0
				for k, r := range s.Readings {
					if r.Round != round {
						continue
					}
					if r.Face == face && place >= from || r.Face == faces.FR && face == faces.FL {
						z.add(k, 1)
					}
					if r.Face == face {
						place++
					}
				}
				zs = append(zs, z)
			}
		}
	}
	return zs
}

// drift is every sight further off than the one before it in its round.
func drift(s culprit.Station, _ Cell) []pattern {
	var z pattern
	place := map[int]int{}
	for k, r := range s.Readings {
		z.add(k, float64(place[r.Round]))
		place[r.Round]++
	}
	return []pattern{z}
}
