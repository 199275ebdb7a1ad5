package landxml

import (
	"iter"
	"slices"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/page/sheet"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// A survey is what the head of a file needs to know of all its setups.
type survey struct {
	gon   bool     // every circle is divided in gon: angles in grads
	drill bool     // a setup belongs to a drill
	about []string // clients and places, as the books say
	names map[string]bool
	parts []part
}

// A part is what the setups of one instrument and one observer have in common:
// the equipment of a Survey is one instrument, its surveyor one person.
type part struct {
	key
	people     []personnel
	start, end time.Time // when it was observed; zero: not known
	undated    int       // setups whose time of observing is not known
	keyed      time.Time // when the last of them was keyed
}

type key struct {
	instrument spec.Instrument
	observer   string
}

func keyOf(s spec.Spec) key { return key{s.Instrument, s.Observer} }

// look walks the setups once.
func look(sheets iter.Seq2[sheet.Sheet, error]) (survey, error) {
	v := survey{gon: true, names: map[string]bool{}}
	at := map[key]int{}
	for s, err := range sheets {
		if err != nil {
			return v, err
		}
		if s.Setup.Number == 0 { // never opened
			continue
		}
		agreed := s.Setup.Spec
		v.gon = v.gon && agreed.Instrument.Unit == reduce.GonUnit
		v.drill = v.drill || s.Book.Drill
		for _, a := range [][2]string{{"client ", s.Book.Client}, {"place ", s.Book.Place}} {
			if t := a[0] + a[1]; a[1] != "" && !slices.Contains(v.about, t) {
				v.about = append(v.about, t)
			}
		}
		for _, n := range append(agreed.Sighted(), agreed.Station) {
			v.names[n] = true
		}
		i, ok := at[keyOf(agreed)]
		if !ok {
			i = len(v.parts)
			at[keyOf(agreed)] = i
			v.parts = append(v.parts, part{key: keyOf(agreed)})
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
	if s.Opened.After(p.keyed) {
		p.keyed = s.Opened
	}
	from, to, ok := s.Observed()
	if !ok {
		p.undated++
		return
	}
	if p.start.IsZero() || from.Before(p.start) {
		p.start = from
	}
	if to.After(p.end) {
		p.end = to
	}
}
