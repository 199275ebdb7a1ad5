package booking

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// Amend puts right what was agreed when the setup was opened: freely before the
// first reading, with a reason after it. spec is what is meant, renamed says
// which names in it stand for names of before. It returns a *specError for a
// spec that no setup may have, and a Refused for one that the readings that
// stand, or the lift, deny.
func (s Setup) Amend(spec Spec, renamed []Rename, reason string) (SetupAmended, error) {
	spec.KeyedAfterwards = s.Spec.KeyedAfterwards
	reason = strings.TrimSpace(reason)
	if s.Void != nil {
		return SetupAmended{}, Refuse(setupIsVoid, "the setup was struck")
	}
	if faults := spec.ValidateInstead(s.Spec); len(faults) > 0 {
		return SetupAmended{}, &specError{Faults: faults}
	}
	if reason == "" && len(s.Readings) > 0 && len(renamed) == 0 && s.Spec.OnlySays(spec) {
		reason = "not said before"
	}
	was := s.Spec.Rename(renamed)
	switch {
	case len(renamed) == 0 && reflect.DeepEqual(s.Spec, spec):
		return SetupAmended{}, Refuse(nothingToAmend, "the setup is so already")
	case len(s.Readings) > 0 && reason == "":
		return SetupAmended{}, Refuse(reasonMissing, "readings are booked: write the reason beside the change")
	}
	if why := s.liftDenies(was, spec); why != "" {
		return SetupAmended{}, Refuse(TripodLifted, "%s", why)
	}
	if why := s.readingsDeny(was, spec); why != "" {
		return SetupAmended{}, Refuse(readingsDeny, "%s", why)
	}
	return SetupAmended{Spec: spec, Renamed: renamed, Reason: reason, By: spec.Booker, AfterLift: s.Lift != nil}, nil
}

// liftDenies says what of the change cannot be meant once the tripod was lifted:
// what was to be observed.
func (s Setup) liftDenies(was, is Spec) string {
	if s.Lift == nil {
		return ""
	}
	if dropped, added := differ(was.Sighted(), is.Sighted()); len(dropped)+len(added) > 0 {
		return "the tripod was lifted: a target can be renamed, and none added or dropped"
	}
	if was.Rounds != is.Rounds || was.Plan != is.Plan || was.Ordered() != is.Ordered() || was.Verticals != is.Verticals || was.Distances != is.Distances {
		return "the tripod was lifted: what was to be observed stands as it was agreed"
	}
	return ""
}

// readingsDeny says what of the change contradicts readings that stand.
func (s Setup) readingsDeny(was, is Spec) string {
	for _, r := range s.Readings {
		if !r.Stands() {
			continue
		}
		i, lc := is.Instrument, is.Instrument.LeastCount
		switch angular := r.Slot.Quantity.Angular(); {
		case angular && was.Instrument.Unit != i.Unit:
			return fmt.Sprintf("%s is booked as %s: the unit of the circle cannot change over readings that stand", r.Slot, r.Text)
		case angular && r.Value%int64(lc) != 0:
			return fmt.Sprintf("%s is booked as %s, which is no multiple of this least count", r.Slot, r.Text)
		case !angular && was.LengthUnit != is.LengthUnit:
			return fmt.Sprintf("%s is booked as %s: the unit of length cannot change over readings that stand", r.Slot, r.Text)
		case r.Slot.Quantity == Accumulated && was.Ordered() != is.Ordered():
			return fmt.Sprintf("%s is booked after %d repetitions", r.Slot, was.Repetitions)
		case r.Slot.Quantity == Horizontal && was.RO != is.RO:
			return fmt.Sprintf("round %d is booked from %s: another reference object needs a new setup", r.Slot.Round, was.RO)
		case r.Slot.Quantity == Horizontal && !slices.Equal(was.closers(), is.closers()):
			return fmt.Sprintf("round %d is begun: its halves close, or do not, as agreed", r.Slot.Round)
		case r.Slot.Quantity == Horizontal && was.Order != is.Order && was.follows(r.Slot.Round, s.Readings) && !is.follows(r.Slot.Round, s.Readings):
			return fmt.Sprintf("round %d is booked %s: it was not observed %s", r.Slot.Round, was.Order, is.Order)
		}
	}
	return ""
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

// differ returns the names only before has, and those only after has.
func differ(before, after []string) (dropped, added []string) {
	for _, n := range before {
		if !slices.Contains(after, n) {
			dropped = append(dropped, n)
		}
	}
	for _, n := range after {
		if !slices.Contains(before, n) {
			added = append(added, n)
		}
	}
	return dropped, added
}

// foldAmended changes the agreement: names follow, the readings of dropped
// targets are struck, and a target that was added is called from the next half
// that can take it.
func (s *Setup) foldAmended(e Entry, v SetupAmended) string {
	renamed := s.Spec.Rename(v.Renamed)
	for i := range s.Readings {
		s.Readings[i].Slot = s.Readings[i].Slot.renamed(v.Renamed)
	}
	for i := range s.Skips {
		s.Skips[i].Slot = s.Skips[i].Slot.renamed(v.Renamed)
	}
	dropped, added := differ(renamed.Sighted(), v.Spec.Sighted())
	was := *s
	was.Spec = renamed
	for i := range s.Rounds {
		r := &s.Rounds[i]
		if r.Void != nil {
			void := *r.Void
			void.From = void.From.renamed(v.Renamed)
			r.Void = &void
		}
		next, _, open := was.nextOpen(calledIn(*r, was.Spec.Sweeps(r.Number)[0]))
		if !open || i+1 < len(s.Rounds) || next.Face == faces.FR && next.Target == was.Spec.RO && was.Spec.Closes(next) {
			r.Without = append(slices.Clone(r.Without), added...)
		}
	}
	before := s.Spec
	s.Spec = v.Spec
	for i := range s.Readings {
		r := &s.Readings[i]
		switch {
		case r.Struck != nil:
		case slices.Contains(dropped, r.Slot.Target):
			r.Struck = &Strike{Reason: v.Reason, By: v.By, At: e.At, Seq: e.Seq, AfterLift: v.AfterLift}
		case !s.hasSlot(r.Slot):
			return fmt.Sprintf("reading %d (%s) has no place after it", r.Seq, r.Slot)
		}
	}
	s.Amended = append(s.Amended, Amendment{SetupAmended: v, Was: before, At: e.At, Seq: e.Seq})
	return ""
}

// renamed returns the slot with its target put right.
func (s Slot) renamed(names []Rename) Slot {
	for _, r := range names {
		if s.Target == r.From && s.Target != "" {
			s.Target = r.To
			return s
		}
	}
	return s
}

// StrikeWhole strikes a setup that was opened by mistake and holds no reading
// that stands. Empty reason: opened by mistake.
func (s Setup) StrikeWhole(reason string) (SetupStruck, error) {
	standing := 0
	for _, r := range s.Readings {
		if r.Stands() {
			standing++
		}
	}
	switch {
	case s.Void != nil:
		return SetupStruck{}, Refuse(setupIsVoid, "the setup was struck already")
	case s.Lift != nil:
		return SetupStruck{}, Refuse(TripodLifted, "the tripod was lifted")
	case standing > 0:
		return SetupStruck{}, Refuse(readingsDeny, "readings stand in it (%d): a setup is struck whole only while none does", standing)
	}
	if blank(reason) {
		reason = "opened by mistake"
	}
	return SetupStruck{Reason: strings.TrimSpace(reason), By: s.Spec.Booker}, nil
}

// Changes says in words what an amendment changed, a phrase each:
// "Spier is now Spire", "least count 1″, was 5″".
func (a Amendment) Changes() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, r := range a.Renamed {
		say("%s is now %s", r.From, r.To)
	}
	was, is := a.Was.Rename(a.Renamed), a.Spec
	dropped, added := differ(was.Sighted(), is.Sighted())
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
		ls = append(ls, line{x.what, metresText(x.was), metresText(x.is)})
	}
	return ls
}

// metresText prints a length in metres without idle zeros.
func metresText(l lengths.Length) string {
	return strings.TrimRight(strings.TrimRight(l.Format(lengths.Metres, 6), "0"), ".") + " m"
}

func (l Limits) list() [5]Limit {
	return [5]Limit{l.Rounds, l.ROMisclosure, l.TwoC, l.Index, l.Figure}
}
