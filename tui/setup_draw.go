package tui

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
)

func (s *setupScreen) draw(v *view, w, h int) block {
	b := v.air()
	h -= len(b.lines)
	if s.form.atEnd() {
		b.put(s.form.drawBack(h, s.readBack(v, w)))
		return b
	}
	var offers block
	if len(s.offered) > 0 {
		offers = v.offers(s.offered, w)
	}
	b.put(s.form.draw(&v.frame, w, h-len(offers.lines), &s.leaf, s.help(), s.endWords()))
	b.put(offers)
	return b
}

// endWords say what the last line is for.
func (s *setupScreen) endWords() string {
	if s.amends {
		return "After the last field the changes are read back and made."
	}
	return "After the last field the setup is read back and opened."
}

// entitle writes the titles of the parts of the form.
func (s *setupScreen) entitle() {
	title := "New setup"
	rest := ""
	switch {
	case s.amends:
		title = "Amend the setup on " + s.was.Station
	case s.proposed != "":
		title = "Next station, proposed from " + s.proposed
	case s.again:
		title = "Next station: give the names"
	}
	if s.again && !s.amends {
		rest = ", as at the last setup"
	}
	for i, t := range map[int]string{fStation: title, fObserver: "Crew and instrument" + rest, fRounds: "Programme" + rest, fCircle: "Instrument, more" + rest, fLimitRounds: "Limits" + rest, fLength: "Lengths" + rest, fRange: "Plausible heights and lengths"} {
		s.form.Fields[i].Head = t
	}
}

// doYouMean points at a known name that is near the one keyed.
func doYouMean(name, from string) string {
	if from == "" {
		return "Do you mean " + name + "?"
	}
	return "Do you mean " + name + ", known from " + from + "?"
}

// help is what stands beneath the chosen field: the names on offer, and what the
// field is for.
func (s *setupScreen) help() []ink {
	var out []ink
	if len(s.offered) > 0 && (s.stem != "" || s.at >= 0) {
		n := s.offered[max(s.at, 0)]
		t := "→ " + n + "   known from " + s.from[n]
		if s.alike {
			t = "→ " + doYouMean(n, s.from[n])
		}
		out = append(out, ink{text: t, role: look.Accent})
	}
	out = append(out, s.form.completes()...)
	if t := s.hint(s.form.Chosen); t != "" {
		out = append(out, ink{text: t, role: look.Quiet})
	}
	return out
}

// readBack is the whole setup as it would be opened.
func (s *setupScreen) readBack(v *view, w int) leaf {
	l := v.leaf(w)
	title := "Read this setup back, then O opens it"
	if s.proposed != "" && s.form.Fields[fStation].Offered {
		title = "Proposed from " + s.proposed + ": read it back, then O opens it"
	}
	if s.amends {
		title = "Read the changes back, then O makes them"
	}
	l.section(title, "")
	l.blank()
	if s.amends {
		spec, _, _ := s.spec()
		changes := s.changes(spec)
		if len(changes) == 0 {
			changes = []string{"nothing is changed yet"}
		}
		for _, c := range changes {
			l.marked("▸", look.Accent, look.Strong, 0, capital(c)+".")
		}
		l.blank()
	}
	lw := min(labelW(w), 20)
	for _, r := range s.readBackRows() {
		if s.amends && r[0] == s.form.Fields[fHeight].Label {
			continue // a height is a reading: it is struck and keyed again
		}
		l.named(r[0], look.Quiet, lw, r[1], look.Ink)
	}
	if spec, _, _ := s.spec(); len(spec.Unsaid()) > 0 && !s.amends {
		l.marked("›", look.Quiet, look.Quiet, 0, "Crew and instrument may be said later: they are asked for before the tripod is lifted.")
	}
	for _, f := range s.form.Fields {
		if f.Problem != "" {
			l.marked("✗", look.Out, look.Strong, 0, f.Label+": "+f.Problem+stop(f.Problem))
		}
	}
	return l
}

// readBackRows are the answers of the form in a few lines.
func (s *setupScreen) readBackRows() [][2]string {
	f := s.form.Fields
	value := func(i int) string {
		if t := strings.TrimSpace(f[i].Value()); t != "" {
			return t
		}
		return "not given"
	}
	said := func(i int) string {
		if t := value(i); t != "not given" {
			return t
		}
		return "not yet said"
	}
	crew, instrument := "not yet said", "not yet said"
	if f[fObserver].Value()+f[fBooker].Value() != "" {
		crew = said(fObserver) + " observes, " + said(fBooker) + " books"
	}
	if f[fInstrument].Value()+f[fSerial].Value() != "" {
		instrument = said(fInstrument) + ", serial number " + value(fSerial)
	}
	unit := reduce.SmallMark(s.circleUnit())
	sigma := "σ not stated"
	if t := f[fSigma].Value(); t != "" {
		sigma = "σ " + t + unit
	}
	observed, order := "", chosen(&f[fOrder], orders).order
	closing := "RO does not close the halves"
	if order != spec.ByHalves {
		observed, closing = value(fOrder)+", ", "RO does not close the rounds"
	}
	if order == spec.ByRepetition {
		closing = "the circle is carried on, on each face"
	}
	if chosen(&f[fClose], yesNo) {
		closing = "RO closes each " + order.Stretch() + ", " + value(fRule)
		if t := f[fMoreROs].Value(); t != "" {
			closing += "; " + t + " too, as a check"
		}
	}
	distances := "none"
	if chosen(&f[fDistances], yesNo) {
		distances = "to every target, in " + value(fLength)
		if t := f[fNoDistance].Value(); t != "" {
			distances = "to every target but " + t + ", in " + value(fLength)
		}
	}
	verticals := value(fVerticals) + ", from the " + value(fCircle)
	if t := f[fNoVertical].Value(); t != "" && chosen(&f[fVerticals], yesNo) {
		verticals += ", not to " + t
	}
	limits := fmt.Sprintf("rounds %s%s, RO %s%s, 2c %s%s, index %s%s, figure %s%s times √n", value(fLimitRounds), unit, value(fLimitRO), unit, value(fLimitTwoC), unit, value(fLimitIndex), unit, value(fLimitFigure), unit)
	p := make([]string, len(rangeNames)) // plausible heights and lengths
	for i, x := range ranges(s.lengths) {
		text := cmp.Or(strings.TrimSpace(f[fRange+i].Value()), rangeText(x, s.lengthUnit()))
		if !strings.HasSuffix(x.Name, "-least") { // "0.2 to 2.5 m" says the unit once
			text += " " + lengthMark(s.lengthUnit())
		}
		p[i] = text
	}
	return [][2]string{
		{"Station", value(fStation)}, {"Reference object", value(fRO)}, {"Targets", strings.Join(splitNames(f[fTargets].Value()), ", ")}, {"Instrument height", value(fHeight)},
		{"Crew", crew},
		{"Instrument", instrument},
		{"Circle", value(fUnit) + ", least count " + value(fLeastCount) + unit + ", " + sigma},
		{"Rounds", value(fRounds) + ", " + observed + "circle settings " + value(fPlan) + ", " + closing},
		{"Vertical circle", verticals}, {"Distances", distances}, {"Limits", limits}, {"Weather", value(fWeather)},
		{"Plausible", "instrument height " + p[0] + " to " + p[1] + ", again " + p[2] + "; target height to " + p[3] + "; distance " + p[4] + " to " + p[5] + ", known " + p[6]},
	}
}
