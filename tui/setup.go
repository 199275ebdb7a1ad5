package tui

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
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
	was      booking.Spec   // what is agreed, where it amends
	proposed string         // where the names come from: the plan, the last setup
	limits   booking.Limits // the defaults that stand in the form
	unit     reduce.Angle   // and what they are told in: seconds or milligon
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
	checks   int // of instruments before work, when the form was filled
	leaf     leaf
}

// enter fills the form from the last setup, unless it is half filled already.
func (s *setupScreen) enter(v *view) {
	s.names, s.from = knownNames(v)
	switch {
	case s.amends:
		s.was = v.setup.Spec
		s.form = newForm(s.was)
		s.form.Fields[fHeight].Hidden = true
		s.limits, s.unit = booking.DefaultLimits(s.leastCount()), s.leastUnit()
	case !s.started || s.lastFrom != v.lastSetup || v.wanted != nil || s.checks != len(v.book.Checks) && s.form.Fields[fStation].Value() == "":
		s.begin(v)
	}
	s.forget()
}

// begin fills the form with what is proposed. Where nothing is missing, it begins
// on the line that opens it.
func (s *setupScreen) begin(v *view) {
	p := v.proposal()
	v.wanted = nil
	s.form, s.proposed = newForm(p.Spec), p.From
	s.started, s.again, s.lastFrom, s.checks = true, v.lastSetup > 0, v.lastSetup, len(v.book.Checks)
	s.limits, s.unit = booking.DefaultLimits(s.leastCount()), s.leastUnit()
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

func (s *setupScreen) press(v *view, p press) []ask {
	switch on := p.on.(type) {
	case onOffer:
		s.takeOffer(string(on))
		return nil
	case onField:
		if s.form.Chosen == int(on) {
			s.form.Fields[on].walk(1)
		}
		s.form.Chosen = int(on)
		s.forget()
		s.refresh()
		return nil
	}
	switch {
	case p.name == "esc":
		return s.leave(v)
	case p.is(keys.Up):
		s.move(-1)
	case p.is(keys.Down):
		s.move(1)
	case p.is(keys.PageUp):
		s.move(-len(s.form.Fields))
	case p.is(keys.PageDown):
		s.move(len(s.form.Fields))
	case p.is(keys.Enter), p.name == "tab":
		s.next()
	case s.form.atEnd() && p.is(keys.Open):
		return s.open(v)
	case s.form.atEnd() && p.is(keys.Back):
		s.move(-1)
	case s.form.atEnd() && s.proposed != "" && p.isChar() && s.form.Fields[fStation].Offered:
		s.form.Chosen = fStation // another station than the one proposed
		s.forget()
		return s.edit(v, p)
	case !s.form.atEnd():
		return s.edit(v, p)
	}
	return nil
}

// edit gives a press to the chosen field.
func (s *setupScreen) edit(v *view, p press) []ask {
	if s.form.Chosen == fHeight && unicode.IsLetter(p.r) && s.form.Fields[fStation].Offered {
		s.form.Chosen = fStation // another station than the one proposed
		s.forget()
	}
	f := s.form.field()
	f.Problem = ""
	if f.Offered && p.isChar() {
		f.Text.Set("")
		s.word = 0
	}
	f.Offered = f.Offered && !p.isChar() && !p.is(keys.Back)
	name := isName(s.form.Chosen)
	switch {
	case f.Choices != nil && p.is(keys.Right):
		f.walk(1)
	case f.Choices != nil && p.is(keys.Left):
		f.walk(-1)
	case f.Choices != nil:
		return nil
	case name && p.is(keys.Right) && f.Text.atEnd() && s.complete(1):
		return nil
	case name && p.is(keys.Left) && s.at >= 0 && s.complete(-1):
		return nil
	case p.is(keys.Back) && f.Text.Text() == "" && s.form.Chosen == fStation && v.open:
		return s.leave(v)
	case !f.Text.press(s.capitalised(v, p)) && p.isChar():
		return asks(say{text: "No more fits, or the character cannot stand there.", bad: true})
	default:
		s.forget()
	}
	s.refresh()
	return nil
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
	s.forget()
	if s.form.atEnd() {
		s.spec() // what does not do is said beside it
	}
}

// next goes to the next field that must be given, behind the last of them to the
// line that opens the setup.
func (s *setupScreen) next() {
	c := s.form.Chosen
	last := fSigma
	if s.amends {
		last = numFields
	} else if s.again {
		last = fTargets
		if f := s.form.Fields; chosen(&f[fDistances], yesNo) && f[fHeight].Value() == "" {
			last = fHeight
		}
	}
	if c >= last {
		s.move(len(s.form.Fields))
		return
	}
	s.move(1)
}

// open opens the setup, or goes to the first field whose answer does not do.
func (s *setupScreen) open(v *view) []ask {
	spec, height, bad := s.spec()
	if bad >= 0 {
		s.form.Chosen = bad
		s.forget()
		f := s.form.Fields[bad]
		return asks(say{text: f.Label + ": " + f.Problem + stop(f.Problem), bad: true})
	}
	if s.amends {
		x := amendSetup{spec: spec, renamed: renames(s.was, spec)}
		if len(v.setup.Readings) > 0 && len(s.changes(spec)) > 0 {
			return asks(write{amendWriting(x)})
		}
		return asks(x)
	}
	return asks(openSetup{spec: spec, height: height})
}

// leave goes back without it.
func (s *setupScreen) leave(v *view) []ask {
	if s.amends && v.setup.Lift != nil {
		return asks(goTo{onPage})
	}
	return asks(goTo{onBooking})
}

// changes are what amending would change, in words.
func (s *setupScreen) changes(spec booking.Spec) []string {
	return booking.Amendment{SetupAmended: booking.SetupAmended{Spec: spec, Renamed: renames(s.was, spec)}, Was: s.was}.Changes()
}

// refresh keeps the limits that nobody changed at what the least count gives.
func (s *setupScreen) refresh() {
	s.form.Fields[fPlan].Choices = words(plans(s.leastUnit()))
	now, unit := booking.DefaultLimits(s.leastCount()), s.leastUnit()
	if now == s.limits && unit == s.unit {
		return
	}
	was, is := limitList(s.limits), limitList(now)
	for i := range was {
		f := &s.form.Fields[fRounds+limitOffset+i]
		if f.Text.Text() == smallText(was[i].Value, s.unit) {
			f.Text.Set(smallText(is[i].Value, unit))
		}
	}
	s.limits, s.unit = now, unit
}

func (s *setupScreen) keys(v *view) []key.Binding {
	ks := []key.Binding{keys.Next}
	if s.form.atEnd() && s.amends {
		ks = []key.Binding{withHelp(keys.Open, "amend the setup")}
	} else if s.form.atEnd() {
		ks = []key.Binding{keys.Open}
	}
	ks = append(ks, withHelp(keys.Down, "field"))
	if f := s.form.field(); f != nil && (f.Choices != nil || isName(s.form.Chosen) && len(s.offered) > 0) {
		word := "choose"
		if f.Choices == nil {
			word = "complete"
		}
		ks = append(ks, withHelp(keys.Right, word))
	}
	if !s.form.atEnd() {
		ks = append(ks, withHelp(keys.PageDown, "read back"))
	}
	if v.open || v.list.total > 0 {
		ks = append(ks, withHelp(keys.Leave, "back without it"))
	}
	return ks
}

func (s *setupScreen) draw(v *view, w, h int) block {
	b := block{}
	if v.h >= compH {
		b.add("")
	}
	h -= len(b.lines)
	if s.form.atEnd() {
		s.leaf = s.readBack(v, w)
		s.leaf.scroll(0, h)
		b.put(s.leaf.view(v, w, h))
		return b
	}
	var offers block
	if len(s.offered) > 0 {
		offers = s.offers(v, w)
	}
	top := s.leaf.top
	s.leaf = s.form.rows(v, w, s.heads(), s.help())
	s.leaf.draw("", v.theme.Line(v.edge(), look.Quiet, s.endWords()))
	s.leaf.lines[len(s.leaf.lines)-1].on = onField(numFields)
	s.leaf.top = max(min(top, s.leaf.now-1), s.leaf.now-(h-len(offers.lines))+2, 0)
	if s.form.Chosen == 0 {
		s.leaf.top = 0
	}
	s.leaf.scroll(0, h-len(offers.lines))
	b.put(s.leaf.view(v, w, h-len(offers.lines)))
	b.put(offers)
	return b
}

// endWords say what the last line is for.
func (s *setupScreen) endWords() string {
	if s.amends {
		return "The changes are read back behind the last field, and made there."
	}
	return "The setup is read back behind the last field, and opened there."
}

// heads are the titles of the parts of the form.
func (s *setupScreen) heads() map[int]string {
	title := "New setup"
	rest := ""
	switch {
	case s.amends:
		title = "Amend the setup on " + s.was.Station
	case s.proposed != "":
		title, rest = "Next station, proposed from "+s.proposed, ", as at the last setup"
	case s.again:
		title, rest = "Next station: give the names", ", as at the last setup"
	}
	return map[int]string{fStation: title, fObserver: "Crew and instrument" + rest, fRounds: "Programme" + rest, fCircle: "Instrument, more" + rest, fLimitRounds: "Limits" + rest, fLength: "Lengths" + rest}
}

// help is what stands beneath the chosen field: the names on offer, and what the
// field is for.
func (s *setupScreen) help() []ink {
	var out []ink
	if len(s.offered) > 0 && (s.stem != "" || s.at >= 0) {
		n := s.offered[max(s.at, 0)]
		t := "→ " + n + "   known from " + s.from[n]
		if s.alike {
			t = "→ Do you mean " + n + ", known from " + s.from[n] + "?"
		}
		out = append(out, ink{text: t, role: look.Accent})
	}
	if t := s.hint(s.form.Chosen); t != "" {
		out = append(out, ink{text: t, role: look.Quiet})
	}
	return out
}

// offers are the known names as cells to touch.
func (s *setupScreen) offers(v *view, w int) block {
	t := v.theme
	b := block{}
	rows := 1
	if v.prefs.Keypad {
		rows = 2
	}
	upper, lower := t.Row().To(v.edge()), t.Row().To(v.edge())
	for _, n := range s.offered {
		cw := look.Width(look.Clean(n)) + 4
		x := upper.Width()
		if x+cw > w-v.margin() {
			break
		}
		b.touch(x, 1, cw, rows, touching(onOffer(n)))
		upper.Left(look.BarCall, "  "+n, cw).To(x + cw + 1)
		lower.Left(look.Cell, "", cw).To(x + cw + 1)
	}
	b.add("", upper.String())
	if rows > 1 {
		b.add(lower.String())
	}
	return b
}

// readBack is the whole setup as it would be opened.
func (s *setupScreen) readBack(v *view, w int) leaf {
	l := leaf{now: -1}
	title := "Read this setup back, then O opens it"
	if s.proposed != "" && s.form.Fields[fStation].Offered {
		title = "Proposed from " + s.proposed + ": read it back, then O opens it"
	}
	room := w - v.edge() - v.margin()
	if s.amends {
		title = "Read the changes back, then O makes them"
	}
	l.draw(v.section(title, "", w)...)
	l.blank()
	if s.amends {
		spec, _, _ := s.spec()
		changes := s.changes(spec)
		if len(changes) == 0 {
			changes = []string{"nothing is changed yet"}
		}
		for _, c := range changes {
			l.marked("▸", look.Accent, look.Strong, 0, room, capital(c)+".")
		}
		l.blank()
	}
	lw := min(labelW(w), 20)
	for _, r := range s.readBackRows() {
		if s.amends && r[0] == s.form.Fields[fHeight].Label {
			continue // a height is a reading: it is struck and keyed again
		}
		label, value := look.Wrap(r[0], lw-1), look.Wrap(r[1], room-lw)
		for i := range max(len(label), len(value)) {
			k := l.add()
			if i < len(label) {
				k.inks = append(k.inks, ink{w: lw - 1, text: label[i], role: look.Quiet})
			}
			if i < len(value) {
				k.inks = append(k.inks, ink{x: lw, w: -1, text: value[i]})
			}
		}
	}
	for _, f := range s.form.Fields {
		if f.Problem != "" {
			l.marked("✗", look.Out, look.Strong, 0, room, f.Label+": "+f.Problem+stop(f.Problem))
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
	unit := "″"
	if s.leastUnit() == reduce.Milligon {
		unit = " mgon"
	}
	sigma := "σ not stated"
	if t := f[fSigma].Value(); t != "" {
		sigma = "σ " + t + unit
	}
	closing := "RO does not close the halves"
	if chosen(&f[fClose], yesNo) {
		closing = "RO closes each half, " + value(fRule)
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
	return [][2]string{
		{"Station", value(fStation)}, {"Reference object", value(fRO)}, {"Targets", strings.Join(splitNames(f[fTargets].Value()), ", ")}, {"Instrument height", value(fHeight)},
		{"Crew", value(fObserver) + " observes, " + value(fBooker) + " books"},
		{"Instrument", value(fInstrument) + ", serial number " + value(fSerial)},
		{"Circle", value(fUnit) + ", least count " + value(fLeastCount) + unit + ", " + sigma},
		{"Rounds", value(fRounds) + ", circle settings " + value(fPlan) + ", " + closing},
		{"Vertical circle", verticals}, {"Distances", distances}, {"Limits", limits}, {"Weather", value(fWeather)},
	}
}
