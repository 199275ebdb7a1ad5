package tui

import (
	"errors"
	"fmt"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/network"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// wrong marks a field whose answer does not do, and says so with its label.
func (f *form) wrong(i int, err error) error {
	text := err.Error()
	var p *reduce.ParseError
	if errors.As(err, &p) {
		text = p.What
	}
	f.Fields[i].Problem = text
	return errors.New(f.Fields[i].Label + ": " + text)
}

// centreSlip notes that the instrument of this setup, or a target it sighted, stood
// beside its mark: the angle in the unit of its circle, the distance in its lengths.
func centreSlip(v *view) slip {
	const who, distance, angle, by = 0, 1, 2, 3
	spec, unit := v.setup.Spec, v.setup.Spec.Instrument.Unit
	sighted := spec.Names()
	beside := []choice[string]{{"the instrument on " + spec.Station, ""}}
	for _, n := range sighted {
		beside = append(beside, choice[string]{n, n})
	}
	s := slip{title: "What stood beside its mark", back: onDay, form: form{Fields: []formField{
		answers("Beside its mark stood", beside, ""), textField("Distance to the mark, "+spec.LengthUnit.String(), ""),
		textField("Angle", ""), textField("Noted by", v.booker()).offering(namesOf(v).crew),
	}}}
	if unit.Decimal() {
		s.form.Fields[angle].Label += ", " + unit.Name()
	}
	s.judge = func(f *form) {
		f.Fields[who].Hint = "Its directions and distances are reduced to the mark in figures."
		f.Fields[distance].Hint = "Level, from what stood beside to the mark. 0 takes back what was noted."
		f.Fields[angle].Hint = "At the instrument, clockwise from " + spec.RO + " to the mark of " + spec.Station + ": "
		if t := chosen(&f.Fields[who], beside); t != "" {
			f.Fields[angle].Hint = "Clockwise, from the mark of " + t + " to " + spec.Station + ", as seen at " + t + ": "
		}
		f.Fields[angle].Hint += unit.Example() + "."
		for _, c := range v.book.Centres {
			if c.Setup == v.setup.Number && c.Target == chosen(&f.Fields[who], beside) {
				f.Fields[who].Hint = "Noted before: " + c.Words(unit) + "."
			}
		}
	}
	s.judge(&s.form)
	s.read = func(f *form) (words string, becomes ask, err error) {
		c := event.CentreNoted{Setup: v.setup.Number, Target: chosen(&f.Fields[who], beside), By: f.line(by)}
		if c.Distance, err = lengths.Parse(f.Fields[distance].Value(), spec.LengthUnit); err != nil {
			return "", nil, f.wrong(distance, err)
		}
		if t := f.Fields[angle].Value(); c.Distance > 0 || strings.TrimSpace(t) != "" {
			if c.Angle, err = reduce.ParseWritten(t, unit); err != nil {
				return "", nil, f.wrong(angle, err)
			}
		}
		words = c.Words(unit)
		for _, x := range network.CentredSights(v.book.Known, c, check.Summarize(v.setup)) {
			words += stop(words) + " " + x
		}
		return words, bookOfDay{c, onDay}, c.Check(sighted)
	}
	return s
}

// stands is what becomes of a levelled difference that is there.
var stands = []choice[bool]{{"stands", true}, {"taken out", false}}

// levelsSlip adds a levelled difference of height to those there are, and takes out
// what does not stand.
func levelsSlip(v *view) slip {
	const from, to, rise, sd, by, first = 0, 1, 2, 3, 4, 5
	there := v.book.Levels
	f := form{Fields: []formField{textField("From", ""), textField("To", ""), textField("Rise, metres", "").hinted("What the second lies higher: 1.2345, or −0.310."),
		textField("σ, mm", "").hinted("Millimetres, of the whole difference."), textField("Levelled by", v.booker()).hinted("May stay empty.").offering(namesOf(v).crew)}}
	known, where := knownNames(v)
	for _, l := range there {
		label, _, _ := strings.Cut(l.Words(), ", σ ")
		field := answers(label, stands, true)
		if len(f.Fields) == first {
			field.Head = "Keyed or loaded before"
		}
		f.Fields = append(f.Fields, field)
		known = append(known, l.From, l.To)
		f.Fields[from].Text.Set(l.To) // levelling goes on from there
		f.Fields[sd].Text.Set(numberText(float64(l.SD) / float64(lengths.Millimetre)))
	}
	for _, i := range []int{from, to} {
		f.Fields[i] = f.Fields[i].offering(distinct(known))
	}
	f.Fields[from].Offered, f.Fields[sd].Offered = len(there) > 0, len(there) > 0
	s := slip{title: "Levelled differences of height", back: onDay, form: f}
	s.judge = func(f *form) {
		f.Fields[from].Hint, f.Fields[to].Hint = "The point levelled from.", "The point levelled to."
		for _, i := range []int{from, to} {
			if n, near := spec.Near(f.line(i), known); near {
				f.Fields[i].Hint = doYouMean(n, where[n])
			}
		}
	}
	s.judge(&s.form)
	s.read = func(f *form) (string, ask, error) {
		e, changes := event.LevelsLoaded{By: f.line(by), Rises: []event.LevelledRise{}}, []string(nil)
		for i, l := range there {
			if chosen(&f.Fields[first+i], stands) {
				e.Rises = append(e.Rises, l)
			} else {
				changes = append(changes, l.Words()+" is taken out")
			}
		}
		if f.line(to)+f.line(rise) != "" || f.line(from) != "" && !f.Fields[from].Offered {
			l, bad, err := network.ParseLevel([4]string{f.line(from), f.line(to), f.line(rise), f.line(sd)})
			if err != nil {
				return "", nil, f.wrong(bad, err)
			}
			e.Rises, changes = append(e.Rises, l), append([]string{l.Words()}, changes...)
		}
		if len(changes) == 0 {
			return "", nil, errors.New("nothing is keyed, and nothing taken out")
		}
		text := strings.Join(changes, "; ")
		if e.By != "" {
			text += "; levelled by " + e.By
		}
		return fmt.Sprintf("%s. %s then", text, count(len(e.Rises), "difference counts", "differences count")), bookOfDay{e, onDay}, nil
	}
	return s
}

// centreState says what of this setup stood beside its mark.
func centreState(v *view) string {
	var out []string
	for _, c := range v.book.Centres {
		if c.Setup == v.setup.Number && v.open {
			out = append(out, c.Words(v.setup.Spec.Instrument.Unit))
		}
	}
	return strings.Join(out, "; ")
}

// levelsState says how many levelled differences there are, empty for none.
func levelsState(v *view) string {
	return newest(v.book.Levels, func(l event.LevelledRise) string {
		return count(len(v.book.Levels), "difference", "differences") + ", last " + l.Words()
	})
}
