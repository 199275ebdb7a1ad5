package adjust

import "slices"

// Cofactors are those of the residuals, Q = I − A N⁻¹ Aᵀ, without a place for every
// two readings: those of one target and face, in rounds that see alike, are a class,
// and what two readings have in common hangs on their classes and on whether they are
// of one round. A large station has readings by the hundred and few classes. [M12]
type Cofactors struct {
	round  []int     // of each reading
	class  []int     // of each reading
	each   []float64 // 1/n of each round
	shared []float64 // classes × classes: aᵀN⁻¹a′ of two classes, a less S/n of its round
	n      int       // classes
}

// At returns element k, l of Q. k and l are places in the list of readings.
func (c *Cofactors) At(k, l int) float64 {
	q := -c.shared[c.class[k]*c.n+c.class[l]]
	if i := c.round[k]; i == c.round[l] {
		q -= c.each[i]
	}
	if k == l {
		q++
	}
	return q
}

// Row puts row k of Q into row, which has a place for each reading.
func (c *Cofactors) Row(k int, row []float64) {
	shared, round := c.shared[c.class[k]*c.n:c.class[k]*c.n+c.n], c.round[k]
	for l, of := range c.class {
		row[l] = 0 - shared[of]
		if c.round[l] == round {
			row[l] -= c.each[round]
		}
	}
	row[k]++
}

// Square returns zᵀQz, of a number for each reading.
func (c *Cofactors) Square(z []float64) float64 {
	sum := 0.0
	rounds, classes := make([]float64, len(c.each)), make([]float64, c.n)
	for k, a := range z {
		if a != 0 {
			sum += float64(a * a)
			rounds[c.round[k]] += a
			classes[c.class[k]] += a
		}
	}
	for i, a := range rounds {
		sum -= float64(a * a * c.each[i])
	}
	for i, a := range classes {
		if a != 0 {
			sum -= float64(a * product(classes, c.shared[i*c.n:i*c.n+c.n]))
		}
	}
	return sum
}

// Times returns Qz.
func (c *Cofactors) Times(z []float64) []float64 {
	rounds, classes := make([]float64, len(c.each)), make([]float64, c.n)
	for k, a := range z {
		rounds[c.round[k]] += a
		classes[c.class[k]] += a
	}
	common := make([]float64, c.n)
	for i := range common {
		common[i] = product(classes, c.shared[i*c.n:i*c.n+c.n])
	}
	out := make([]float64, len(z))
	for k, a := range z {
		i := c.round[k]
		out[k] = a - float64(rounds[i]*c.each[i]) - common[c.class[k]]
	}
	return out
}

// Absorb takes an effect into the model: Q − Qz·zᵀQ/den. The effect must be the same
// for all readings of one target and face; qz is Qz.
func (c *Cofactors) Absorb(qz []float64, den float64) {
	of := make([]float64, c.n)
	for k, a := range qz {
		of[c.class[k]] = a
	}
	for i, a := range of {
		row := c.shared[i*c.n : i*c.n+c.n]
		for j, b := range of {
			row[j] += float64(a * b / den)
		}
	}
}

// cofactors works out those of a solved system of single faces.
func (s *solver) cofactors() Cofactors {
	m := s.unknowns
	c := Cofactors{round: make([]int, len(s.rays)), class: make([]int, len(s.rays)), each: make([]float64, s.rounds)}
	for i, n := range s.n {
		if n > 0 {
			c.each[i] = 1 / n
		}
	}
	alike := s.alike()
	inverse := s.inverse()
	number := make([]int, 2*s.rounds*s.targets)
	var first []ray // of each class
	for k, r := range s.rays {
		c.round[k] = r.round
		r.round = alike[r.round]
		at := &number[s.place(r)]
		if *at == 0 {
			first = append(first, r)
			*at = len(first)
		}
		c.class[k] = *at - 1
	}
	c.n = len(first)
	c.shared = make([]float64, c.n*c.n)
	mean := make([]float64, s.rounds*m) // N⁻¹S/n of each round that is the first of its kind
	for i, j := range alike {
		if i == j && s.n[i] > 0 {
			for k := range m {
				mean[i*m+k] = product(s.sum[i*m:i*m+m], inverse[k*m:k*m+m]) * c.each[i]
			}
		}
	}
	w, parts := make([]float64, m), make([]float64, s.rounds)
	for a, r := range first {
		for j, x := range inverse[(m-1)*m : m*m] { // N⁻¹a
			w[j] = float64(r.sign*x) - mean[r.round*m+j]
		}
		if r.target > 0 {
			for j, x := range inverse[(r.target-1)*m : r.target*m] {
				w[j] += x
			}
		}
		for i, j := range alike {
			if i == j {
				parts[i] = product(s.sum[i*m:i*m+m], w) * c.each[i]
			}
		}
		for b, q := range first[:a+1] {
			x := float64(q.sign*w[m-1]) - parts[q.round]
			if q.target > 0 {
				x += w[q.target-1]
			}
			c.shared[a*c.n+b], c.shared[b*c.n+a] = x, x
		}
	}
	return c
}

// inverse returns N⁻¹ of a solved system, row by row.
func (s *solver) inverse() []float64 {
	m := s.unknowns
	list, z := make([]float64, m*m), s.normal.Inverse()
	for i := range m {
		for j := range i + 1 {
			list[i*m+j] = z.At(i, j)
			list[j*m+i] = list[i*m+j]
		}
	}
	return list
}

// place numbers the sights of a target on a face in a round, round by round.
func (s *solver) place(r ray) int {
	at := 2 * (r.round*s.targets + r.target)
	if r.sign < 0 {
		at++
	}
	return at
}

// alike returns of each round the first one that sees the same: every target as often
// on either face.
func (s *solver) alike() []int {
	t := 2 * s.targets
	seen := make([]int, s.rounds*t)
	for _, r := range s.rays {
		seen[s.place(r)]++
	}
	first := make([]int, s.rounds)
	for i := range first {
		for !slices.Equal(seen[first[i]*t:first[i]*t+t], seen[i*t:i*t+t]) {
			first[i]++
		}
	}
	return first
}
