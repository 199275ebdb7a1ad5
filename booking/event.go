package booking

import (
	"time"

	"example.org/readback/reduce"
)

// A Kind is the wire number of an event. Numbers are written out and never
// reused; a new meaning gets a new number or a new version in the codec.
type Kind uint16

// The kinds of events.
const (
	KindBookOpened        Kind = 1
	KindSetupOpened       Kind = 2
	KindReadingBooked     Kind = 3
	KindReadingStruck     Kind = 4
	KindPointingSkipped   Kind = 5
	KindRoundVoided       Kind = 6
	KindRoundLeftOut      Kind = 7
	KindRoundTakenBack    Kind = 8
	KindRemarkMade        Kind = 9
	KindRoundAdded        Kind = 10
	KindLifted            Kind = 11
	KindKnownLoaded       Kind = 12
	KindCopySet           Kind = 13
	KindSetupAmended      Kind = 14
	KindSetupStruck       Kind = 15
	KindReadingLeftOut    Kind = 16
	KindReadingTaken      Kind = 17
	KindPlanLoaded        Kind = 18
	KindBookDescribed     Kind = 19
	KindInstrumentChecked Kind = 20
	KindWeatherNoted      Kind = 21
	KindHandedOver        Kind = 22
	KindFileNamed         Kind = 23
	KindPackedUp          Kind = 24
)

// An Event is a fact. Its concrete types are listed in the codec.
type Event interface{ Kind() Kind }

// An Entry is an event with its place in the book.
type Entry struct {
	Seq   uint64    // number in the book
	At    time.Time // what the tablet's clock said
	Setup int       // 0: the book itself
	Event Event
}

// BookOpened begins a book.
type BookOpened struct {
	Program string `json:"program"` // version of the program that made the book
	Drill   bool   `json:"drill,omitempty"`
	Title   string `json:"title,omitempty"`
}

// SetupOpened begins a setup.
type SetupOpened struct {
	Spec Spec `json:"spec"`
}

// ReadingBooked is one reading as it was called, keyed and read back.
type ReadingBooked struct {
	Slot      Slot      `json:"slot"`
	Text      string    `json:"text"`                // as keyed
	Value     int64     `json:"value"`               // reduce.Angle (micro-arcseconds) or reduce.Length (nanometres)
	Confirmed bool      `json:"confirmed,omitempty"` // it was marked, and the booker confirmed that the observer had read it again
	Findings  []Finding `json:"findings,omitempty"`  // what the checks said at the time
	By        string    `json:"by"`
	ReadAt    string    `json:"read_at,omitempty"` // RFC 3339 time of the reading when keyed afterwards
	Remark    string    `json:"remark,omitempty"`
	AfterLift bool      `json:"after_lift,omitempty"` // a re-reading, the setup being lifted
}

// SetupAmended puts right what was agreed when the setup was opened. Readings
// follow their renamed target; those of a target that is dropped are struck.
type SetupAmended struct {
	Spec      Spec     `json:"spec"`              // as it is meant from now on
	Renamed   []Rename `json:"renamed,omitempty"` // names that were written wrongly
	Reason    string   `json:"reason,omitempty"`  // may be missing only before the first reading
	By        string   `json:"by"`
	AfterLift bool     `json:"after_lift,omitempty"`
}

// A Rename is one name that was written wrongly, and what was meant.
type Rename struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// SetupStruck strikes a setup that was opened by mistake, whole. It keeps its
// number and one line in the book.
type SetupStruck struct {
	Reason string `json:"reason"`
	By     string `json:"by"`
}

// ReadingLeftOut keeps a reading from the means without striking it, with the
// reason written beside it.
type ReadingLeftOut struct {
	Seq       uint64 `json:"seq"`
	Reason    string `json:"reason"`
	By        string `json:"by"`
	AfterLift bool   `json:"after_lift,omitempty"`
}

// ReadingTakenBack takes a reading that was left out into the means again.
type ReadingTakenBack struct {
	Seq       uint64 `json:"seq"`
	Reason    string `json:"reason"`
	By        string `json:"by"`
	AfterLift bool   `json:"after_lift,omitempty"`
}

// ReadingStruck strikes a reading through. It stays in the book.
type ReadingStruck struct {
	Seq       uint64 `json:"seq"` // of the reading
	Reason    string `json:"reason"`
	By        string `json:"by"`
	AfterLift bool   `json:"after_lift,omitempty"`
}

// PointingSkipped passes over a pointing. Until is why; a pointing skipped for
// now is called again at the end of its half, a blocked one is not.
type PointingSkipped struct {
	Slot    Slot   `json:"slot"`
	Blocked bool   `json:"blocked,omitempty"` // not called again in this half
	Reason  string `json:"reason"`
	By      string `json:"by"`
}

// RoundVoided strikes every reading of a round and ends it; a new round is
// called at the same circle setting.
type RoundVoided struct {
	Round  int    `json:"round"`
	From   Slot   `json:"from"` // the pointing at which it was said
	Reason string `json:"reason"`
	By     string `json:"by"`
}

// RoundLeftOut keeps a round from the means, with the reason written beside it.
type RoundLeftOut struct {
	Round     int    `json:"round"`
	Reason    string `json:"reason"`
	By        string `json:"by"`
	AfterLift bool   `json:"after_lift,omitempty"`
}

// RoundTakenBack takes a round that was left out into the means again.
type RoundTakenBack struct {
	Round     int    `json:"round"`
	Reason    string `json:"reason"`
	By        string `json:"by"`
	AfterLift bool   `json:"after_lift,omitempty"`
}

// RemarkMade is a remark beside a reading, or on the setup where Seq is 0.
type RemarkMade struct {
	Seq  uint64 `json:"seq,omitempty"`
	Text string `json:"text"`
	By   string `json:"by"`
}

// RoundAdded asks for one more round than planned.
type RoundAdded struct {
	Reason string `json:"reason"`
	By     string `json:"by"`
}

// Lifted ends a setup: the verdict as it was said and, on Hold, the reason for
// lifting all the same.
type Lifted struct {
	Verdict string   `json:"verdict"` // "lift" or "hold"
	Reasons []string `json:"reasons,omitempty"`
	Despite string   `json:"despite,omitempty"` // written reason for lifting on Hold
	Rule    int      `json:"rule,omitempty"`    // by which the verdict was said, see Rule
	By      string   `json:"by"`
}

// KnownLoaded records known stations read from a file, or known bearings. Each
// list that is given replaces the one before.
type KnownLoaded struct {
	File     string         `json:"file,omitempty"`
	Stations []KnownStation `json:"stations,omitempty"`
	Bearings []KnownBearing `json:"bearings,omitempty"`
	By       string         `json:"by,omitempty"`
}

// A KnownBearing is a bearing from one station to another that is given without
// coordinates, clockwise from north.
type KnownBearing struct {
	From    string           `json:"from"`
	To      string           `json:"to"`
	Bearing reduce.Direction `json:"bearing"`
}

// A KnownStation is a station whose coordinates are given.
type KnownStation struct {
	Name  string   `json:"name"`
	East  float64  `json:"e"` // metres
	North float64  `json:"n"` // metres
	Elev  *float64 `json:"h,omitempty"`
}

// CopySet names the directory that keeps a second journal; empty ends it.
type CopySet struct {
	Dir string `json:"dir"`
	By  string `json:"by"`
}

// Kind methods: see Kind.
func (BookOpened) Kind() Kind       { return KindBookOpened }
func (SetupOpened) Kind() Kind      { return KindSetupOpened }
func (ReadingBooked) Kind() Kind    { return KindReadingBooked }
func (ReadingStruck) Kind() Kind    { return KindReadingStruck }
func (PointingSkipped) Kind() Kind  { return KindPointingSkipped }
func (RoundVoided) Kind() Kind      { return KindRoundVoided }
func (RoundLeftOut) Kind() Kind     { return KindRoundLeftOut }
func (RoundTakenBack) Kind() Kind   { return KindRoundTakenBack }
func (RemarkMade) Kind() Kind       { return KindRemarkMade }
func (RoundAdded) Kind() Kind       { return KindRoundAdded }
func (Lifted) Kind() Kind           { return KindLifted }
func (KnownLoaded) Kind() Kind      { return KindKnownLoaded }
func (CopySet) Kind() Kind          { return KindCopySet }
func (SetupAmended) Kind() Kind     { return KindSetupAmended }
func (SetupStruck) Kind() Kind      { return KindSetupStruck }
func (ReadingLeftOut) Kind() Kind   { return KindReadingLeftOut }
func (ReadingTakenBack) Kind() Kind { return KindReadingTaken }

// A Severity is how much a finding matters.
type Severity uint8

// The severities. The numbers are stored: they never change meaning.
const (
	Note Severity = 1 // said, books at once
	Warn Severity = 2 // said, books at once, stands in the record
	Stop Severity = 3 // books only when the booker confirms that it was read again
)

// A Finding is a judgement about a reading.
type Finding struct {
	Code     string   `json:"code"` // stable; the text may change
	Severity Severity `json:"severity"`
	Text     string   `json:"text"` // one sentence for the booker
}
