package spec

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// A Rename is one name that was written wrongly, and what was meant.
type Rename struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// Rename returns the spec with the names put right, all at once, so that two
// names can be exchanged.
func (s Spec) Rename(names []Rename) Spec {
	of := func(n string) string {
		for _, r := range names {
			if r.From == n {
				return r.To
			}
		}
		return n
	}
	list := func(ns []string) []string {
		ns = slices.Clone(ns)
		for i := range ns {
			ns[i] = of(ns[i])
		}
		return ns
	}
	s.Station, s.RO = of(s.Station), of(s.RO)
	s.Targets, s.HeightsOnly = list(s.Targets), list(s.HeightsOnly)
	s.NoDistance, s.NoVertical, s.MoreROs = list(s.NoDistance), list(s.NoVertical), list(s.MoreROs)
	return s
}

// Rename returns the slot with its target put right.
func (s Slot) Rename(names []Rename) Slot {
	for _, r := range names {
		if s.Target == r.From && s.Target != "" {
			s.Target = r.To
			return s
		}
	}
	return s
}

// Differ returns the names that only this spec sights, and those only another does.
func (s Spec) Differ(t Spec) (dropped, added []string) {
	before, after := s.Sighted(), t.Sighted()
	return missing(before, after), missing(after, before)
}

// missing returns the names of one list that another has not.
func missing(names, from []string) (out []string) {
	for _, n := range names {
		if !slices.Contains(from, n) {
			out = append(out, n)
		}
	}
	return out
}

// Changes says in words what another spec changes, a phrase each, names put right first:
// "Spier is now Spire", "least count 1″, was 5″".
func (s Spec) Changes(is Spec, renamed []Rename) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, r := range renamed {
		say("%s is now %s", r.From, r.To)
	}
	was := s.Rename(renamed)
	dropped, added := was.Differ(is)
	for _, n := range added {
		say("%s is sighted too", n)
	}
	for _, n := range dropped {
		say("%s is dropped", n)
	}
	if len(dropped)+len(added) == 0 && !slices.Equal(was.Sighted(), is.Sighted()) {
		say("the order is %s", strings.Join(is.Sighted(), ", "))
	}
	for _, c := range was.lines(is) {
		if c.was != c.is {
			say("%s %s, was %s", c.what, none(c.is), none(c.was))
		}
	}
	return out
}

func none(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// A line is one thing that is agreed, before and after.
type line struct{ what, was, is string }

// lines sets what is agreed beside what another spec agrees, names left out.
func (s Spec) lines(t Spec) []line {
	small := func(i Instrument, a reduce.Angle) string { return a.FormatSize(i.Unit) }
	yes := func(b bool) string {
		if b {
			return "yes"
		}
		return "no"
	}
	i, j := s.Instrument, t.Instrument
	ls := []line{
		{"station", s.Station, t.Station}, {"reference object", s.RO, t.RO},
		{"observer", s.Observer, t.Observer}, {"booker", s.Booker, t.Booker}, {"weather", s.Weather, t.Weather},
		{"instrument", i.Name, j.Name}, {"serial number", i.Serial, j.Serial},
		{"circle unit", i.Unit.String(), j.Unit.String()}, {"least count", small(i, i.LeastCount), small(j, j.LeastCount)},
		{"stated σ", small(i, i.Sigma), small(j, j.Sigma)}, {"vertical circle from the", i.Circle.String(), j.Circle.String()},
		{"stated σ of a distance", fmt.Sprint(i.DistanceSD.Metres()*1000, " mm"), fmt.Sprint(j.DistanceSD.Metres()*1000, " mm")},
		{"and per kilometre", fmt.Sprint(i.DistancePPM, " mm"), fmt.Sprint(j.DistancePPM, " mm")},
		{"rounds", fmt.Sprint(s.Rounds), fmt.Sprint(t.Rounds)}, {"RO closes each half", yes(s.CloseHalves), yes(t.CloseHalves)},
		{"further reference objects", strings.Join(s.MoreROs, ", "), strings.Join(t.MoreROs, ", ")},
		{"order of observing", s.Ordered(), t.Ordered()}, {"closing rule", fmt.Sprint(s.ClosingRule), fmt.Sprint(t.ClosingRule)}, {"circle plan", s.Plan.String(), t.Plan.String()},
		{"vertical circle", yes(s.Verticals), yes(t.Verticals)}, {"distances", yes(s.Distances), yes(t.Distances)},
		{"no distance to", strings.Join(s.NoDistance, ", "), strings.Join(t.NoDistance, ", ")},
		{"no vertical circle to", strings.Join(s.NoVertical, ", "), strings.Join(t.NoVertical, ", ")},
		{"unit of length", s.LengthUnit.String(), t.LengthUnit.String()},
		{"refraction k", fmt.Sprint(s.Refraction), fmt.Sprint(t.Refraction)},
	}
	ls = append(ls, s.Making.Texts().lines(t.Making.Texts())...)
	for k, name := range []string{"limit of the rounds", "limit of the RO misclosure", "limit of 2c", "limit of the index error", "limit of a figure"} {
		ls = append(ls, line{name, small(i, s.Limits.list()[k].Value), small(j, t.Limits.list()[k].Value)})
	}
	u, v := s.Lengths(), t.Lengths()
	for _, x := range []struct {
		what    string
		was, is lengths.Length
	}{
		{"least plausible instrument height", u.LeastInstrument, v.LeastInstrument}, {"largest plausible instrument height", u.MostInstrument, v.MostInstrument},
		{"largest difference of the instrument height measured again", u.Again, v.Again}, {"largest plausible target height", u.MostTarget, v.MostTarget},
		{"least plausible distance", u.LeastSlope, v.LeastSlope}, {"largest plausible distance", u.MostSlope, v.MostSlope},
		{"least difference from a known distance", u.Known, v.Known},
	} {
		ls = append(ls, line{x.what, lengthText(x.was, t.LengthUnit), lengthText(x.is, t.LengthUnit)})
	}
	return ls
}

// lines sets the settings beside others, for what an amendment says.
func (t MakingTexts) lines(u MakingTexts) []line {
	return []line{
		{"air (°C, hPa, %)", t.Air, u.Air}, {"wave (µm) and refractivity", t.Carrier, u.Carrier}, {"ppm set on the instrument", t.PPMSet, u.PPMSet},
		{"prism constant, mm", t.Prism, u.Prism}, {"height for sea level, m", t.SeaLevel, u.SeaLevel}, {"scale factor", t.Scale, u.Scale},
	}
}

func (l Limits) list() [5]Limit {
	return [5]Limit{l.Rounds, l.ROMisclosure, l.TwoC, l.Index, l.Figure}
}

// Renames pairs the names of before with those of a spec that takes its place: a name that stands
// in the place of another, or is near to one that went, is that one put right.
func Renames(was, is Spec) []Rename {
	var out []Rename
	add := func(from, to string) {
		if from != to && to != "" && !slices.ContainsFunc(out, func(r Rename) bool { return r.From == from || r.To == to }) {
			out = append(out, Rename{From: from, To: to})
		}
	}
	before, after := append(was.Names(), was.HeightsOnly...), append(is.Names(), is.HeightsOnly...)
	add(was.Station, is.Station)
	gone, come := missing(before, after), missing(after, before)
	if was.RO != is.RO && slices.Contains(gone, was.RO) && slices.Contains(come, is.RO) {
		add(was.RO, is.RO)
	}
	for i, n := range was.Targets {
		if len(was.Targets) == len(is.Targets) && slices.Contains(gone, n) && slices.Contains(come, is.Targets[i]) {
			add(n, is.Targets[i])
		}
	}
	for _, n := range come {
		if from, ok := Near(n, gone); ok {
			add(from, n)
		}
	}
	return out
}
