package sheet

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// headSection is who, where, when and with what.
func (w *writer) headSection(sh Sheet) section {
	s := w.setup.Spec
	sec := section{Title: "The setup"}
	put := func(label, value string) {
		if value != "" {
			sec.Fields = append(sec.Fields, field{label, visible(value)})
		}
	}
	put("Book", bookName(sh))
	put("Station", s.Station)
	put("Reference object (RO)", s.RO)
	put("Targets, clockwise", strings.Join(s.Targets, ", "))
	put("For heights only", strings.Join(s.HeightsOnly, ", "))
	w.instrumentFields(put)
	put("Observer", stated(s.Observer))
	put("Booker", s.Booker)
	put("Weather", s.Weather)
	w.timeFields(put)
	put("Rounds", w.roundsWords())
	put("Circle", w.circleWords())
	put("Closing", closingWords(s))
	w.heightFields(put)
	return sec
}

func bookName(s Sheet) string {
	if s.Book.Title == "" {
		return s.Name
	}
	return fmt.Sprintf("%s (%s)", s.Book.Title, s.Name)
}

func (w *writer) instrumentFields(put func(label, value string)) {
	i := w.setup.Spec.Instrument
	put("Instrument", stated(i.Name))
	put("Serial number", i.Serial)
	put("Least count", leastCount(i))
	put("Unit", map[reduce.Unit]string{reduce.DMS: "degrees, minutes, seconds", reduce.GonUnit: "gon"}[i.Unit])
	put("Vertical circle", "graduated from the "+i.Circle.String())
	sigma := "not stated"
	if i.Sigma > 0 {
		sigma = w.size(i.Sigma) + ", of one direction on both faces"
	}
	put("Stated σ", sigma)
	if i.DistanceSD > 0 {
		put("Stated σ of a distance", fmt.Sprintf("%g mm + %g mm per km", float64(i.DistanceSD)/float64(reduce.Millimetre), i.DistancePPM))
	}
}

// stated writes what has to be on a sheet, filled in or not.
func stated(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

// leastCount writes the least count in the unit of the circle.
func leastCount(i booking.Instrument) string {
	if i.Unit == reduce.GonUnit {
		return i.LeastCount.Format(reduce.GonUnit, i.Places()) + " gon"
	}
	return strings.TrimPrefix(i.LeastCount.FormatSeconds(i.Places()), "+")
}

func (w *writer) roundsWords() string {
	void, out := 0, 0
	for _, r := range w.setup.Rounds {
		switch {
		case r.Void != nil:
			void++
		case r.LeftOut != nil:
			out++
		}
	}
	t := fmt.Sprintf("%d planned, %d begun", w.setup.Spec.Rounds, len(w.setup.Rounds))
	if void > 0 {
		t += fmt.Sprintf(", %d void", void)
	}
	if out > 0 {
		t += fmt.Sprintf(", %d left out", out)
	}
	return t
}

// circleWords says where the circle was to be set for the rounds.
func (w *writer) circleWords() string {
	s := w.setup.Spec
	names := map[booking.CirclePlan]string{
		booking.QuarterPlan: "set by quarters of the circle",
		booking.SpreadPlan:  "set by half a circle over the number of rounds",
		booking.FreePlan:    "not set between rounds",
	}
	var at []string
	for n := 1; n <= max(s.Rounds, booking.LeastRounds); n++ {
		from, _, ok := s.CircleStart(n)
		if !ok {
			break
		}
		at = append(at, from.Format(s.Instrument.Unit, 0))
	}
	if len(at) == 0 {
		return names[s.Plan]
	}
	return fmt.Sprintf("%s: face left to the RO just above %s", names[s.Plan], strings.Join(at, ", "))
}

func closingWords(s booking.Spec) string {
	switch {
	case !s.CloseHalves:
		return "the halves are not closed on the RO"
	case s.ClosingRule == reduce.ClosingSpread:
		return "each half is closed on the RO; the closing error is spread evenly over the round"
	}
	return "each half is closed on the RO; the mean of its opening and closing sights is used as one pointing"
}

// heightFields are the instrument height before and after, and the refraction
// where a height was worked.
func (w *writer) heightFields(put func(label, value string)) {
	h := w.red.Heights
	if h.Before != nil {
		put("Instrument height", fmt.Sprintf("%s %s", h.Before.Text, w.unit()))
	}
	if h.After != nil {
		put("Measured again", fmt.Sprintf("%s %s", h.After.Text, w.unit()))
	}
	if w.setup.Spec.Distances {
		put("Refraction coefficient k", fmt.Sprint(w.setup.Spec.Refraction))
	}
}

// limitSection lists what was held against the readings and where it came from.
func (w *writer) limitSection() section {
	l, r := w.setup.Spec.Limits, w.red
	sec := section{Title: "Limits", Whole: true, Table: &table{Head: []string{"Check", "Limit", "Found", "From"}, Words: true, Sources: true}}
	put := func(check, found string, limit booking.Limit, times string) {
		sec.Table.Rows = append(sec.Table.Rows, row{Cells: cells(check, w.size(limit.Value)+times, found, visible(limit.From))})
	}
	var spread, closing *booking.Span
	for _, t := range r.Comparison.Targets {
		if len(t.Directions) > 1 && (spread == nil || t.Spread > spread.Max) {
			spread = &booking.Span{Max: t.Spread}
		}
	}
	for _, rd := range r.Comparison.Rounds {
		for _, m := range []*reduce.Angle{rd.ClosingFL, rd.ClosingFR} {
			if m != nil && (closing == nil || m.Abs() > closing.Max) {
				closing = &booking.Span{Max: m.Abs()}
			}
		}
	}
	put("Rounds agree: spread of a direction", w.width(spread), l.Rounds, "")
	put("RO misclosure within a half", w.width(closing), l.ROMisclosure, "")
	put("Spread of 2c over the setup", w.width(r.TwoC), l.TwoC, "")
	put("Spread of the index error over the setup", w.width(r.Index), l.Index, "")
	put("Figure of n angles", "–", l.Figure, " × √n")
	return sec
}

// width writes the width of a span, a dash where there is none.
func (w *writer) width(s *booking.Span) string {
	if s == nil {
		return "–"
	}
	return w.size(s.Width())
}
