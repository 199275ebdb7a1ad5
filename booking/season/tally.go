package season

import (
	"slices"

	"example.org/readback/booking/check"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// tally counts what a season's checks did.
type tally struct {
	readings, expected                                                                    int   // clean readings; those of which something was expected
	falseMarks                                                                            int   // clean readings marked, no slip standing in the book
	slips                                                                                 int   // slips keyed that make a reading
	noExpectation                                                                         int   // of them, where nothing was expected
	roughly, roughlyMarked                                                                int   // of them, where only the circle setting or the right face was
	foundLater                                                                            int   // slips unseen at first, struck later
	overEntry, overEntryMarked                                                            int   // slips larger than the entry limit
	beyond, beyondMarked                                                                  int   // readings further from the expectation than the entry limit
	overRounds, overRoundsMarked                                                          int   // slips larger than the limit for rounds
	digits                                                                                []int // at which digit they were marked
	marked                                                                                int   // slips marked at entry
	named, right, wrong                                                                   int   // cause named; as it was; otherwise
	kinds                                                                                 map[slip.Kind]*kindTally
	stations                                                                              int
	cleanHold, cleanStations, spoiledLift, spoiledStations                                int
	cleanHoldHelped, spoiledLiftWarned, spoiledLiftHelped, spoiledLiftUpright, cleanNamed int
}

type kindTally struct{ made, marked, named, right int }

// clean counts a reading without a slip.
func (t *tally) clean(expected, marked, slipStands bool) {
	t.readings++
	if !expected {
		return
	}
	t.expected++
	if marked && !slipStands {
		t.falseMarks++
	}
}

// slip counts a slip at its entry.
func (t *tally) slip(agreed spec.Spec, exp check.Expectation, m made, marked, slipStands bool) {
	if slipStands {
		return // what is expected is spoiled already: not a fair trial
	}
	t.slips++
	if !exp.Expects() {
		t.noExpectation++
		return
	}
	if !exp.ExpectsFigure() {
		t.roughly++
		t.roughlyMarked += one(marked)
	}
	a, err := reduce.ParseKeyed(m.keyed, reduce.DMS, agreed.Instrument.LeastCount)
	if err != nil {
		return
	}
	if marked {
		t.cause(exp, m, a)
	}
	t.kind(m.kind).made++
	t.kind(m.kind).marked += one(marked)
	if !exp.ExpectsFigure() {
		return
	}
	size := (a - m.right).Wrap().Abs()
	if limit := exp.Limit(); size > limit {
		t.overEntry++
		t.overEntryMarked += one(marked)
	}
	if off := exp.OffAt(m.keyed); off > 0 {
		t.beyond++
		t.beyondMarked += one(marked)
	}
	if size > agreed.Limits.Rounds.Value {
		t.overRounds++
		t.overRoundsMarked += one(marked)
	}
}

// cause counts what was said of a marked slip.
func (t *tally) cause(exp check.Expectation, m made, a reduce.Angle) {
	t.marked++
	t.digits = append(t.digits, exp.OffAt(m.keyed))
	c := exp.Slip(a)
	if c.Kind == slip.Unknown {
		return
	}
	t.named++
	t.kind(m.kind).named++
	if c.Kind == m.kind && c.Part == m.part && !c.OnRival {
		t.right++
		t.kind(m.kind).right++
	} else {
		t.wrong++
	}
}

func (t *tally) kind(k slip.Kind) *kindTally {
	if t.kinds == nil {
		t.kinds = map[slip.Kind]*kindTally{}
	}
	if t.kinds[k] == nil {
		t.kinds[k] = &kindTally{}
	}
	return t.kinds[k]
}

// median returns the median digit at which slips were marked.
func (t *tally) median() int {
	if len(t.digits) == 0 {
		return 0
	}
	d := slices.Sorted(slices.Values(t.digits))
	return d[len(d)/2]
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}
