package culprit

import (
	"math"
	"slices"

	"example.org/readback/booking/check/align"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce/faces"
)

// A Suspect is a reading, or a group of readings, that explains the misfit of a
// setup, as far as it can be told.
type Suspect struct {
	Round   int        // 0: it cannot be told
	Face    faces.Face // NoFace: it cannot be told, or both faces are concerned
	Target  string
	Closing bool // the second sight of the RO in a half
	Kind    slip.Kind
	Part    slip.Part
	Weight  float64  // 0 to 1: how much of what explains the misfit names it
	Upright bool     // a vertical circle reading; it belongs to no round
	Alike   bool     // one of several that fit alike: not all of them are wrong
	Group   int      // suspects of one group exclude each other: one of them explains what stands out; 1, 2, …
	Size    float64  // seconds: about how far the readings are out, with its sign; 0: not told
	Readers []Reader // where the face is open: what may have happened on which; none: nothing is told of it
	Text    string   // one sentence or two; they hold no reading
}

// A Finding is what a search found in a station.
type Finding struct {
	Suspects  []Suspect // the most likely first; empty: nothing stands out
	Explained float64   // 0 to 1: the part of the misfit that the suspects explain
	Remedy    Remedy
}

// sure is the weight from which a suspect is named alone; together, those that
// fit alike have it.
const sure = 0.9

// exact is the weight from which a single reading is named rather than its target
// alone.
const exact = 0.8

// decided is the weight from which a slip decides between the faces where the
// geometry cannot.
const decided = 0.97

// Find looks for the readings at fault. It reports those whose error, fitted with
// the other readings, is significant; exceeded tells that the readings are known
// to break a limit, so that only the culprit is looked for.
func Find(s Station, exceeded bool) Finding {
	if list := mirrored(s); len(list) > 0 {
		return Finding{Suspects: list, Explained: 1, Remedy: Remedy{Text: "Set the circle to count clockwise and observe one more whole round."}}
	}
	a := align.Align(s)
	pairs, rest := whole(s, a)
	if len(pairs) == 0 {
		return search(s, a, riskOf(exceeded))
	}
	out := search(rest, align.Align(rest), riskBeside)
	out.Suspects = append(pairs, out.Suspects...)
	out.Explained = 1
	out.Remedy = remedy(s.Readings[len(s.Readings)-1].Round, out.Suspects)
	return out
}

// search weighs the hypotheses on a station, which a aligns, and reports what it
// finds, at the risk of naming anything where all is sound.
func search(s Station, a align.Alignment, risk float64) Finding {
	f, ok := newField(s, a)
	if !ok {
		return Finding{}
	}
	if !f.standsOut(risk) {
		return Finding{}
	}
	r := f.rank()
	return r.finding(risk)
}

// Likeliest names the reading most likely at fault, supposing that one is: the
// place in s.Readings. The two sights of the RO in a half count as one. ok is
// false where the readings check nothing.
func Likeliest(s Station) (reading int, ok bool) {
	f, ok := newField(s, align.Align(s))
	if !ok {
		return 0, false
	}
	scores := make([]float64, f.n)
	for k := range scores {
		h := hypothesis{items: []int{k}}
		f.weigh(&h)
		scores[k] = h.score
	}
	top := slices.Max(scores)
	best, most := 0, 0.0
	for k := range scores {
		w := 0.0
		for l := range scores {
			if f.sameSight(k, l) {
				w += math.Exp(scores[l] - top)
			}
		}
		if w > most || w == most && scores[k] > scores[best] {
			best, most = k, w
		}
	}
	return best, true
}

// sameSight tells whether two readings are of one target in one half.
func (f *field) sameSight(k, l int) bool {
	p, q := f.s.Readings[k], f.s.Readings[l]
	return p.Round == q.Round && p.Target == q.Target && p.Face == q.Face
}

// finding reports the leading hypothesis, each of its items as far as it can be
// told, leaving out those that are not significant.
func (r *ranking) finding(risk float64) Finding {
	var out Finding
	if len(r.hs) == 0 {
		return out
	}
	lead := r.hs[0]
	pair := r.f.bothFaces(&lead)
	group := 0
	for i, a := range lead.items {
		if limit := r.f.bound(r.f.list[a].form, risk, len(lead.items)); !limit.passed(r.f.deviate(&lead, i), 1) {
			continue
		}
		if slices.Contains(pair, i) {
			q := r.f.s.Readings[r.f.list[a].at]
			s := Suspect{Round: q.Round, Target: r.f.s.Name(q.Target), Closing: q.Closing, Kind: slip.DirectionDiffers, Weight: r.weight[0]}
			s.Group = group + 1
			out.Suspects = join(out.Suspects, s)
			continue
		}
		group++
		for _, s := range r.beside(&lead, i, r.suspects(&lead, i, r.f.list[a])) {
			s.Group = group
			out.Suspects = join(out.Suspects, s)
		}
	}
	if r.f.dof < 2 && len(out.Suspects) > 0 && out.Suspects[0].Alike {
		return Finding{} // one comparison, and every reading in it fits alike
	}
	if len(out.Suspects) > 0 && r.f.ss > 0 {
		out.Explained = 1 - lead.ss/r.f.ss
	}
	for i := range out.Suspects {
		out.Suspects[i].Text = r.f.sentence(out.Suspects[i])
	}
	out.Remedy = remedy(r.f.s.Readings[r.f.n-1].Round, out.Suspects)
	return out
}

// join adds a suspect to a list. A reading and the pair it belongs to are one
// suspect: the pair, whose faces then do not agree with each other.
func join(list []Suspect, s Suspect) []Suspect {
	for i, x := range list {
		same := x.Round == s.Round && x.Target == s.Target && x.Closing == s.Closing && !x.Alike && !s.Alike
		if same && x.Face != s.Face && (x.Face == faces.NoFace || s.Face == faces.NoFace) && x.Kind != slip.MovedAfter && s.Kind != slip.MovedAfter {
			list[i].Face, list[i].Kind, list[i].Part, list[i].Readers = faces.NoFace, slip.Unknown, slip.NoPart, nil
			return list
		}
	}
	if contains(list, s) {
		return list
	}
	return append(list, s)
}

func contains(list []Suspect, s Suspect) bool {
	for _, x := range list {
		if x.Round == s.Round && x.Face == s.Face && x.Target == s.Target && x.Closing == s.Closing {
			return true
		}
	}
	return false
}

// suspects reports an item of the leading hypothesis: alone where it is sure,
// else with the face or the round left open, else with those that fit alike.
func (r *ranking) suspects(lead *hypothesis, i int, a item) []Suspect {
	s := r.named(lead, i, a)
	if a.form == drifting {
		s.Weight = r.holding(func(b item) bool { return b.form == drifting })
		return []Suspect{s}
	}
	least := exact
	if r.faceOpen(lead, i) {
		least = decided
	}
	if s.Weight = r.holding(func(b item) bool { return b.form == a.form && r.f.sameSight(b.at, a.at) }); s.Weight >= least {
		return []Suspect{s}
	}
	if a.form == movedFrom {
		return r.moved(s, a)
	}
	at := r.f.s.Readings[a.at]
	open := s
	open.Face = faces.NoFace
	open.Weight = r.holding(func(b item) bool {
		q := r.f.s.Readings[b.at]
		return b.form != movedFrom && q.Round == at.Round && q.Target == at.Target
	})
	if open.Weight >= sure {
		open = r.settle(open, lead, i, a)
		open.Readers = r.readers(open, lead, i)
		return []Suspect{open}
	}
	open.Round = 0
	open.Weight = r.holding(func(b item) bool { return b.form != movedFrom && r.f.s.Readings[b.at].Target == at.Target })
	if open.Weight >= sure {
		open = r.settle(open, lead, i, a)
		open.Readers = r.readers(open, lead, i)
		return []Suspect{open}
	}
	return r.alike(s, len(lead.items))
}

// settle keeps the kind of a suspect whose face or round is open only where the
// other candidates have the same kind.
func (r *ranking) settle(s Suspect, lead *hypothesis, i int, a item) Suspect {
	if a.form != oneReading {
		return s
	}
	at := r.f.s.Readings[a.at]
	for _, h := range r.hs {
		for j, b := range h.items {
			q := r.f.s.Readings[r.f.list[b].at]
			if r.f.list[b].form == oneReading && q.Target == at.Target && (s.Round == 0 || q.Round == s.Round) {
				if x := r.named(&h, j, r.f.list[b]); x.Kind != s.Kind || x.Part != s.Part {
					s.Kind, s.Part = slip.Unknown, slip.NoPart
					return s
				}
			}
		}
		if len(h.items) == len(lead.items) && h.score < lead.score-3 {
			break
		}
	}
	return s
}

// named describes an item.
func (r *ranking) named(h *hypothesis, i int, a item) Suspect {
	q := r.f.s.Readings[a.at]
	s := Suspect{Round: q.Round, Target: r.f.s.Name(q.Target), Closing: q.Closing, Size: h.delta[i] * r.f.sigma}
	switch a.form {
	case oneReading:
		s.Face = q.Face
		found := r.f.search(h, i, a.at)
		s.Kind, s.Part = found.Kind, found.Part
	case onePair, roRound:
		s.Kind = slip.DirectionDiffers
	case movedFrom:
		s.Face = q.Face
		s.Kind = slip.MovedAfter
	case drifting:
		s.Round, s.Target, s.Closing, s.Kind = 0, "", false, slip.Drift
	}
	return s
}

// moved reports a circle or tripod that moved: from which pointing, from which of up
// to three, or only in which round; of a whole half, only that one turned where two
// rounds say nothing of which.
func (r *ranking) moved(s Suspect, a item) []Suspect {
	if r.f.wholeHalf(a) {
		half := s
		half.Weight = r.holding(r.f.wholeHalf)
		if half.Weight >= sure {
			half.Round, half.Target, half.Closing = 0, "", false
			return []Suspect{half}
		}
	}
	round := r.f.s.Readings[a.at].Round
	s.Weight = r.holding(func(b item) bool { return b.form == movedFrom && r.f.s.Readings[b.at].Round == round })
	if s.Weight < sure {
		return r.alike(s, 1)
	}
	s.Weight = r.holding(func(b item) bool { return b.form == movedFrom && b.at == a.at })
	list, sum := r.alike(s, 1), 0.0
	for _, x := range list {
		sum += x.Weight
	}
	if sum >= sure {
		return list
	}
	s.Face, s.Target, s.Closing = faces.NoFace, "", false
	return []Suspect{s}
}

// alike lists the leading suspect and those that fit alike, most likely first,
// until together they are sure; three at most.
func (r *ranking) alike(lead Suspect, size int) []Suspect {
	lead.Alike = true
	list, sum := []Suspect{lead}, lead.Weight
	for n, h := range r.hs {
		for j, a := range h.items {
			if sum >= sure || len(list) == 3 || len(h.items) > size {
				return list
			}
			s := r.named(&r.hs[n], j, r.f.list[a])
			s.Alike = true
			s.Weight = r.holding(func(b item) bool { return b.form == r.f.list[a].form && b.at == r.f.list[a].at })
			if !contains(list, s) && s.Weight > 0.05 {
				list, sum = append(list, s), sum+s.Weight
			}
		}
	}
	return list
}

// wholeHalf tells whether an item is all of the second half of a round, from its
// first sight on.
func (f *field) wholeHalf(a item) bool { return a.form == movedFrom && f.opensHalf(a.at) }

// opensHalf tells whether a reading is the first of face right in its round, and the
// round observed by halves: target by target most of face left comes after it.
func (f *field) opensHalf(at int) bool {
	first := f.s.Readings[at]
	before := 0
	for k, r := range f.s.Readings {
		switch {
		case r.Round != first.Round:
		case r.Face == faces.FL && k < at:
			before++
		case r.Face == faces.FL:
			before--
		case k < at:
			return false
		}
	}
	return first.Face == faces.FR && before >= 0
}
