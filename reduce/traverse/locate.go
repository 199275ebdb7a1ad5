package traverse

import (
	"cmp"
	"math"
	"slices"

	"example.org/readback/reduce"
)

// A Verdict says what the search for one gross error came to.
type Verdict uint8

// The verdicts.
const (
	noGrossError Verdict = 0 // every misclosure there is keeps its limit
	noCheck      Verdict = 1 // open: there is nothing to search by
	NeedsLengths Verdict = 2 // the angles do not close, and without lengths no station can be told from another
	OneAngle     Verdict = 3 // one station's angle explains it, and only one
	OneLeg       Verdict = 4 // one leg explains it, and only one
	CannotTell   Verdict = 5 // more than one explains it
	NothingFits  Verdict = 6 // no single angle or leg explains it: more than one thing is wrong
)

// critical is the normal deviate beyond which a candidate does not fit: risk
// 0.001 that the right one is refused [BAARDA].
const critical = 3.29

// A Candidate is one angle or one leg taken as the only thing that is wrong.
type Candidate struct {
	Leg   bool
	Index int          // the station, or the leg
	Name  string       // its name, a leg as "from-to"
	Angle reduce.Angle // how much too large the booked angle would be; 0 for a leg
	Long  float64      // how much too long the booked leg would be; 0 for an angle
	Left  float64      // linear misclosure left after that one correction
	Fit   float64      // Left in standard deviations; small is good
	Fits  bool         // Fit is under the critical value 3.29
}

// A Search is the outcome of Locate.
type Search struct {
	Verdict    Verdict
	Candidates []Candidate // best first; all of them, also those that do not fit
}

// Best returns the candidates that fit, best first.
func (s Search) Best() []Candidate {
	var out []Candidate
	for _, c := range s.Candidates {
		if c.Fits {
			out = append(out, c)
		}
	}
	return out
}

// Locate looks for the one angle or the one leg that explains a misclosure
// beyond its limit.
//
// An angle: with the whole angular misclosure taken off at the faulty station
// alone the coordinates close. This is the agreement of the traverse carried
// forward and backward at that station [CS], and in other words the bisector
// of the closing line that points at it [NAVEDTRA]. A leg: its bearing is that of
// the closing line, or its opposite [CS]. What is left over is compared with
// its standard deviation from the standard deviations of all the other
// observations. Where the bearings do not close to anything, both kinds are tried.
func Locate(t Traverse, s Settings) (*Search, error) {
	s.AngleStep, s.LengthStep = 0, 0
	c, err := carry(t, s)
	if err != nil {
		return nil, err
	}
	t = s.fill(t)
	out := &Search{}
	angular := c.Angular != nil && !c.Angular.Within()
	switch {
	case c.Control == Unchecked:
		out.Verdict = noCheck
		return out, nil
	case angular && c.Linear == nil:
		out.Verdict = NeedsLengths
		return out, nil
	case !angular && (c.Linear == nil || c.Linear.Within()):
		return out, nil
	case angular:
		out.Candidates = t.angleCandidates(c.Angular.Misclosure)
	case c.Angular != nil:
		out.Candidates = t.legCandidates(c)
	default:
		out.Candidates = append(t.turnCandidates(c), t.legCandidates(c)...)
	}
	out.judge()
	return out, nil
}

// judge ranks the candidates and sets the verdict.
func (s *Search) judge() {
	for i := range s.Candidates {
		s.Candidates[i].Fits = s.Candidates[i].Fit < critical
	}
	slices.SortStableFunc(s.Candidates, func(a, b Candidate) int { return cmp.Compare(rank(a.Fit), rank(b.Fit)) })
	switch best := s.Best(); {
	case len(best) == 0:
		s.Verdict = NothingFits
	case len(best) > 1:
		s.Verdict = CannotTell
	case best[0].Leg:
		s.Verdict = OneLeg
	default:
		s.Verdict = OneAngle
	}
}

// rank is a fit in millionths of a standard deviation: fits that are equal but
// for rounding stay in the order of the traverse on every processor.
func rank(fit float64) float64 { return math.Round(min(fit, 1e9) * 1e6) }

// angleCandidates takes the whole misclosure off at each observed angle in turn.
func (t Traverse) angleCandidates(misclosure reduce.Angle) []Candidate {
	var out []Candidate
	for k, a := range t.Angles {
		if !a.Observed {
			continue
		}
		corr := make([]reduce.Angle, len(t.Angles))
		corr[k] = -misclosure
		deltas, points := t.walk(t.bearings(corr))
		closing := points[len(t.Legs)].Sub(t.goal())
		ref := t.leverOf(k, points)
		spread := t.spreadOf(deltas, points, ref, k)
		out = append(out, Candidate{Index: k, Name: t.Stations[k], Angle: misclosure,
			Left: closing.Length(), Fit: spread.fit(closing)})
	}
	return out
}

// legCandidates compares the bearing of each leg with that of the closing line.
func (t Traverse) legCandidates(c *Carried) []Candidate {
	deltas, points := t.walk(c.Bearings)
	var mean Point
	if c.Angular != nil { // each angle's error was spread over all of them
		for k, a := range t.Angles {
			if a.Observed {
				mean = mean.Add(t.leverOf(k, points).scale(1 / float64(c.Angular.N)))
			}
		}
	}
	spread := t.spreadOf(deltas, points, mean, -1)
	var out []Candidate
	for k, d := range deltas {
		u := d.scale(1 / d.Length())
		n := u.lever()
		across := c.Linear.Closing.dot(n)
		out = append(out, Candidate{Leg: true, Index: k, Name: t.legName(k),
			Long: c.Linear.Closing.dot(u), Left: math.Abs(across), Fit: spread.fitAlong(across, n)})
	}
	return out
}

// turnCandidates turns the rest of the traverse at each station until its end
// lies as near to the known end as it can: there is no angular misclosure to
// say by how much.
func (t Traverse) turnCandidates(c *Carried) []Candidate {
	deltas, points := t.walk(c.Bearings)
	var out []Candidate
	for k, a := range t.Angles {
		is, should := points[len(t.Legs)].Sub(points[k]), t.goal().Sub(points[k])
		if !a.Observed || k == 0 && t.Ring || is.Length() == 0 || should.Length() == 0 {
			continue
		}
		turn := reduce.FromRadians(math.Atan2(is.E, is.N) - math.Atan2(should.E, should.N)).Wrap()
		along := should.scale(1 / should.Length())
		left := is.Length() - should.Length()
		spread := t.spreadOf(deltas, points, Point{}, k)
		out = append(out, Candidate{Index: k, Name: t.Stations[k], Angle: turn,
			Left: math.Abs(left), Fit: spread.fitAlong(left, along)})
	}
	return out
}

// walk carries coordinates along bearings: one delta a leg, one point more.
func (t Traverse) walk(bearings []reduce.Direction) (deltas, points []Point) {
	points = append(points, t.origin())
	for i, l := range t.Legs {
		d := polar(bearings[i], l.Length)
		deltas = append(deltas, d)
		points = append(points, points[i].Add(d))
	}
	return deltas, points
}

// leverOf returns how the carried end moves for each radian of the angle at
// station k. The first angle of a ring only closes its sum: nothing moves.
func (t Traverse) leverOf(k int, points []Point) Point {
	if k == 0 && (t.Ring || !t.Start.HasBearing) {
		return Point{}
	}
	return points[len(t.Legs)].Sub(points[k]).lever()
}

// spreadOf returns the covariance of the carried end from the standard
// deviations of all legs and of all angles but the one left out (-1: none), the
// lever ref being taken off each angle's own.
func (t Traverse) spreadOf(deltas, points []Point, ref Point, out int) Covariance {
	const floor = 1e-12 // keeps a straight traverse from a singular matrix
	c := Covariance{EE: floor, NN: floor}
	for i, d := range deltas {
		c.add(d.scale(t.Legs[i].SD / d.Length()))
	}
	for k, a := range t.Angles {
		if a.Observed && k != out {
			c.add(t.leverOf(k, points).Sub(ref).scale(reduce.Arcsecond.Radians() * a.SD))
		}
	}
	return c
}

// add adds the covariance of one independent vector of the given standard size.
func (c *Covariance) add(v Point) {
	c.EE += float64(v.E * v.E)
	c.EN += float64(v.E * v.N)
	c.NN += float64(v.N * v.N)
}

// fit returns the length of v in standard deviations in the direction of v, the
// root of vᵀ·C⁻¹·v.
func (c Covariance) fit(v Point) float64 {
	det := float64(c.EE*c.NN) - float64(c.EN*c.EN)
	return math.Sqrt(max(0, (float64(v.E*v.E*c.NN)-float64(2*v.E*v.N*c.EN)+float64(v.N*v.N*c.EE))/det))
}

// fitAlong returns x, a length along the unit vector n, in standard deviations.
func (c Covariance) fitAlong(x float64, n Point) float64 {
	return math.Abs(x) / math.Sqrt(float64(n.E*n.E*c.EE)+float64(2*n.E*n.N*c.EN)+float64(n.N*n.N*c.NN))
}
