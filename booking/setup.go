package booking

import (
	"slices"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// A Setup is everything that happened on one occupied station until the tripod
// was lifted: the fold of its events. It is a value; Apply returns a new one and
// leaves the old as it was.
type Setup struct {
	Number   int
	Opened   time.Time
	Spec     spec.Spec
	Readings []Reading // every reading in the order booked, struck ones too
	Skips    []Skip
	Rounds   []Round // Rounds[i].Number == i+1
	Added    []event.RoundAdded
	Halves   []HalfRepeat // halves asked for again
	Asked    int          // rounds asked for in all, those called of themselves counted
	Remarks  []Remark
	Amended  []Amendment
	Airs     []WeatherNote // the weather, as it was noted
	Files    []NamedFile
	Packed   []PackList
	Void     *SetupVoid // nil: the setup stands
	Lift     *Lift      // nil until the tripod is lifted
	Repeated bool       // something was measured again
	LastSeq  uint64     // number of the last event of the setup
}

// A Reading is one booked reading with all that happened to it.
type Reading struct {
	Seq       uint64 // number of its event in the book
	At        time.Time
	Slot      spec.Slot
	Text      string // as keyed
	Value     int64  // reduce.Angle or lengths.Length, by Slot.Quantity
	Confirmed bool
	Findings  []event.Finding
	By        string
	ReadAt    string  // RFC 3339, when keyed afterwards
	Struck    *Strike // nil: it stands
	LeftOut   *Strike // nil: it counts, where it stands
	AfterLift bool    // read again, the setup being lifted
}

// Angle returns the value of a circle reading.
func (r Reading) Angle() reduce.Angle { return reduce.Angle(r.Value) }

// Direction returns the value of a circle reading as the point it is on the circle.
func (r Reading) Direction() reduce.Direction { return reduce.DirectionAt(r.Angle()) }

// Length returns the value of a distance or a height.
func (r Reading) Length() lengths.Length { return lengths.Length(r.Value) }

// Stands tells whether the reading is not struck.
func (r Reading) Stands() bool { return r.Struck == nil }

// Counts tells whether the reading stands and is not left out of the means.
func (r Reading) Counts() bool { return r.Struck == nil && r.LeftOut == nil }

// A Strike is why, when and by whom a reading was struck or left out.
type Strike struct {
	Reason    string
	By        string
	At        time.Time
	Seq       uint64
	AfterLift bool
}

// An Amendment is what was put right in the agreement of a setup.
type Amendment struct {
	event.SetupAmended
	Was spec.Spec // as it was agreed before
	At  time.Time
	Seq uint64
}

// A SetupVoid is why, when and by whom a setup was struck whole.
type SetupVoid struct {
	event.SetupStruck
	At time.Time
}

// A Skip is a pointing that was passed over.
type Skip struct {
	Slot    spec.Slot
	Blocked bool
	Reason  string
	By      string
	Seq     uint64
}

// A Round is a round of directions: what became of it as a whole.
type Round struct {
	Number  int
	Setting int // which circle setting of the plan it was observed at: 1, 2, …
	Void    *event.RoundVoided
	LeftOut *event.RoundLeftOut
	Without []string // targets added too late to be sighted in it
}

// Used tells whether the round is neither void nor left out.
func (r Round) Used() bool { return r.Void == nil && r.LeftOut == nil }

// A Remark is a remark beside a reading, or on the setup where On is 0.
type Remark struct {
	On        uint64
	Text      string
	By        string
	At        time.Time
	AfterLift bool
}

// A Lift is the end of a setup.
type Lift struct {
	event.Lifted
	At time.Time
}

// Reading returns the reading whose event has this number.
func (s Setup) Reading(seq uint64) (Reading, bool) {
	for _, r := range s.Readings {
		if r.Seq == seq {
			return r, true
		}
	}
	return Reading{}, false
}

// Counting returns the reading of a slot that goes into the means.
func (s Setup) Counting(slot spec.Slot) (Reading, bool) {
	r, ok := s.At(slot)
	return r, ok && r.Counts()
}

// At returns the standing reading of a slot.
func (s Setup) At(slot spec.Slot) (Reading, bool) {
	if r := s.standing(slot); r != nil {
		return *r, true
	}
	return Reading{}, false
}

// standing is At without a copy: a setup is worked at every reading.
func (s *Setup) standing(slot spec.Slot) *Reading {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if r := &s.Readings[i]; r.Slot.Round == slot.Round && r.Struck == nil && r.Slot == slot {
			return r
		}
	}
	return nil
}

// Counted is Counting without a copy, nil where there is none.
func (s *Setup) Counted(slot spec.Slot) *Reading {
	if r := s.standing(slot); r != nil && r.LeftOut == nil {
		return r
	}
	return nil
}

// Last returns the reading booked last that still stands.
func (s Setup) Last() (Reading, bool) {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if s.Readings[i].Stands() {
			return s.Readings[i], true
		}
	}
	return Reading{}, false
}

// Round returns the round with this number.
func (s Setup) Round(number int) (Round, bool) {
	if number < 1 || number > len(s.Rounds) {
		return Round{}, false
	}
	return s.Rounds[number-1], true
}

// Skipped tells how often a slot was passed over and whether it is blocked.
func (s Setup) Skipped(slot spec.Slot) (times int, blocked bool) {
	for _, k := range s.Skips {
		if k.Slot == slot {
			times++
			blocked = blocked || k.Blocked
		}
	}
	return times, blocked || times > 1
}

// clone returns the setup with slices of its own, so that Apply changes no
// earlier value.
func (s Setup) clone() Setup {
	s.Readings = slices.Clone(s.Readings)
	s.Skips = slices.Clone(s.Skips)
	s.Rounds = slices.Clone(s.Rounds)
	s.Added = slices.Clone(s.Added)
	s.Halves = slices.Clone(s.Halves)
	s.Remarks = slices.Clone(s.Remarks)
	s.Amended = slices.Clone(s.Amended)
	s.Airs, s.Files, s.Packed = slices.Clone(s.Airs), slices.Clone(s.Files), slices.Clone(s.Packed)
	return s
}

// Rule is the number of the rule by which a verdict is said today. A setup that was
// lifted keeps the rule of its verdict: 0, limits as they were opened with; 1,
// limits of practice give way to what the instrument makes likely, and a reading
// that is suspect holds the tripod.
const Rule = 1

// AsSaid tells that the setup was lifted by another rule than today's: its verdict
// stands as it was said.
func (s Setup) AsSaid() bool { return s.Lift != nil && s.Lift.Rule != Rule }

// NextOpen returns the first slot that is neither booked nor passed over; when
// there is none, the first that was passed over for now (back is true).
func (s Setup) NextOpen(slots []spec.Slot) (slot spec.Slot, back, ok bool) {
	for _, k := range slots {
		if passed, _ := s.passed(k); passed {
			continue
		}
		if _, booked := s.At(k); !booked {
			return k, false, true
		}
	}
	for _, k := range slots {
		if _, blocked := s.passed(k); blocked {
			continue
		}
		if _, booked := s.At(k); !booked {
			return k, true, true
		}
	}
	return spec.Slot{}, false, false
}

// passed tells whether a slot was passed over, and whether it is blocked. Target by
// target, what is hidden on one face is not sighted on the other either.
func (s Setup) passed(k spec.Slot) (over, blocked bool) {
	if len(s.Skips) == 0 {
		return false, false
	}
	times, blocked := s.Skipped(k)
	if s.Spec.Order == spec.ByTarget && k.Quantity == spec.Horizontal {
		if _, booked := s.At(k.Pair()); !booked {
			more, hidden := s.Skipped(k.Pair())
			times, blocked = times+more, blocked || hidden
		}
	}
	if k.Quantity == spec.Accumulated { // without its single sight an angle is not repeated
		k.Quantity = spec.Horizontal
		if _, booked := s.At(k); !booked {
			more, hidden := s.Skipped(k)
			times, blocked = times+more, blocked || hidden
		}
	}
	return times > 0, blocked
}

// LatestRound returns the last round that is not void, or nil.
func (s Setup) LatestRound() *Round {
	for i := len(s.Rounds) - 1; i >= 0; i-- {
		if s.Rounds[i].Void == nil {
			return &s.Rounds[i]
		}
	}
	return nil
}

// AnyIn tells whether a standing horizontal reading of the round is booked.
func (s Setup) AnyIn(round int) bool {
	return slices.ContainsFunc(s.Readings, func(r Reading) bool {
		return r.Stands() && r.Slot.Quantity == spec.Horizontal && r.Slot.Round == round
	})
}

// NextSetting returns the circle setting of the round that would be begun next.
func (s Setup) NextSetting() int {
	setting := 1
	for _, r := range s.Rounds {
		if r.Void == nil {
			setting++
		}
	}
	return setting
}

// Called keeps the pointings of a sweep that are called: those of the agreement,
// without the targets that were added too late for the round.
func (r Round) Called(sweep []spec.Slot) []spec.Slot {
	return slices.DeleteFunc(sweep, func(k spec.Slot) bool { return slices.Contains(r.Without, k.Target) })
}
