package booking

import (
	"slices"
	"time"
)

// A Book is what belongs to the whole book: the fold of the events of setup 0.
type Book struct {
	Opened   time.Time
	Program  string
	Drill    bool
	Job      string // what it is for, for whom, and where; empty: not said
	Client   string
	Place    string
	Known    []KnownStation
	Bearings []KnownBearing
	Plan     []PlannedStation
	Figures  []FigureValue     // settings of figures that are recorded
	Centres  []CentreNoted     // instruments and targets that stood beside their marks
	Levels   []LevelledRise    // levelled differences of height
	Checks   []InstrumentCheck // of instruments before work
	Notes    []HandOver        // to the next crew
	Copy     string            // directory of the second journal, empty: none
	LastSeq  uint64
}

// FoldBook applies the events of the book itself in order.
func FoldBook(entries []Entry) (Book, error) {
	var b Book
	for _, e := range entries {
		var err error
		if b, err = b.Apply(e); err != nil {
			return b, err
		}
	}
	return b, nil
}

// Apply returns the book after the event.
func (b Book) Apply(e Entry) (Book, error) {
	switch v := e.Event.(type) {
	case BookOpened:
		b.Opened, b.Program, b.Drill, b.Job = e.At, v.Program, v.Drill, v.Title
	case KnownLoaded:
		if v.Stations != nil {
			b.Known = v.Stations
		}
		b.Bearings = addBearings(b.Bearings, v.Bearings)
	case PlanLoaded:
		b.Plan = v.Stations
	case FiguresSet:
		b.Figures = setFigures(b.Figures, v.Values)
	case CentreNoted:
		b.Centres = noteCentre(b.Centres, v)
	case LevelsLoaded:
		b.Levels = v.Rises
	case BookDescribed:
		b = b.describe(v)
	case CopySet:
		b.Copy = v.Dir
	case InstrumentChecked:
		b.Checks = append(slices.Clip(b.Checks), InstrumentCheck{v, e.At, e.Seq})
	case HandedOver:
		b.Notes = append(slices.Clip(b.Notes), HandOver{v, e.At})
	case RemarkMade:
	default:
		return b, e.Impossible("it does not belong to the book")
	}
	b.LastSeq = e.Seq
	return b, nil
}

// addBearings adds known bearings to those there are; one between the same two
// stations, either way, takes the place of the earlier one.
func addBearings(known, more []KnownBearing) []KnownBearing {
	out := slices.Clone(known)
	for _, m := range more {
		out = slices.DeleteFunc(out, func(k KnownBearing) bool {
			return k.From == m.From && k.To == m.To || k.From == m.To && k.To == m.From
		})
		out = append(out, m)
	}
	return out
}

// setFigures lays settings over those there are.
func setFigures(there, more []FigureValue) []FigureValue {
	out := slices.Clone(there)
	for _, m := range more {
		out = slices.DeleteFunc(out, func(v FigureValue) bool { return v.Name == m.Name })
		if m.Value != nil {
			out = append(out, m)
		}
	}
	return out
}

// noteCentre lays a centre over those there are.
func noteCentre(there []CentreNoted, c CentreNoted) []CentreNoted {
	out := slices.DeleteFunc(slices.Clone(there), func(x CentreNoted) bool { return x.Setup == c.Setup && x.Target == c.Target })
	if c.Distance != 0 {
		out = append(out, c)
	}
	return out
}

// describe returns the book after what is said of it.
func (b Book) describe(d BookDescribed) Book {
	for _, f := range []struct {
		to *string
		is string
	}{{&b.Job, d.Job}, {&b.Client, d.Client}, {&b.Place, d.Place}} {
		if f.is != "" {
			*f.to = f.is
		}
	}
	return b
}

// Describe returns what of d is not said of the book yet; ok is false where
// nothing is new.
func (b Book) Describe(d BookDescribed) (news BookDescribed, ok bool) {
	news.By = d.By
	for _, f := range []struct {
		to      *string
		is, was string
	}{{&news.Job, d.Job, b.Job}, {&news.Client, d.Client, b.Client}, {&news.Place, d.Place, b.Place}} {
		if f.is != "" && f.is != f.was {
			*f.to, ok = f.is, true
		}
	}
	return news, ok
}
