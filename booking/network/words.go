package network

import (
	"fmt"
	"math"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/page"
	"example.org/readback/reduce"
	"example.org/readback/reduce/traverse"
)

// Checks returns a sentence for the angles and one for the coordinates of the
// figure, or one that says that nothing checks it. current is the setup whose
// tripod still stands: what to observe again is said from there.
func (f Figure) Checks(current day.Summary) []check.Check {
	c := f.Result.Carried
	if c.Control == traverse.Unchecked {
		return []check.Check{{Name: "open", Text: c.Control.String(),
			Again: "close it on its first station or on a known one"}}
	}
	var out []check.Check
	if c.Angular != nil {
		out = append(out, f.angleCheck(*c.Angular))
	}
	if c.Linear != nil {
		out = append(out, f.linearCheck(*c.Linear))
	}
	for i := range out {
		if !out[i].Met {
			out[i].Again = f.again(current)
			break
		}
	}
	if f.Heights != nil && f.Heights.Closed {
		h := f.heightCheck()
		if !h.Met {
			h.Again = "look at the heights there and back, then read vertical circles, instrument and target heights again"
		}
		out = append(out, h)
	}
	return out
}

func (f Figure) angleCheck(a traverse.AngleSum) check.Check {
	c := check.Check{Name: "angles", Met: a.Within(), From: fmt.Sprintf("%s × √%d, %s", small(f.Limit.Value, f.Unit), a.N, f.Limit.From)}
	miss, limit := against(a.Misclosure, a.Limit, f.Unit, true)
	what := map[traverse.Side]string{traverse.Interior: "interior angles", traverse.Exterior: "exterior angles", traverse.Crossing: "angles of the crossing ring"}[a.Side]
	if f.Kind == Link {
		end := f.Stations[len(f.Stations)-1]
		c.Text = fmt.Sprintf("The bearing carried from %s to %s misses the known one by %s, limit %s.", end, f.ToMark, miss, limit)
		return c
	}
	c.Text = fmt.Sprintf("The %d %s miss %s by %s, limit %s.", a.N, what, a.Should.Format(f.Unit, 0)+f.Unit.Mark(), miss, limit)
	return c
}

func (f Figure) linearCheck(l traverse.Linear) check.Check {
	c := check.Check{Name: "linear", Met: l.Within(), From: f.RatioFrom}
	if l.Misclosure < 0.0005 {
		c.Text = fmt.Sprintf("The coordinates close to the millimetre in %.3f m; the limit is 1 in %.0f.", l.Length, l.LeastRatio)
		return c
	}
	c.Text = fmt.Sprintf("The coordinates miss by %.3f m in %.3f m: 1 in %.0f; the limit is 1 in %.0f.",
		l.Misclosure, l.Length, l.Ratio, l.LeastRatio)
	return c
}

// again says what to observe again, where the search for one error found
// something and where it did not.
func (f Figure) again(current day.Summary) string {
	switch f.Search.Verdict {
	case traverse.OneAngle, traverse.OneLeg:
		return f.observe(f.Search.Best()[0], current)
	case traverse.CannotTell:
		for _, c := range f.Search.Best() {
			if f.isHere(c, current) {
				return f.observe(c, current)
			}
		}
		return f.observe(f.Search.Best()[0], current)
	}
	for i, s := range f.Stations {
		if s == current.Station && f.Setups[i] == current.Setup && current.Setup != 0 {
			return f.observe(traverse.Candidate{Index: i, Name: s}, current)
		}
	}
	return "observe the stations again one by one"
}

// isHere tells whether a candidate can be observed again from the tripod that
// still stands.
func (f Figure) isHere(c traverse.Candidate, current day.Summary) bool {
	if current.Setup == 0 {
		return false
	}
	if c.Leg {
		return f.station(c.Index) == current.Station || f.station(c.Index+1) == current.Station
	}
	return f.Setups[c.Index] == current.Setup
}

// station returns a station of the figure, a ring going on from its last to its
// first.
func (f Figure) station(i int) string { return f.Stations[i%len(f.Stations)] }

// observe says how to observe an angle or a leg again.
func (f Figure) observe(c traverse.Candidate, current day.Summary) string {
	here := f.isHere(c, current)
	if c.Leg {
		a, b := f.station(c.Index), f.station(c.Index+1)
		if here && b == current.Station {
			a, b = b, a
		}
		if here {
			return fmt.Sprintf("before this tripod is lifted, measure the distance to %s again, and its vertical circle", b)
		}
		return fmt.Sprintf("measure the distance %s–%s again from either end, and its vertical circle", a, b)
	}
	back, fore := f.arms(c.Index)
	if here {
		return fmt.Sprintf("before this tripod is lifted, observe %s and %s again from here", back, fore)
	}
	return fmt.Sprintf("go back to %s (setup %d) and observe %s and %s again", c.Name, f.Setups[c.Index], back, fore)
}

// arms returns what the angle at station i lies between.
func (f Figure) arms(i int) (back, fore string) {
	k := len(f.Stations)
	back, fore = f.Stations[(i+k-1)%k], f.Stations[(i+1)%k]
	if f.Kind != Ring && i == 0 {
		back = f.FromMark
	}
	if f.Kind != Ring && i == k-1 {
		fore = f.ToMark
	}
	return back, fore
}

// Cause says in words which angle or which leg best explains a misclosure beyond
// its limit; empty where there is none.
func (f Figure) Cause() string {
	s := f.Search
	var text string
	switch s.Verdict {
	case traverse.OneAngle:
		c := s.Candidates[0]
		text = fmt.Sprintf("One angle explains it: the angle at %s. With the misclosure taken off there alone the coordinates close to %.3f m.", c.Name, c.Left)
	case traverse.OneLeg:
		c := s.Candidates[0]
		text = fmt.Sprintf("One leg explains it: %s. The closing line lies along it to %.3f m.", f.legName(c), c.Left)
	case traverse.CannotTell:
		text = "It cannot be told which is wrong: each of these alone explains it: " + f.names(s.Best()) + "."
	case traverse.NothingFits:
		text = "No single angle and no single leg explains it: more than one thing is wrong, or a name is."
	case traverse.NeedsLengths:
		text = "Without the distances one station cannot be told from another."
	default:
		return ""
	}
	if w := f.wholeWords(); w != "" {
		text += " " + w
	}
	return text
}

// legName prints a leg with the dash of the other names.
func (f Figure) legName(c traverse.Candidate) string {
	return f.station(c.Index) + "–" + f.station(c.Index+1)
}

// names lists candidates: "the angles at Weir and Mast, the leg Alder–Quarry".
func (f Figure) names(cs []traverse.Candidate) string {
	var angles, legs, parts []string
	for _, c := range cs {
		if c.Leg {
			legs = append(legs, f.legName(c))
		} else {
			angles = append(angles, c.Name)
		}
	}
	if len(angles) > 0 {
		parts = append(parts, plural(len(angles), "the angle at ", "the angles at ")+list(angles))
	}
	if len(legs) > 0 {
		parts = append(parts, plural(len(legs), "the leg ", "the legs ")+list(legs))
	}
	return strings.Join(parts, ", ")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// wholeWords says that a misclosure close to a round value looks like a slip in
// booking (NAVEDTRA 14071).
func (f Figure) wholeWords() string {
	c := f.Result.Carried
	if c.Angular != nil && !c.Angular.Within() {
		for _, w := range []struct {
			unit reduce.Angle
			word string
		}{{10 * reduce.Degree, "tens of degrees"}, {reduce.Degree, "whole degrees"}, {10 * reduce.Arcminute, "tens of minutes"}, {reduce.Arcminute, "whole minutes"}} {
			if f.Unit.Decimal() {
				w.unit, w.word = w.unit/reduce.Degree*f.Unit.Whole(), "whole "+f.Unit.WholeName()
			}
			off := c.Angular.Misclosure - c.Angular.Misclosure.Round(w.unit)
			if w.unit > 4*c.Angular.Limit && c.Angular.Misclosure.Abs() > w.unit/2 && off.Abs() <= c.Angular.Limit {
				return "The misclosure is close to " + w.word + ": that looks like a slip in booking."
			}
		}
		return ""
	}
	if l := c.Linear; l != nil && !l.Within() {
		whole := math.Round(l.Misclosure)
		if whole >= 1 && math.Abs(l.Misclosure-whole) < 0.02 {
			return fmt.Sprintf("The misclosure is close to %.0f m: that looks like a slip in booking.", whole)
		}
	}
	return ""
}

// tableOf lays rows out two cells in.
func tableOf(rows [][]string, columns ...page.Column) page.Table {
	return page.Table{Indent: 2, Groups: page.Rows(rows...), Columns: columns}
}

// number is a column of numbers, one blank before it.
func number(head string, cols int) page.Column {
	return page.Column{Head: head, Gap: 1, Cols: cols, Right: true}
}
