package places

import (
	"cmp"
	"math"
	"slices"
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
		if a.w.net.stopped() {
			return s
		}
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
