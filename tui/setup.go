package tui

import (
	"strings"
	"unicode"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
	"example.org/readback/tui/input"
)

// the setupScreen is the form a setup is opened with. Enter goes to the next
// field and does nothing else; on the last line the whole setup is read back, and
// there a key of its own opens it. Behind the fields that must be given Enter
// goes straight to that line; the arrows reach the others.
//
// The same form amends a setup: it begins with what is agreed, and the last line
// reads back what is changed.
type setupScreen struct {
	form     form
	amends   bool
	was      spec.Spec    // what is agreed, where it amends
	proposed string       // where the names come from: the plan, the last setup
	limits   spec.Limits  // the defaults that stand in the form
	unit     reduce.Unit  // and what they are told in: seconds or milligon
	length   lengths.Unit // what the ranges in the form are told in
	started  bool
	again    bool // an earlier setup filled the form
	names    []string
	from     map[string]string // where a name is known from
	stem     string            // what was keyed of the word that is being completed
	at       int               // the name it was completed with, −1: none
	word     int               // where the word begins
	offered  []string
	alike    bool // they are no completions: the word may be a slip of one
	lastFrom int
	crew     bool         // who observes, who books and the instrument stood in it when it was filled: they are read back, not gone through
	lengths  spec.Lengths // plausible, unless the form sets others
	checks   int          // of instruments before work, when the form was filled
	leaf     leaf
}

// enter fills the form from the last setup, unless it is half filled already.
func (s *setupScreen) enter(v *view) {
	s.names, s.from = knownNames(v)
	switch {
	case s.amends:
		s.was, s.lengths = v.setup.Spec, v.setup.Spec.Lengths()
		s.form = newForm(s.was)
		s.form.Fields[fHeight].Hidden = true
		s.limits, s.unit, s.length = spec.DefaultLimits(s.leastCount()), s.circleUnit(), s.lengthUnit()
	case !s.started || s.lastFrom != v.lastSetup || v.wanted != nil || s.checks != len(v.book.Checks) && s.form.Fields[fStation].Value() == "":
		s.begin(v)
	case s.lengths != bookLengths(v):
		s.lengths = bookLengths(v) // set since the form was begun
		for i, x := range ranges(s.lengths) {
			s.form.Fields[fRange+i].Text.Set(rangeText(x, s.lengthUnit()))
		}
	}
	known := namesOf(v)
	for i, names := range map[int][]string{fObserver: known.crew, fBooker: known.crew, fInstrument: known.instruments, fSerial: known.serials} {
		s.form.Fields[i] = s.form.Fields[i].offering(names)
	}
	s.entitle()
	s.forget()
}

// begin fills the form with what is proposed. Where nothing is missing, it begins
// on the line that opens it.
func (s *setupScreen) begin(v *view) {
	p := v.proposal()
	v.wanted = nil
	s.lengths = bookLengths(v)
	p.Spec.Before.Lengths = &s.lengths
	s.form, s.proposed = newForm(p.Spec), p.From
	s.started, s.again, s.lastFrom, s.checks = true, v.lastSetup > 0, v.lastSetup, len(v.book.Checks)
	s.limits, s.unit, s.length = spec.DefaultLimits(s.leastCount()), s.circleUnit(), s.lengthUnit()
	s.crew = p.Spec.Observer != "" && p.Spec.Booker != "" && p.Spec.Instrument.Name != ""
	for _, i := range []int{fStation, fRO, fTargets} {
		s.form.Fields[i].Offered = s.form.Fields[i].Value() != ""
	}
	switch _, _, bad := s.spec(); {
	case p.From == "" || bad >= 0 && bad != fHeight:
		s.form.Fields[fHeight].Problem = ""
	case bad == fHeight:
		s.form.Chosen = fHeight
	default:
		s.form.Chosen = len(s.form.Fields)
	}
	for i := range s.form.Fields {
		s.form.Fields[i].Problem = ""
	}
}

// knownNames are the stations and targets of earlier setups, the latest first,
// and where each is known from.
func knownNames(v *view) (names []string, from map[string]string) {
	from = map[string]string{}
	add := func(where string, ns ...string) {
		for _, n := range ns {
			if _, seen := from[n]; n != "" && !seen {
				from[n] = where
				names = append(names, n)
			}
		}
	}
	if v.open {
		add("setup "+itoa(v.setup.Number), v.setup.Spec.Names()...)
		add("setup "+itoa(v.setup.Number), v.setup.Spec.Station)
	}
	for _, m := range v.list.setups {
		where := "setup " + itoa(m.Setup)
		add(where, m.RO)
		add(where, m.Targets...)
		add(where, m.Station)
	}
	for _, k := range v.book.Known {
		add("its coordinates", k.Name)
	}
	return names, from
}

func (s *setupScreen) field(*view) input.Field {
	if s.form.atEnd() {
		return input.Command
	}
	return input.Text
}

func (s *setupScreen) take(v *view, p press) ([]ask, bool) {
	if name, ok := p.on.(onOffer); ok {
		s.takeOffer(string(name))
		return nil, true
	}
	switch {
	case p.name == "esc", s.form.atEnd() && p.is(keys.Open):
		return nil, false
	case p.is(keys.Enter), p.name == "tab":
		s.next()
	case s.form.atEnd() && s.proposed != "" && p.isChar() && s.form.Fields[fStation].Offered:
		s.form.Chosen = fStation // another station than the one proposed
		s.forget()
		return s.edit(v, p), true
	case s.form.atEnd() || p.on != nil || movesField(p):
		s.form.press(p)
		s.moved()
		s.refresh()
	default:
		return s.edit(v, p), true
	}
	return nil, true
}

func (s *setupScreen) actions(v *view) []action {
	open, choose := does(keys.Open, func() []ask { return s.open(v) }), ""
	if s.amends {
		open = open.named("amend the setup")
	}
	switch f := s.form.field(); {
	case f == nil:
	case f.Choices != nil:
		choose = "choose"
	case isName(s.form.Chosen) && len(s.offered) > 0, len(s.form.completions()) > 0:
		choose = "complete"
	}
	out := does(keys.Leave, func() []ask { return s.leave(v) })
	out.unlisted = !v.open && v.list.total == 0
	return s.form.actions(open, choose, out)
}

// movesField tells whether a key goes to another field, whatever the field is.
func movesField(p press) bool {
	return p.is(keys.Up) || p.is(keys.Down) || p.is(keys.PageUp) || p.is(keys.PageDown)
}

// edit gives a press to the chosen field.
func (s *setupScreen) edit(v *view, p press) []ask {
	if s.form.Chosen == fHeight && unicode.IsLetter(p.r) && s.form.Fields[fStation].Offered {
		s.form.Chosen = fStation // another station than the one proposed
		s.forget()
	}
	f := s.form.field()
	f.Problem = ""
	if f.yields(p) {
		s.word = 0
	}
	name := isName(s.form.Chosen)
	switch {
	case name && p.is(keys.Right) && f.Text.atEnd() && s.complete(1):
		return nil
	case name && p.is(keys.Left) && s.at >= 0 && s.complete(-1):
		return nil
	case p.is(keys.Back) && f.Text.Text() == "" && s.form.Chosen == fStation && v.open:
		return s.leave(v)
	}
	as, _ := f.press(s.capitalised(v, p))
	if f.Choices == nil && as == nil {
		s.forget()
	}
	s.refresh()
	return as
}

// capitalised makes a letter of the pad a capital where a name begins, and small
// inside of it.
func (s *setupScreen) capitalised(v *view, p press) press {
	if !v.prefs.Keypad || p.r < 'A' || p.r > 'Z' {
		return p
	}
	text := s.form.field().Text.Text()
	if text != "" && !strings.HasSuffix(text, " ") && !strings.HasSuffix(text, "-") {
		p.r += 'a' - 'A'
	}
	return p
}

func (s *setupScreen) move(n int) {
	s.form.move(n)
	s.moved()
}

// moved ends a completion behind a step to another field.
func (s *setupScreen) moved() {
	s.forget()
	if s.form.atEnd() {
		s.spec() // what does not do is said beside it
	}
}

// next goes to the next field that must be given, behind the last of them to the
// line that opens the setup.
func (s *setupScreen) next() {
	s.splitRO()
	c := s.form.Chosen
	last := fSigma
	if s.amends {
		last = numFields
	} else if s.again || s.crew {
		last = fTargets
		if f := s.form.Fields; chosen(&f[fDistances], yesNo) && f[fHeight].Value() == "" {
			last = fHeight
		}
	}
	if c >= last || s.passes(c) {
		s.move(len(s.form.Fields))
		return
	}
	s.move(1)
}

// passes tells whether Enter on a field that is left empty goes straight to the line
// that opens the setup: the height of the instrument where no distance needs it, and
// crew and instrument, which may be said later.
func (s *setupScreen) passes(c int) bool {
	f := s.form.Fields
	if s.amends || c < fHeight || c > fSerial || strings.TrimSpace(f[c].Value()) != "" {
		return false
	}
	return c != fHeight || !chosen(&f[fDistances], yesNo)
}

// splitRO takes the targets from behind the RO where they were keyed in one go,
// clockwise as they are sighted, and stands on them.
func (s *setupScreen) splitRO() {
	ro := &s.form.Fields[fRO]
	names := splitNames(ro.Text.Text())
	if s.form.Chosen != fRO || len(names) < 2 || s.amends {
		return
	}
	ro.Text.Set(names[0])
	s.form.Fields[fTargets].Text.Set(strings.Join(names[1:], ", "))
	s.form.Fields[fTargets].Offered = false
	s.form.Chosen = fTargets
	s.forget()
}

// open opens the setup, or goes to the first field whose answer does not do.
func (s *setupScreen) open(v *view) []ask {
	agreed, height, bad := s.spec()
	if bad >= 0 {
		s.form.Chosen = bad
		s.forget()
		f := s.form.Fields[bad]
		return asks(say{text: f.Label + ": " + f.Problem + stop(f.Problem), bad: true})
	}
	if s.amends {
		x := amendSetup{spec: agreed, renamed: spec.Renames(s.was, agreed)}
		if len(v.setup.Readings) > 0 && len(s.changes(agreed)) > 0 && !(len(x.renamed) == 0 && v.setup.Spec.OnlySays(agreed)) {
			return asks(write{amendWriting(x)})
		}
		return asks(x)
	}
	return asks(openSetup{spec: agreed, height: height})
}

// leave goes back without it.
func (s *setupScreen) leave(v *view) []ask {
	if s.amends && v.setup.Lift != nil {
		return asks(goTo{onPage})
	}
	return asks(goTo{onBooking})
}

// changes are what amending would change, in words.
func (s *setupScreen) changes(agreed spec.Spec) []string {
	return booking.Amendment{SetupAmended: event.SetupAmended{Spec: agreed, Renamed: spec.Renames(s.was, agreed)}, Was: s.was}.Changes()
}

// refresh keeps the limits that nobody changed at what the least count gives.
func (s *setupScreen) refresh() {
	s.form.Fields[fPlan].Choices = words(plans(s.circleUnit()))
	if lc := &s.form.Fields[fLeastCount]; s.unit.Known() && lc.Value() == smallText(s.unit.UsualStep(), s.unit.Small()) {
		lc.Text.Set(smallText(s.circleUnit().UsualStep(), s.leastUnit()))
	}
	s.tellRanges()
	now, unit := spec.DefaultLimits(s.leastCount()), s.circleUnit()
	if now == s.limits && unit == s.unit {
		return
	}
	for i := fLimitRounds; i <= fLimitFigure; i++ {
		at, f := setupFields[i].limit, &s.form.Fields[i]
		if f.Text.Text() == smallText(at(&s.limits).Value, s.unit.Small()) {
			f.Text.Set(smallText(at(&now).Value, unit.Small()))
		}
	}
	s.limits, s.unit = now, unit
}

// tellRanges keeps the ranges that nobody changed in the unit of length of the form.
func (s *setupScreen) tellRanges() {
	was, is := s.length, s.lengthUnit()
	if s.length = is; was == is {
		return
	}
	for i, x := range ranges(s.lengths) {
		f := &s.form.Fields[fRange+i]
		f.Label = rangeLabel(x, is)
		if f.Text.Text() == rangeText(x, was) {
			f.Text.Set(rangeText(x, is))
		}
	}
}
