package event

import (
	"errors"
	"fmt"
	"time"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A Kind is the wire number of an event. Numbers are written out and never
// reused; a new meaning gets a new number or a new version in the codec.
type Kind uint16

// The kinds of events.
const (
	kindBookOpened        Kind = 1
	kindSetupOpened       Kind = 2
	kindReadingBooked     Kind = 3
	kindReadingStruck     Kind = 4
	kindPointingSkipped   Kind = 5
	kindRoundVoided       Kind = 6
	kindRoundLeftOut      Kind = 7
	kindRoundTakenBack    Kind = 8
	kindRemarkMade        Kind = 9
	kindRoundAdded        Kind = 10
	kindLifted            Kind = 11
	kindKnownLoaded       Kind = 12
	kindCopySet           Kind = 13
	kindSetupAmended      Kind = 14
	kindSetupStruck       Kind = 15
	kindReadingLeftOut    Kind = 16
	kindReadingTaken      Kind = 17
	kindPlanLoaded        Kind = 18
	kindBookDescribed     Kind = 19
	kindInstrumentChecked Kind = 20
	kindWeatherNoted      Kind = 21
	kindHandedOver        Kind = 22
	kindFileNamed         Kind = 23
	kindPackedUp          Kind = 24
	kindFiguresSet        Kind = 25
	kindCentreNoted       Kind = 26
	kindLevelsLoaded      Kind = 27
	kindHalfAsked         Kind = 28
)

// An Event is a fact. Its concrete types are listed in the codec.
type Event interface{ kind() Kind }

// An Entry is an event with its place in the book.
type Entry struct {
	Seq   uint64    // number in the book
	At    time.Time // what the tablet's clock said
	Setup int       // 0: the book itself
	Event Event
}

// errImpossible is what an event is that the events before it do not allow: a damaged
// book, or a bug.
var errImpossible = errors.New("the book holds an event that cannot have happened")

// Impossible says why the event cannot have happened after those before it.
func (e Entry) Impossible(why string) error {
	return fmt.Errorf("event %d (kind %d): %w: %s", e.Seq, e.Event.kind(), errImpossible, why)
}

// BookOpened begins a book.
type BookOpened struct {
	Program string `json:"program"` // version of the program that made the book
	Drill   bool   `json:"drill,omitempty"`
	Title   string `json:"title,omitempty"`
}

// SetupOpened begins a setup.
type SetupOpened struct {
	Spec spec.Spec `json:"spec"`
}

// ReadingBooked is one reading as it was called, keyed and read back.
type ReadingBooked struct {
	Slot      spec.Slot `json:"slot"`
	Text      string    `json:"text"`                // as keyed
	Value     int64     `json:"value"`               // reduce.Angle (micro-arcseconds) or lengths.Length (nanometres)
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
	Spec      spec.Spec     `json:"spec"`              // as it is meant from now on
	Renamed   []spec.Rename `json:"renamed,omitempty"` // names that were written wrongly
	Reason    string        `json:"reason,omitempty"`  // may be missing only before the first reading
	By        string        `json:"by"`
	AfterLift bool          `json:"after_lift,omitempty"`
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
	Slot    spec.Slot `json:"slot"`
	Blocked bool      `json:"blocked,omitempty"` // not called again in this half
	Reason  string    `json:"reason"`
	By      string    `json:"by"`
}

// RoundVoided strikes every reading of a round and ends it; a new round is
// called at the same circle setting.
type RoundVoided struct {
	Round  int       `json:"round"`
	From   spec.Slot `json:"from"` // the pointing at which it was said
	Reason string    `json:"reason"`
	By     string    `json:"by"`
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

// What each is, by its number.
func (BookOpened) kind() Kind       { return kindBookOpened }
func (SetupOpened) kind() Kind      { return kindSetupOpened }
func (ReadingBooked) kind() Kind    { return kindReadingBooked }
func (ReadingStruck) kind() Kind    { return kindReadingStruck }
func (PointingSkipped) kind() Kind  { return kindPointingSkipped }
func (RoundVoided) kind() Kind      { return kindRoundVoided }
func (RoundLeftOut) kind() Kind     { return kindRoundLeftOut }
func (RoundTakenBack) kind() Kind   { return kindRoundTakenBack }
func (RemarkMade) kind() Kind       { return kindRemarkMade }
func (RoundAdded) kind() Kind       { return kindRoundAdded }
func (Lifted) kind() Kind           { return kindLifted }
func (KnownLoaded) kind() Kind      { return kindKnownLoaded }
func (CopySet) kind() Kind          { return kindCopySet }
func (SetupAmended) kind() Kind     { return kindSetupAmended }
func (SetupStruck) kind() Kind      { return kindSetupStruck }
func (ReadingLeftOut) kind() Kind   { return kindReadingLeftOut }
func (ReadingTakenBack) kind() Kind { return kindReadingTaken }

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

// HalfAsked asks for one half of a round again as a check, without striking the
// first: its pointings are called once more, each with this Repeat.
type HalfAsked struct {
	Round  int        `json:"round"`
	Face   faces.Face `json:"face"`
	Repeat int        `json:"repeat"` // 1: the second time
	By     string     `json:"by"`
}

func (HalfAsked) kind() Kind { return kindHalfAsked }
