package day

import (
	"slices"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

// A PlanLine is a planned station and the setup that was made of it.
type PlanLine struct {
	event.PlannedStation
	Setup int    // 0: not begun
	State string // of that setup, see Summary.State
}

// Done tells whether the planned station was occupied and the tripod lifted.
func (l PlanLine) Done() bool { return l.State == StateLifted || l.State == StateLiftedOnHold }

// Follow sets the plan beside the setups of the book: the first setup on a
// station stands for its first line, the second for its second. Setups that were
// struck whole stand for nothing.
func Follow(plan []event.PlannedStation, setups []Summary) []PlanLine {
	taken := map[int]bool{}
	lines := make([]PlanLine, len(plan))
	for i, p := range plan {
		lines[i].PlannedStation = p
		for _, m := range setups {
			if m.Station == p.Station && m.State != StateStruck && !taken[m.Setup] {
				taken[m.Setup] = true
				lines[i].Setup, lines[i].State = m.Setup, m.State
				break
			}
		}
	}
	return lines
}

// A Proposal is a setup that is likely begun next. It is never a must.
type Proposal struct {
	Spec spec.Spec
	From string // "the plan", "the last setup", or empty where only the crew is carried on
}

// Propose returns what is likely begun next on a day (2026-05-04): the first
// planned station that is not begun, today's before any other; else the foresight
// of the last setup, from the station it came from, to the targets of an earlier
// occupation or to the stations that sighted it. Crew, instrument, limits and
// what is measured are carried on from the spec last agreed. setups are those of
// the book in the order of their numbers.
func Propose(plan []event.PlannedStation, setups []Summary, last spec.Spec, day string) Proposal {
	setups = slices.DeleteFunc(slices.Clone(setups), func(m Summary) bool { return m.State == StateStruck })
	agreed := last
	agreed.Station, agreed.RO, agreed.Targets, agreed.HeightsOnly, agreed.NoVertical, agreed.NoDistance = "", "", nil, nil, nil, nil
	agreed.KeyedAfterwards, agreed.Weather, agreed.MoreROs = nil, "", nil
	if p, ok := nextPlanned(plan, setups, day); ok {
		agreed.Station, agreed.RO, agreed.Targets = p.Station, p.RO, slices.Clone(p.Targets)
		agreed.Verticals, agreed.Distances = p.Verticals, p.Distances
		agreed.NoVertical, agreed.NoDistance = p.NoVertical, p.NoDistance
		if agreed.MoreROs = slices.Clone(p.MoreROs); len(agreed.MoreROs) > 0 {
			agreed.CloseHalves = true
		}
		if p.Rounds > 0 {
			agreed.Rounds = p.Rounds
		}
		if p.Order != nil {
			agreed.Order, agreed.Repetitions = *p.Order, p.Repetitions
		}
		return Proposal{Spec: agreed.OneAngle(), From: "the plan"}
	}
	if len(setups) == 0 {
		return Proposal{Spec: agreed}
	}
	from := setups[len(setups)-1]
	next := foresight(from, setups)
	if next == "" {
		return Proposal{Spec: agreed}
	}
	agreed.Station, agreed.RO = next, from.Station
	agreed.Targets = targetsAt(next, from.Station, setups)
	return Proposal{Spec: agreed.OneAngle(), From: "the last setup"}
}

// nextPlanned returns the first planned station that is not begun, one of the day
// before any other.
func nextPlanned(plan []event.PlannedStation, setups []Summary, day string) (event.PlannedStation, bool) {
	var open []event.PlannedStation
	for _, l := range Follow(plan, setups) {
		if l.Setup == 0 {
			open = append(open, l.PlannedStation)
		}
	}
	for _, p := range open {
		if p.Day == day {
			return p, true
		}
	}
	if len(open) == 0 {
		return event.PlannedStation{}, false
	}
	return open[0], true
}

// foresight returns where the tripod is likely carried next: of the targets not
// occupied yet the last one a distance was measured to, else the last one.
func foresight(from Summary, setups []Summary) string {
	occupied := map[string]bool{}
	for _, m := range setups {
		occupied[m.Station] = true
	}
	next, measured := "", ""
	for _, t := range from.Targets {
		if occupied[t] {
			continue
		}
		next = t
		if slices.ContainsFunc(from.Sights, func(l SightLine) bool { return l.Target == t && l.Horizontal > 0 }) {
			measured = t
		}
	}
	if measured != "" {
		return measured
	}
	return next
}

// targetsAt returns what is likely sighted from a station beside the RO.
func targetsAt(station, ro string, setups []Summary) []string {
	for i := len(setups) - 1; i >= 0; i-- {
		if m := setups[i]; m.Station == station {
			return slices.DeleteFunc(append([]string{m.RO}, m.Targets...), func(n string) bool { return n == ro })
		}
	}
	var seen []string
	for _, m := range setups {
		sights := m.RO == station || slices.Contains(m.Targets, station)
		if sights && m.Station != ro && !slices.Contains(seen, m.Station) {
			seen = append(seen, m.Station)
		}
	}
	return seen
}
