package check

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A Check is one thing that must be met before the tripod is lifted.
type Check struct {
	Name  string // stable: "rounds", "complete", "agreement", "misclosure", "repetition", "2c", "index", "verticals", "repeats", "graduation", "tied", "instrument height", "suspect", "crew", "said"
	Met   bool
	Text  string // one sentence with figure and limit
	Again string // what to observe again when it is not met
	From  string // where the limit came from
}

// A Verdict says whether the tripod may be lifted.
type Verdict struct {
	Lift     bool
	Checks   []Check
	Culprits culprit.Finding // what the search for the readings at fault found
}

// Word returns "lift" or "hold".
func (v Verdict) Word() string {
	if v.Lift {
		return "lift"
	}
	return "hold"
}

// Reasons returns a sentence for every check that is not met.
func (v Verdict) Reasons() []string {
	var rs []string
	for _, c := range v.Checks {
		if !c.Met {
			rs = append(rs, c.Text)
		}
	}
	return rs
}

// Judge judges the setup as it stands: Lift when every check is met, Hold else.
func Judge(s booking.Setup) Verdict { return JudgeReduction(s, reduction.Of(s)) }

// Anew judges a lifted setup as if the tripod still stood: by today's rule.
func Anew(s booking.Setup) Verdict {
	s.Lift = nil
	return Judge(s)
}

// JudgeReduction judges a reduction of this setup that was made already. A setup
// lifted by another rule than today's keeps the verdict that was said.
func JudgeReduction(s booking.Setup, r reduction.Reduction) Verdict {
	v := Verdict{Checks: make([]Check, 0, 16)}
	v.add(checkUnsaid(s))
	v.add(checkRounds(s, r))
	v.add(checkMissing(s, r)...)
	v.add(checkAgreement(s, r)...)
	v.add(checkWithoutRO(s, r)...)
	v.add(checkClosing(s, r)...)
	v.add(singleAgainstMean(s, r)...)
	twoC := workTwoC(s, r)
	v.add(checkTwoC(s, r, twoC))
	v.add(checkVerticals(s, r)...)
	v.add(checkRepeats(s)...)
	v.add(checkInstrumentHeight(s, r))
	v.add(checkGraduation(s, r)...)
	v.add(checkIndex(s, r))
	v.Culprits = culpritsOf(s, r, twoC)
	v.settle(twoC.odd)
	if !s.AsSaid() {
		v.add(checkSuspects(v.Culprits)...)
	}
	v.Lift = len(v.Reasons()) == 0
	if s.AsSaid() {
		v.keep(s.Lift)
	}
	return v
}

// settle lets what settles the suspects settle 2c as well: one reading put both out.
func (v *Verdict) settle(odd string) {
	for i, c := range v.Checks {
		remedy := strings.TrimSuffix(v.Culprits.Remedy.Text, ".")
		if c.Name == "2c" && !c.Met && remedy != "" && !v.Culprits.Suspects[0].Upright {
			v.Checks[i].Again = odd + " lies furthest off: " + strings.ToLower(remedy[:1]) + remedy[1:]
		}
	}
}

// keep makes the verdict the one that was said when the tripod was lifted.
func (v *Verdict) keep(l *booking.Lift) {
	said := l.Verdict == "lift"
	if said == v.Lift {
		return
	}
	v.Lift = said
	for i := range v.Checks {
		v.Checks[i].Met = v.Checks[i].Met || said
	}
	for _, text := range l.Reasons {
		v.add(Check{Name: "said", Text: text, From: "the verdict as it was said"})
	}
}

// OnSuspect is the name of the check that holds on a suspect reading.
const OnSuspect = "suspect"

// checkSuspects holds the tripod on every reading that is suspect, whatever the
// limits say. Suspects that fit alike are one thing to settle.
func checkSuspects(f culprit.Finding) []Check {
	var cs []Check
	for i, x := range f.Suspects {
		c := Check{Name: OnSuspect, Text: x.Text, Again: strings.TrimSuffix(f.Remedy.Text, "."), From: "a risk of 3 in 100 for a sound station"}
		if i > 0 {
			c.Again = "" // one remedy for all
		}
		cs = append(cs, c)
	}
	return cs
}

func (v *Verdict) add(cs ...Check) {
	for _, c := range cs {
		if c.Name != "" {
			v.Checks = append(v.Checks, c)
		}
	}
}

// checkUnsaid asks who observed, who booked and with what, where the setup was begun
// without saying it. A file of readings that is only worked was opened by nobody.
func checkUnsaid(s booking.Setup) Check {
	unsaid := s.Spec.Unsaid()
	if len(unsaid) == 0 || s.Opened.IsZero() {
		return Check{}
	}
	return Check{Name: "crew", From: spec.CommonPractice,
		Text:  fmt.Sprintf("Not said yet: %s.", strings.Join(unsaid, ", ")),
		Again: "say it: amend the setup (M), no reason is asked"}
}

// checkRounds counts the complete rounds that are used.
func checkRounds(s booking.Setup, r reduction.Reduction) Check {
	n, begun := len(r.Comparison.Complete), 0
	for _, w := range r.Rounds {
		if w.Void == nil {
			begun++
		}
	}
	c := Check{Name: "rounds", From: spec.CommonPractice, Met: n >= spec.LeastRounds && begun >= s.Spec.Rounds}
	c.Text = fmt.Sprintf("%s complete; two that agree are needed.", count(n, "round is", "rounds are"))
	if n >= spec.LeastRounds {
		c.Text = fmt.Sprintf("%s complete.", count(n, "round is", "rounds are"))
	}
	if n >= spec.LeastRounds && begun < s.Spec.Rounds {
		c.Text = fmt.Sprintf("%s of %d planned observed.", count(begun, "round is", "rounds are"), s.Spec.Rounds)
		c.From = "the plan of this setup"
	}
	if !c.Met {
		c.Again = "observe another round at the next circle setting"
	}
	return c
}

// checkMissing names the pointings that a used round lacks.
func checkMissing(s booking.Setup, r reduction.Reduction) []Check {
	var cs []Check
	for _, w := range r.Comparison.Rounds {
		missing := lacking(w.Pairs)
		if missing != "" && len(r.Comparison.Complete) < spec.LeastRounds {
			cs = append(cs, Check{Name: "complete", From: spec.CommonPractice,
				Text:  fmt.Sprintf("Round %d is incomplete: %s.", w.Number, missing),
				Again: "observe what is missing, or another round"})
		}
	}
	for _, t := range r.Untied {
		cs = append(cs, Check{Name: "tied", From: "the station adjustment",
			Text:  fmt.Sprintf("No round ties %s to the reference object.", t),
			Again: fmt.Sprintf("observe %s in one round with %s", t, s.Spec.RO)})
	}
	return cs
}

// lacking names the pairs that lack a reading, those that lack the same together;
// empty where none does.
func lacking(pairs []reduction.PairWork) string {
	var names [4][]string
	for _, p := range pairs {
		name := p.Target
		if p.Closing {
			name += " (closing)"
		}
		switch {
		case p.FL == nil && p.FR == nil:
			names[0] = append(names[0], name)
		case p.FL == nil:
			names[1] = append(names[1], name)
		case p.FR == nil:
			names[2] = append(names[2], name)
		case !p.HasPair && p.SumFL == nil:
			names[3] = append(names[3], name+" face left")
		case !p.HasPair:
			names[3] = append(names[3], name+" face right")
		}
	}
	var parts []string
	for i, what := range []string{"nothing booked on ", "no face left on ", "no face right on ", "not read after the repetitions: "} {
		if len(names[i]) > 0 {
			parts = append(parts, what+strings.Join(names[i], ", "))
		}
	}
	return strings.Join(parts, "; ")
}

// checkClosing holds the misclosure of each closed half against the limit.
func checkClosing(s booking.Setup, r reduction.Reduction) []Check {
	var cs []Check
	limit := r.Comparison.Limits.ROMisclosure
	for _, w := range r.Comparison.Rounds {
		for _, x := range w.Closings {
			c := Check{Name: "misclosure", Met: x.Misclosure.Abs() <= limit.Value, From: limit.From}
			miss, most := x.Misclosure.FormatAgainst(limit.Value, s.Spec.Instrument.Unit)
			c.Text = fmt.Sprintf("Round %d %s closes on %s with %s, limit %s.", w.Number, x.Face.Words(), x.Target, miss, most)
			if !c.Met {
				c.Again = fmt.Sprintf("observe round %d again", w.Number)
			}
			cs = append(cs, c)
		}
	}
	return cs
}

// checkSpan holds the spread of a series over the setup against its limit.
func checkSpan(s booking.Setup, name, of string, span *reduction.Span, limit spec.Limit, again string) Check {
	if span == nil || span.N < 2 {
		return Check{}
	}
	c := Check{Name: name, Met: span.Width() <= limit.Value, From: limit.From}
	width, most := span.Width().SizeAgainst(limit.Value, s.Spec.Instrument.Unit)
	c.Text = fmt.Sprintf("The spread of %s over the setup is %s, limit %s.", of, width, most)
	if !c.Met {
		c.Again = again
	}
	return c
}

// checkPlanned names the targets whose vertical circle was to be read, was not,
// and was not passed over as blocked.
func checkPlanned(s booking.Setup, r reduction.Reduction) Check {
	var missing []string
	read := map[string]bool{}
	for _, v := range r.Verticals {
		read[v.Target] = v.FL != nil || v.FR != nil
	}
	for _, k := range s.Spec.VerticalSlots(faces.FL) {
		_, blocked := s.Skipped(k)
		_, blockedRight := s.Skipped(k.Pair())
		if !read[k.Target] && !blocked && !blockedRight {
			missing = append(missing, k.Target)
		}
	}
	if len(missing) == 0 {
		return Check{}
	}
	return Check{Name: "verticals", From: "the plan of this setup",
		Text:  fmt.Sprintf("The vertical circle was not read on %s.", strings.Join(missing, ", ")),
		Again: "read it on both faces, or pass the pointings over as blocked"}
}

// checkVerticals names the vertical pairs that lack a face, and those that were
// planned and not read at all.
func checkVerticals(s booking.Setup, r reduction.Reduction) []Check {
	cs := []Check{checkPlanned(s, r)}
	for _, v := range r.Verticals {
		if v.HasPair || v.FL == nil && v.FR == nil {
			continue
		}
		face := faces.FL
		if v.FR == nil {
			face = faces.FR
		}
		cs = append(cs, Check{Name: "verticals", From: spec.CommonPractice,
			Text:  fmt.Sprintf("The vertical circle on %s was read on one face only.", v.Target),
			Again: fmt.Sprintf("read %s on %s", v.Target, face.Words())})
	}
	return cs
}

// seconds prints a small angle without its sign in the small unit of the circle.
func seconds(s booking.Setup, a reduce.Angle) string { return a.FormatSize(s.Spec.Instrument.Unit) }

func count(n int, one, many string) string {
	switch n {
	case 0:
		return "No " + one
	case 1:
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
