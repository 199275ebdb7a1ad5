package landxml

import (
	"iter"
	"slices"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/page/sheet"
	"example.org/readback/reduce"
)

// A survey is what the head of a file needs to know of all its setups.
type survey struct {
	gon   bool // every circle is divided in gon: angles in grads
	drill bool // a setup belongs to a drill
	names map[string]bool
	parts []part
}

// A part is what the setups of one instrument have in common: the equipment of a
// Survey is one instrument.
type part struct {
	instrument booking.Instrument
	surveyor   string
	people     []personnel
	start, end time.Time
}

// look walks the setups once.
func look(sheets iter.Seq2[sheet.Sheet, error]) (survey, error) {
	v := survey{gon: true, names: map[string]bool{}}
	at := map[booking.Instrument]int{}
	for s, err := range sheets {
		if err != nil {
			return v, err
		}
		if s.Setup.Number == 0 { // never opened
			continue
		}
		spec := s.Setup.Spec
		v.gon = v.gon && spec.Instrument.Unit == reduce.GonUnit
		v.drill = v.drill || s.Book.Drill
		for _, n := range append(spec.Sighted(), spec.Station) {
			v.names[n] = true
		}
		i, ok := at[spec.Instrument]
		if !ok {
			i = len(v.parts)
			at[spec.Instrument] = i
			v.parts = append(v.parts, part{instrument: spec.Instrument, surveyor: clean(spec.Observer), start: s.Setup.Opened, end: s.Setup.Opened})
		}
		v.parts[i].add(s.Setup)
	}
	v.gon = v.gon && len(v.parts) > 0
	return v, nil
}

// add widens the part by a setup.
func (p *part) add(s booking.Setup) {
	for _, who := range []personnel{{clean(s.Spec.Observer), "observer"}, {clean(s.Spec.Booker), "booker"}} {
		if who.Name != "" && !slices.Contains(p.people, who) {
			p.people = append(p.people, who)
		}
	}
	if s.Opened.Before(p.start) {
		p.start = s.Opened
	}
	if t := lastTime(s); t.After(p.end) {
		p.end = t
	}
}

// lastTime is when the tripod was lifted, or the last reading booked.
func lastTime(s booking.Setup) time.Time {
	t := s.Opened
	if n := len(s.Readings); n > 0 {
		t = s.Readings[n-1].At
	}
	if s.Lift != nil {
		t = s.Lift.At
	}
	return t
}
