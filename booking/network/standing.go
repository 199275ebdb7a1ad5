package network

import (
	"slices"

	"example.org/readback/booking/check"
)

// Names of the checks of State that no limit is behind.
const (
	Cause     = "cause"  // what best explains a misclosure
	StillOpen = "open"   // what is still open
	Advice    = "advice" // what one more round, or the best pair of pointings, would bring
	title     = "title"  // a figure and how it stands
)

// Advised is what Together.Next says at the tripod that stands; nothing where there is
// no ground for advice: the network does not agree, or it is one setup that nothing
// known holds.
func (r Report) Advised() []check.Check {
	if r.Current.Setup == 0 || r.Together == nil || r.Together.Failed || len(r.Together.setups) < 2 && r.Together.knownSeen < 2 {
		return nil
	}
	if said := r.Together.Next(); said != "" {
		return []check.Check{{Name: Advice, Met: true, Text: said}}
	}
	return nil
}

// State says how the figures stand while the crew is at its last setup: each
// figure that its tripod is part of, what misses its limit and what to observe
// again, its lines that were measured from both ends, and what is still open.
// Once the tripod is lifted it is all figures of the book and what is open.
// While the first station of a book is observed nothing is said to be open.
func (r Report) State() []check.Check {
	here := r.Current.Setup != 0
	var out []check.Check
	for _, f := range r.Figures {
		switch {
		case f.Kind == Open && !here:
			out = append(out, check.Check{Name: StillOpen, Met: true, Text: f.Title() + ": nothing checks it yet."})
		case f.Kind != Open && r.here(f) == 1:
			out = append(out, r.closing(f)...)
		case f.Kind != Open && !here:
			out = append(out, check.Check{Name: title, Met: f.Met(), Text: f.Title() + ": " + f.State() + "."})
		}
	}
	out = append(out, r.Reciprocals("")...)
	for i, c := range r.Checks {
		if here && !c.Met && r.checkAt[i] == r.Current.Station {
			out = append(out, c)
		}
	}
	if !slices.ContainsFunc(out, func(c check.Check) bool { return !c.Met }) { // else it is said already
		if c, ok := r.Together.check(); ok {
			out = append(out, c)
		}
	}
	if !slices.ContainsFunc(out, func(c check.Check) bool { return !c.Met && (c.Name == "heights" || c.Name == "height") }) {
		if c, ok := r.Together.heightCheck(); ok {
			out = append(out, c)
		}
	}
	if here && r.stations < 2 {
		return out // nothing can be open yet
	}
	for _, s := range r.Open {
		out = append(out, check.Check{Name: StillOpen, Met: true, Text: s})
	}
	return out
}

// closing is how a figure stands that the tripod is part of.
func (r Report) closing(f Figure) []check.Check {
	out := []check.Check{{Name: title, Met: f.Met(), Text: f.Title() + ": " + f.State() + "."}}
	if why := f.Cause(); why != "" {
		out = append(out, check.Check{Name: Cause, Met: true, Text: why})
	}
	return append(out, f.Checks(r.Current)...)
}

// Misses lists, of State, what speaks against lifting the tripod that still
// stands: a sentence for each limit that is not kept.
func (r Report) Misses() []string {
	var out []string
	if r.Current.Setup == 0 {
		return nil
	}
	for _, c := range r.State() {
		if !c.Met && c.Name != title {
			out = append(out, c.Text)
		}
	}
	return out
}

// Reciprocals returns the checks of the lines between the tripod that still
// stands and a target, measured from both ends; an empty target stands for
// every one.
func (r Report) Reciprocals(target string) []check.Check {
	var out []check.Check
	if r.Current.Setup == 0 {
		return nil
	}
	for _, l := range r.Lines {
		other := l.To
		switch r.Current.Station {
		case l.From:
		case l.To:
			other = l.From
		default:
			continue
		}
		if target == "" || other == target {
			out = append(out, r.lineCheck(l)...)
		}
	}
	return out
}
