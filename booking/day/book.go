package day

import (
	"slices"
	"time"

	"example.org/readback/booking/event"
)

// A Book is what belongs to the whole book: the fold of the events of setup 0.
type Book struct {
	Opened   time.Time
	Program  string
	Drill    bool
	Job      string // what it is for, for whom, and where; empty: not said
	Client   string
	Place    string
	Known    []event.KnownStation
	Bearings []event.KnownBearing
	Plan     []event.PlannedStation
	Figures  []event.FigureValue  // settings of figures that are recorded
	Centres  []event.CentreNoted  // instruments and targets that stood beside their marks
	Levels   []event.LevelledRise // levelled differences of height
	Checks   []InstrumentCheck    // of instruments before work
	Notes    []HandOver           // to the next crew
	Copy     string               // directory of the second journal, empty: none
	LastSeq  uint64
}

// Fold applies the events of the book itself in order.
func Fold(entries []event.Entry) (Book, error) {
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
func (b Book) Apply(e event.Entry) (Book, error) {
	switch v := e.Event.(type) {
	case event.BookOpened:
		b.Opened, b.Program, b.Drill, b.Job = e.At, v.Program, v.Drill, v.Title
	case event.KnownLoaded:
		if v.Stations != nil {
			b.Known = v.Stations
		}
		b.Bearings = addBearings(b.Bearings, v.Bearings)
	case event.PlanLoaded:
		b.Plan = v.Stations
	case event.FiguresSet:
		b.Figures = setFigures(b.Figures, v.Values)
	case event.CentreNoted:
		b.Centres = noteCentre(b.Centres, v)
	case event.LevelsLoaded:
		b.Levels = v.Rises
	case event.BookDescribed:
		b = b.describe(v)
	case event.CopySet:
		b.Copy = v.Dir
	case event.InstrumentChecked:
		b.Checks = append(slices.Clip(b.Checks), InstrumentCheck{v, e.At, e.Seq})
	case event.HandedOver:
		b.Notes = append(slices.Clip(b.Notes), HandOver{v, e.At})
	case event.RemarkMade:
	default:
		return b, e.Impossible("it does not belong to the book")
	}
	b.LastSeq = e.Seq
	return b, nil
}

// addBearings adds known bearings to those there are; one between the same two
// stations, either way, takes the place of the earlier one.
func addBearings(known, more []event.KnownBearing) []event.KnownBearing {
	out := slices.Clone(known)
	for _, m := range more {
		out = slices.DeleteFunc(out, func(k event.KnownBearing) bool {
			return k.From == m.From && k.To == m.To || k.From == m.To && k.To == m.From
		})
		out = append(out, m)
	}
	return out
}

// setFigures lays settings over those there are.
func setFigures(there, more []event.FigureValue) []event.FigureValue {
	out := slices.Clone(there)
	for _, m := range more {
		out = slices.DeleteFunc(out, func(v event.FigureValue) bool { return v.Name == m.Name })
		if m.Value != nil {
			out = append(out, m)
		}
	}
	return out
}

// noteCentre lays a centre over those there are.
func noteCentre(there []event.CentreNoted, c event.CentreNoted) []event.CentreNoted {
	out := slices.DeleteFunc(slices.Clone(there), func(x event.CentreNoted) bool { return x.Setup == c.Setup && x.Target == c.Target })
	if c.Distance != 0 {
		out = append(out, c)
	}
	return out
}

// describe returns the book after what is said of it.
func (b Book) describe(d event.BookDescribed) Book {
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
func (b Book) Describe(d event.BookDescribed) (news event.BookDescribed, ok bool) {
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
