package tables

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
)

// A Book is what is to be known of a book as a whole.
type Book struct {
	ID    string // identity: what its first event follows on, as hex digits
	Name  string
	State day.Book

	LastEvent uint64
	LastHash  string // as hex digits
	LastKeyed time.Time

	Before int    // setups of the books before it in its office book
	Since  uint64 // 0: the whole book is sent; else what came after this event
}

// A sink takes the lines of the tables, without their line ends.
type sink interface {
	line(table int, text []byte) error
}

// A Writer makes the rows of books and hands them to a stream of SQL or to files.
type Writer struct {
	to      sink
	program string
	row     row
	err     error
}

// used is what was observed with one instrument.
type used struct {
	spec.Instrument
	setups int64
}

// instrumentsOf are the instruments of setups, each as it was last stated.
func instrumentsOf(list []day.Summary) (out []*used) {
	at := map[[2]string]*used{}
	for _, m := range list {
		key := [2]string{m.Instrument.Name, m.Instrument.Serial}
		if at[key] == nil {
			at[key] = &used{}
			out = append(out, at[key])
		}
		at[key].Instrument = m.Instrument
		at[key].setups++
	}
	return out
}

// begin begins a row that belongs to a book.
func (w *Writer) begin(b Book) *row {
	w.row.b = w.row.b[:0]
	return w.row.text(b.ID)
}

// put hands on the row; after the first error nothing more is written.
func (w *Writer) put(table int) {
	if w.err == nil {
		w.err = w.to.line(table, w.row.b)
	}
}

// Setup writes the rows of a setup; hash is that of its last event.
func (w *Writer) Setup(b Book, s booking.Setup, hash string) error {
	r := reduction.Of(s)
	v := check.JudgeReduction(s, r)
	w.setup(b, s, r, v, hash)
	for _, x := range s.Readings {
		w.reading(b, s, x)
	}
	w.directions(b, s, r)
	w.heights(b, s, r)
	for i, c := range v.Checks {
		w.begin(b).whole(int64(s.Number), int64(i+1)).text(c.Name).flag(c.Met).text(c.Text, c.Again, c.From)
		w.put(checks)
	}
	w.notes(b, s)
	return w.err
}

func (w *Writer) setup(b Book, s booking.Setup, r reduction.Reduction, v check.Verdict, hash string) {
	p, from, to := s.Spec, time.Time{}, time.Time{}
	from, to, known := s.Observed()
	x := w.begin(b).whole(int64(s.Number)).text(p.Station, p.RO, p.Observer, p.Booker, p.Instrument.Name, p.Instrument.Serial, p.Weather, p.Instrument.Unit.String())
	x.seconds(p.Instrument.LeastCount).whole(int64(p.Rounds)).time(from, known).time(to, known).time(s.Opened, true).flag(p.KeyedAfterwards != nil)
	lifted, despite, struck := time.Time{}, "", ""
	if s.Lift != nil {
		lifted, despite = s.Lift.At, s.Lift.Despite
	}
	if s.Void != nil {
		struck = s.Void.Reason
	}
	x.time(lifted, s.Lift != nil).text(check.StateOf(s, r), v.Word(), despite, struck).whole(int64(len(s.Readings)))
	x.some(r.Dof > 0, r.S0, 6).whole(int64(r.Dof))
	m := instrument.SampleFrom(s, r)
	for _, e := range []instrument.Value{m.Collimation, m.Tilt, m.Index} {
		x.some(e.N > 0, e.Seconds, 6)
	}
	x.whole(int64(s.LastSeq)).text(hash, w.program, p.Ordered(), strings.Join(p.MoreROs, "; "))
	w.put(setups)
}

func (w *Writer) reading(b Book, s booking.Setup, r booking.Reading) {
	x := w.begin(b).whole(int64(r.Seq), int64(s.Number))
	round, begun := s.Round(r.Slot.Round)
	if begun {
		x.whole(int64(r.Slot.Round))
	} else {
		x.none(1)
	}
	unit, angular := s.Spec.Instrument.Unit.String(), r.Slot.Quantity.Angular()
	if !angular {
		unit = s.Spec.LengthUnit.String()
	}
	x.text(r.Slot.Face.String(), r.Slot.Target).flag(r.Slot.Closing).text(r.Slot.Quantity.String(), r.Text, unit)
	x.some(angular, r.Angle().Degrees(), 10).some(!angular, r.Length().Metres(), 9).whole(r.Value)
	at, known := s.ObservedAt(r)
	x.time(at, known).time(r.At, true).text(r.By).flag(r.Counts() && (!begun || round.Used()) && s.Void == nil).flag(r.Confirmed)
	strike, out := booking.Strike{}, ""
	if r.Struck != nil {
		strike = *r.Struck
	}
	if r.LeftOut != nil {
		out = r.LeftOut.Reason
	} else if round.LeftOut != nil {
		out = round.LeftOut.Reason
	}
	x.text(strike.Reason).time(strike.At, r.Struck != nil).text(strike.By, out).whole(int64(r.Slot.Repeat)).flag(r.AfterLift)
	w.put(readings)
}

func (w *Writer) directions(b Book, s booking.Setup, r reduction.Reduction) {
	if len(r.Directions) > 0 {
		w.begin(b).whole(int64(s.Number)).text(s.Spec.RO).whole(0).none(2).whole(int64(len(r.Comparison.Rounds))).none(1)
		w.put(directions)
	}
	for _, d := range r.Directions {
		x := w.begin(b).whole(int64(s.Number)).text(d.Target).degrees(d.Direction.Angle()).some(r.Dof > 0, d.SD, 6)
		x.some(d.Compared > 1, d.Spread.Seconds(), 6).whole(int64(d.Rounds))
		if d.Compared > 1 {
			x.flag(d.Agrees)
		} else {
			x.none(1)
		}
		w.put(directions)
	}
}

func (w *Writer) heights(b Book, s booking.Setup, r reduction.Reduction) {
	for _, v := range r.Verticals {
		if v.HasPair {
			w.begin(b).whole(int64(s.Number)).text(v.Target).degrees(v.Altitude).seconds(v.Index).number(v.Gradient, 6)
			w.put(verticals)
		}
		if v.Slope == nil && v.TargetHeight == nil {
			continue
		}
		x := w.begin(b).whole(int64(s.Number)).text(v.Target)
		for _, l := range []*booking.Reading{v.Slope, v.TargetHeight} {
			if l == nil {
				x.none(1)
			} else {
				x.number(l.Length().Metres(), 9)
			}
		}
		x.some(v.HasHorizontal, v.Horizontal, 6).some(v.HorizontalSD > 0, v.HorizontalSD, 6).some(v.HasRise, v.Rise, 6).some(v.RiseSD > 0, v.RiseSD, 6)
		if d := v.Work; d == nil {
			x.none(7)
		} else {
			for _, m := range []float64{d.Displayed, d.Atmosphere, d.Prism, d.Bow, d.SeaLevel, d.Scale} {
				x.number(m, 6)
			}
			x.number(cmp.Or(s.Spec.Making.Scale, 1), 9)
		}
		w.put(distances)
	}
}

// Book ends a book, after its setups: what belongs to it as a whole, the
// instruments of all its setups, and the figures that they make.
func (w *Writer) Book(b Book, all []day.Summary, r network.Report) error {
	w.begin(b).text(b.Name, b.State.Job, b.State.Client, b.State.Place).flag(b.State.Drill).time(b.State.Opened, true).whole(int64(b.Before), int64(b.LastEvent)).text(b.LastHash).time(b.LastKeyed, true).text(w.program)
	w.put(books)
	last := map[int]time.Time{} // when each setup was last observed
	for _, m := range all {
		if m.To != nil {
			last[m.Setup] = *m.To
		}
	}
	for i, f := range r.Figures {
		w.figure(b, i+1, f, last)
	}
	w.points(b, r)
	for _, i := range instrumentsOf(all) {
		x := w.begin(b).key(i.Name, i.Serial).text(i.Unit.String()).seconds(i.LeastCount).some(i.Sigma > 0, i.Sigma.Seconds(), 6)
		x.text(i.Circle.String()).whole(i.setups)
		w.put(instruments)
	}
	w.bookNotes(b)
	return w.err
}

func (w *Writer) figure(b Book, n int, f network.Figure, observed map[int]time.Time) {
	var last time.Time
	known, list := true, ""
	for i, s := range f.Setups {
		if s == 0 {
			continue
		}
		at, ok := observed[s]
		known = known && ok
		if at.After(last) {
			last = at
		}
		if i > 0 && list != "" {
			list += " "
		}
		list += fmt.Sprint(s)
	}
	names := ""
	for i, s := range f.Stations {
		if i > 0 {
			names += ", "
		}
		names += s
	}
	c := f.Result.Carried
	x := w.begin(b).whole(int64(n)).text(f.Kind.String(), names, list).time(last, known).flag(f.Met())
	if a := c.Angular; a != nil {
		x.whole(int64(a.N)).seconds(a.Misclosure).seconds(a.Limit)
	} else {
		x.none(3)
	}
	if l := c.Linear; l != nil {
		x.number(l.Misclosure, 6).number(l.Length, 6).number(l.LeastRatio, 3)
	} else {
		x.none(3)
	}
	if h := f.Heights; h != nil && h.Closed {
		x.number(h.Misclosure, 6).number(h.Limit, 6)
	} else {
		x.none(2)
	}
	w.put(figures)
}

func (w *Writer) points(b Book, r network.Report) {
	for _, k := range b.State.Known {
		x := w.begin(b).text(k.Name).flag(true).number(k.East, 6).number(k.North, 6)
		if k.Elev != nil {
			x.number(*k.Elev, 6)
		} else {
			x.none(1)
		}
		x.flag(false).none(3).text("given")
		w.put(points)
	}
	for _, p := range r.Places() {
		x := w.begin(b).text(p.Name).flag(false).number(p.Point.E, 6).number(p.Point.N, 6)
		if p.Elev != nil {
			x.number(*p.Elev, 6)
		} else {
			x.none(1)
		}
		x.flag(p.Local).number(p.Ellipse.A, 6).number(p.Ellipse.B, 6).degrees(p.Ellipse.Bearing).text(p.From)
		w.put(points)
	}
}
