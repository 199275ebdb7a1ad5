package places

import (
	"cmp"
	"math"
	"slices"

	"example.org/readback/reduce/traverse"
)

// A Fault is what kind of one thing being wrong is supposed.
type Fault uint8

// The faults.
const (
	OneObservation Fault = 1 // one observation
	OneSight       Fault = 2 // direction and distance from a set to one target: another mark was sighted, or a name is wrong
	OnePoint       Fault = 3 // a known point lies elsewhere
	OneStation     Fault = 4 // during one set the instrument stood elsewhere
	OneLine        Fault = 6 // every distance between two points, alike
	AngleAndLength Fault = 5 // one direction and one distance, each wrong by its own amount
)

// An Explanation supposes one thing wrong and says how much of the misfit goes then.
type Explanation struct {
	Fault        Fault
	Observations []int     // of OneObservation, OneSight, OneLine, AngleAndLength: their numbers
	Point        int       // of OneSight the target, of OnePoint and OneStation the point
	Set          int       // of OneSight and OneStation; −1: none
	Gain         float64   // by how much [pvv] falls
	Freedom      int       // how many amounts were supposed
	Size         []float64 // how much too large each observation was read (radians, metres); of a point and a station how far it lies east and north of where it was taken
	Correlation  float64   // with the best one: 1 for itself
}

// A Search is the outcome of looking for one thing that is wrong.
type Search struct {
	Best         []Explanation // what explains it, the best first; those after it cannot be told from it
	Explains     bool          // the rest agrees once it is left out
	Unexplained  float64       // s₀² that remains
	Alternatives int           // how many were tried
}

// What it costs to suppose one more amount, and how much an explanation must be
// better than another to be told alone, both in units of [pvv]. Chosen on
// simulated networks of their own seeds, see the tests.
const (
	costOfAmount = 9.0
	toldApart    = 16.0
)

// together is the correlation of two tests from which on they are told together.
const together = 0.95

// A guess is an explanation with the columns it adds to the equations: per column
// pairs of an observation and a coefficient (normalised).
type guess struct {
	Explanation
	cols [][]part
}

type part struct {
	row int
	val float64
}

// Search looks for the one thing whose being wrong best explains the misfit: it is
// asked where the global test fails or a normalised residual is over its limit.
func (a *Adjusted) Search() Search {
	guesses := a.guesses()
	s := Search{Alternatives: len(guesses)}
	if len(guesses) == 0 || a.Dof < 1 {
		return s
	}
	for i := range guesses {
		a.weigh(&guesses[i])
	}
	guesses = slices.DeleteFunc(guesses, func(g guess) bool { return g.Freedom == 0 })
	guesses = a.pairs(guesses)
	if len(guesses) == 0 {
		return s
	}
	slices.SortStableFunc(guesses, func(x, y guess) int { return cmp.Compare(y.score(), x.score()) })
	if a.S0 > gross {
		guesses = a.refine(guesses)
	}
	a.rank(&s, guesses)
	return s
}

// rank fills in the best guess and those that cannot be told from it.
func (a *Adjusted) rank(s *Search, guesses []guess) {
	if len(guesses) == 0 {
		return
	}
	slices.SortStableFunc(guesses, func(x, y guess) int { return cmp.Compare(y.score(), x.score()) })
	best := guesses[0]
	var reach [][]float64
	if a.S0 < unsettled {
		reach = a.reach(best)
	}
	for i := range guesses {
		g := &guesses[i]
		g.Correlation = a.correlation(reach, *g)
		near := best.score()-g.score() < toldApart*1e6
		if i == 0 || near || g.Fault == OneObservation && best.Fault == OneObservation && g.Correlation > together {
			s.Best = append(s.Best, g.Explanation)
		}
	}
	s.Best = plain(s.Best)
	a.conclude(s, best)
}

// score is the gain less what the amounts cost, in millionths, so that rounding
// decides nothing.
func (g guess) score() float64 {
	return math.Round((g.Gain - float64(costOfAmount*float64(g.Freedom))) * 1e6)
}

// conclude says whether the rest agrees.
func (a *Adjusted) conclude(s *Search, best guess) {
	dof := a.Dof - best.Freedom
	rest := max(0, float64(a.S0*a.S0*float64(a.Dof))-best.Gain)
	if dof < 1 {
		s.Explains = rest < 1e-6
		return
	}
	s.Unexplained = rest / float64(dof)
	s.Explains = s.Unexplained <= chiLimit(dof, a.limits.GlobalRisk)
}

// plain leaves out, of the explanations after the best, those that only add an
// amount to one that is told already, and pairs where one thing alone will do.
func plain(list []Explanation) []Explanation {
	var out []Explanation
	simple := slices.ContainsFunc(list, func(e Explanation) bool { return e.Fault != AngleAndLength })
	for i, e := range list {
		covered := simple && e.Fault == AngleAndLength
		for _, x := range list[:i] {
			covered = covered || x.Fault == OnePoint && e.Fault == OnePoint && x.Point == e.Point || x.Fault == OneObservation && len(e.Observations) > 1 && slices.Contains(e.Observations, x.Observations[0])
		}
		if !covered {
			out = append(out, e)
		}
	}
	return out
}

// guesses lists what may be wrong, without the pairs of an angle and a length.
func (a *Adjusted) guesses() []guess {
	w := a.w
	var out []guess
	type sight struct{ set, target int }
	sights := map[sight][]int{}
	var order []sight
	for i, o := range w.obs {
		if o.Kind == East || o.Kind == North {
			continue // the point is asked, both coordinates together
		}
		out = append(out, guess{Explanation: Explanation{Fault: OneObservation, Observations: []int{w.from[i]}, Point: -1, Set: -1}, cols: [][]part{{{i, 1}}}})
		if o.Kind == Direction {
			k := sight{o.Set, o.To}
			sights[k] = append(sights[k], i)
			order = append(order, k)
		}
	}
	at := a.stations()
	for i, o := range w.obs {
		if o.Kind == Distance {
			for s, station := range at {
				if k := (sight{s, o.To}); station == o.From && len(sights[k]) == 1 {
					sights[k] = append(sights[k], i)
				}
			}
		}
	}
	for _, k := range order {
		if rows := sights[k]; len(rows) == 2 {
			out = append(out, guess{Explanation: Explanation{Fault: OneSight, Observations: []int{w.from[rows[0]], w.from[rows[1]]}, Point: k.target, Set: k.set},
				cols: [][]part{{{rows[0], 1}}, {{rows[1], 1}}}})
		}
	}
	return append(append(out, a.lines()...), a.pointGuesses(at)...)
}

// lines supposes all distances between two points, where there are several, wrong by
// one amount.
func (a *Adjusted) lines() []guess {
	type line struct{ from, to int }
	rows := map[line][]int{}
	var order []line
	for i, o := range a.w.obs {
		if o.Kind == Distance {
			k := line{min(o.From, o.To), max(o.From, o.To)}
			if rows[k] = append(rows[k], i); len(rows[k]) == 2 {
				order = append(order, k)
			}
		}
	}
	var out []guess
	for _, k := range order {
		g := guess{Explanation: Explanation{Fault: OneLine, Point: -1, Set: -1}, cols: make([][]part, 1)}
		for _, i := range rows[k] {
			g.Observations = append(g.Observations, a.w.from[i])
			g.cols[0] = append(g.cols[0], part{i, a.w.rows[i].u})
		}
		out = append(out, g)
	}
	return out
}

// stations returns the point each set was observed from, −1 for an unused set.
func (a *Adjusted) stations() []int {
	out := make([]int, len(a.w.orient))
	for s, m := range a.w.inSets {
		out[s] = -1
		if len(m) > 0 {
			out[s] = a.w.obs[m[0]].From
		}
	}
	return out
}

// pointGuesses supposes a known point, or the place of a station during one set, to
// be elsewhere.
func (a *Adjusted) pointGuesses(at []int) []guess {
	w := a.w
	byPoint := make([][2][]part, len(w.at))
	bySet := make([][2][]part, len(w.orient))
	sets := make([]int, len(w.at))
	for _, p := range at {
		if p >= 0 {
			sets[p]++
		}
	}
	for i, o := range w.obs {
		if o.Kind == East || o.Kind == North {
			continue
		}
		w.computed(o, func(p int, by traverse.Point) {
			u := w.rows[i].u
			byPoint[p][0] = append(byPoint[p][0], part{i, by.E * u})
			byPoint[p][1] = append(byPoint[p][1], part{i, by.N * u})
			if p != o.From {
				return
			}
			for s, station := range at {
				if station == p && (o.Kind == Direction && o.Set == s || o.Kind == Distance && a.belongs(o, s)) {
					bySet[s][0] = append(bySet[s][0], part{i, by.E * u})
					bySet[s][1] = append(bySet[s][1], part{i, by.N * u})
				}
			}
		})
	}
	var out []guess
	known := w.anchors()
	for p := range w.at {
		if known[p] && !w.lost[p] && len(byPoint[p][0]) > 0 {
			e := Explanation{Fault: OnePoint, Point: p, Set: -1}
			out = append(out, guess{Explanation: e, cols: byPoint[p][:]},
				guess{Explanation: e, cols: byPoint[p][:1]}, guess{Explanation: e, cols: byPoint[p][1:]})
		}
	}
	for s, p := range at {
		if p >= 0 && len(bySet[s][0]) > 2 && (sets[p] > 1 || len(byPoint[p][0]) > len(bySet[s][0]) && !known[p]) {
			out = append(out, guess{Explanation: Explanation{Fault: OneStation, Point: p, Set: s}, cols: bySet[s][:]})
		}
	}
	return out
}

// weigh works the gain of a guess: with H its columns and R = I − A Q Aᵀ the
// cofactors of the residuals, (Hᵀv)ᵀ (HᵀRH)⁻¹ (Hᵀv). [M12] Freedom 0 says that the
// observations cannot tell it.
func (a *Adjusted) weigh(g *guess) {
	q := len(g.cols)
	hv := make([]float64, q)
	m := make([][]float64, q)
	whole := make([]float64, q)
	var proj [][]float64
	var reduced [][]part
	for c, col := range g.cols {
		for _, p := range col {
			hv[c] += float64(p.val * a.white[p.row])
			whole[c] += float64(p.val * p.val)
		}
		r, half := a.project(col)
		reduced, proj = append(reduced, r), append(proj, half)
	}
	for i := range q {
		m[i] = make([]float64, q)
		for j := range q {
			m[i][j] = inner(reduced[i], g.cols[j]) - innerDense(proj[i], proj[j])
		}
	}
	g.Freedom, g.Gain, g.Size = 0, 0, nil
	x, ok := solveSmall(m, hv, whole)
	if !ok {
		return
	}
	g.Freedom = q
	for i := range q {
		g.Gain += float64(x[i] * hv[i])
		size := -x[i]
		if g.Fault != OnePoint && g.Fault != OneStation && g.Fault != OneLine {
			size *= a.w.obs[g.cols[i][0].row].SD
		}
		g.Size = append(g.Size, size)
	}
}

// project returns a column with the orientations eliminated, and L⁻¹Aᵀ of it.
func (a *Adjusted) project(col []part) ([]part, []float64) {
	w := a.w
	out := slices.Clone(col)
	sums := map[int]float64{}
	var order []int
	for _, p := range col {
		if s := w.rows[p.row].set; s >= 0 {
			if _, seen := sums[s]; !seen {
				order = append(order, s)
			}
			sums[s] += float64(w.rows[p.row].u * p.val)
		}
	}
	for _, s := range order {
		for _, i := range w.inSets[s] {
			out = append(out, part{i, -w.rows[i].u * sums[s] / w.sets[s].uu})
		}
	}
	b := make([]float64, w.n)
	for _, p := range out {
		r := &w.rows[p.row]
		for k := range r.n {
			b[r.col[k]] += float64(r.val[k] * p.val)
		}
	}
	w.m.Forward(b)
	return out, b
}

// reach returns R·h of the best guess' first and, where it has one, second column,
// by observation; used for correlations.
func (a *Adjusted) reach(g guess) [][]float64 {
	var out [][]float64
	w := a.w
	for _, col := range g.cols {
		reduced, half := a.project(col)
		v := make([]float64, len(w.obs))
		for _, p := range reduced {
			v[p.row] += p.val
		}
		w.m.Backward(half)
		fit := make([]float64, len(w.obs))
		for i := range w.rows {
			r := &w.rows[i]
			for k := range r.n {
				fit[i] += float64(r.val[k] * half[r.col[k]])
			}
		}
		for s, m := range w.inSets {
			sum := 0.0
			for _, i := range m {
				sum += float64(w.rows[i].u * fit[i])
			}
			for _, i := range m {
				fit[i] -= float64(w.rows[i].u * sum / w.sets[s].uu)
			}
		}
		for i := range v {
			v[i] -= fit[i]
		}
		out = append(out, v)
	}
	return out
}

// correlation returns how alike the tests of two single observations are; 0 where
// either has more than one column.
func (a *Adjusted) correlation(reach [][]float64, g guess) float64 {
	if len(reach) != 1 || len(g.cols) != 1 || len(g.cols[0]) != 1 {
		return 0
	}
	i := g.cols[0][0].row
	own := a.Residuals[a.w.from[i]].Redundancy
	var best float64
	for _, x := range reach[0] {
		best += float64(x * x) // R is idempotent: hᵀRh = |Rh|²
	}
	if own < unchecked || best < unchecked {
		return 0
	}
	return math.Abs(reach[0][i]) / math.Sqrt(own*best)
}

// pairs adds an angle together with a length, of those that explain most alone.
func (a *Adjusted) pairs(guesses []guess) []guess {
	const most = 6
	var angles, lengths []guess
	for _, g := range guesses {
		if g.Fault != OneObservation {
			continue
		}
		switch k := a.w.obs[g.cols[0][0].row].Kind; {
		case k == Distance:
			lengths = append(lengths, g)
		case k.angular():
			angles = append(angles, g)
		}
	}
	byGain := func(x, y guess) int { return cmp.Compare(math.Round(y.Gain*1e6), math.Round(x.Gain*1e6)) }
	slices.SortStableFunc(angles, byGain)
	slices.SortStableFunc(lengths, byGain)
	for _, x := range angles[:min(most, len(angles))] {
		for _, y := range lengths[:min(most, len(lengths))] {
			g := guess{Explanation: Explanation{Fault: AngleAndLength, Observations: []int{x.Observations[0], y.Observations[0]}, Point: -1, Set: -1},
				cols: [][]part{x.cols[0], y.cols[0]}}
			if a.weigh(&g); g.Freedom > 0 {
				guesses = append(guesses, g)
			}
		}
	}
	return guesses
}

func inner(a, b []part) float64 {
	sum := 0.0
	for _, x := range a {
		for _, y := range b {
			if x.row == y.row {
				sum += float64(x.val * y.val)
			}
		}
	}
	return sum
}

func innerDense(a, b []float64) float64 {
	sum := 0.0
	for i, x := range a {
		sum += float64(x * b[i])
	}
	return sum
}

// solveSmall solves one or two equations; ok is false where the observations cannot
// tell the amounts: what is left of a column is under a millionth of it.
func solveSmall(m [][]float64, b, whole []float64) ([]float64, bool) {
	for i := range m {
		if !(m[i][i] > unchecked*whole[i]) {
			return nil, false
		}
	}
	if len(m) == 1 {
		return []float64{b[0] / m[0][0]}, true
	}
	det := float64(m[0][0]*m[1][1]) - float64(m[0][1]*m[1][0])
	if !(det > 1e-6*m[0][0]*m[1][1]) {
		return nil, false
	}
	return []float64{(float64(b[0]*m[1][1]) - float64(m[0][1]*b[1])) / det, (float64(m[0][0]*b[1]) - float64(m[1][0]*b[0])) / det}, true
}
