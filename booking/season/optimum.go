package season

import (
	"math"

	"example.org/readback/booking/check/culprit"
	"example.org/readback/reduce"
)

// A structure is what the optimum knows of a spoiler: the patterns in which it
// puts the readings off, one of them as likely as another, and by how much, to
// either side.
type structure struct {
	patterns func(s culprit.Station, c Cell) [][]float64
	size     func(c Cell) float64 // seconds
}

// A misfit is the plain per-face model of a station adjusted: what any rule has to
// go by that knows neither altitudes nor digits.
type misfit struct {
	f       *reduce.Faces
	station culprit.Station
}

func misfitOf(s culprit.Station) (misfit, bool) {
	rounds := map[int]int{}
	rs := make([]reduce.FaceReading, len(s.Readings))
	for k, r := range s.Readings {
		if _, seen := rounds[r.Round]; !seen {
			rounds[r.Round] = len(rounds)
		}
		rs[k] = reduce.FaceReading{Round: rounds[r.Round], Target: r.Target, Face: r.Face, Value: r.Value}
	}
	f, err := reduce.AdjustFaces(rs, len(rounds), len(s.Names))
	return misfit{f, s}, err == nil && f.Dof > 0
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
		for k, a := range z {
			if a == 0 {
				continue
			}
			pull -= a * m.f.Residuals[k]
			for l, b := range z {
				if b != 0 {
					own += a * b * m.f.ResidualCofactor(k, l)
				}
			}
		}
		add((d*pull - d*d*own/2) / v)
		add((-d*pull - d*d*own/2) / v)
	}
	return top + math.Log(sum/float64(max(n, 1)))
}

// single is one reading of those that fit.
func single(fits func(r culprit.Reading) bool) func(culprit.Station, Cell) [][]float64 {
	return func(s culprit.Station, _ Cell) [][]float64 {
		var zs [][]float64
		for k, r := range s.Readings {
			if fits(r) {
				z := make([]float64, len(s.Readings))
				z[k] = 1
				zs = append(zs, z)
			}
		}
		return zs
	}
}

// twoSingles are any two readings of targets, to either side.
func twoSingles(s culprit.Station, _ Cell) [][]float64 {
	var zs [][]float64
	for k, r := range s.Readings {
		for l, q := range s.Readings[:k] {
			if r.Target == 0 || q.Target == 0 {
				continue
			}
			for _, sign := range []float64{1, -1} {
				z := make([]float64, len(s.Readings))
				z[k], z[l] = 1, sign
				zs = append(zs, z)
			}
		}
	}
	return zs
}

// pairs are both faces of one pointing of a target.
func pairs(s culprit.Station, _ Cell) [][]float64 {
	var zs [][]float64
	for k, r := range s.Readings {
		for l, q := range s.Readings {
			if r.Face == reduce.FL && q.Face == reduce.FR && r.Target > 0 && r.Round == q.Round && r.Target == q.Target {
				z := make([]float64, len(s.Readings))
				z[k], z[l] = 1, 1
				zs = append(zs, z)
			}
		}
	}
	return zs
}

// halves are everything in one half.
func halves(s culprit.Station, c Cell) [][]float64 {
	var zs [][]float64
	for round := 1; round <= c.Rounds; round++ {
		for _, face := range []reduce.Face{reduce.FL, reduce.FR} {
			z := make([]float64, len(s.Readings))
			for k, r := range s.Readings {
				if r.Round == round && r.Face == face {
					z[k] = 1
				}
			}
			zs = append(zs, z)
		}
	}
	return zs
}

// kicks are everything in a round from the third sight of a half on.
func kicks(s culprit.Station, c Cell) [][]float64 {
	var zs [][]float64
	for round := 1; round <= c.Rounds; round++ {
		for _, face := range []reduce.Face{reduce.FL, reduce.FR} {
			for from := 2; from <= c.Targets; from++ {
				z := make([]float64, len(s.Readings))
				place := map[reduce.Face]int{}
				for k, r := range s.Readings {
					if r.Round != round {
						continue
					}
					if r.Face == face && place[face] >= from || r.Face == reduce.FR && face == reduce.FL {
						z[k] = 1
					}
					place[r.Face]++
				}
				zs = append(zs, z)
			}
		}
	}
	return zs
}

// drift is every sight further off than the one before it in its round.
func drift(s culprit.Station, _ Cell) [][]float64 {
	z := make([]float64, len(s.Readings))
	place := map[int]int{}
	for k, r := range s.Readings {
		z[k] = float64(place[r.Round])
		place[r.Round]++
	}
	return [][]float64{z}
}
