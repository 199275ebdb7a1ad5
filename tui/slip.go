package tui

import (
	"errors"
	"slices"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/decimal"
	"example.org/readback/tui/input"
	"example.org/readback/tui/look"
)

// a slip is a short form: its fields, and what its answers say when they are read
// back and become. Enter goes to the next field; on the last line a key of its own
// writes it down.
type slip struct {
	title string
	form  form
	read  func(f *form) (words string, becomes ask, err error) // the error says what does not do
	judge func(f *form)                                        // marks the fields whose answers do not do, after every press; nil: that is seen when it is read back
	back  screenID                                             // left without it
}

// the slipScreen is where a slip is filled in.
type slipScreen struct {
	commanded
	slip
	leaf leaf
}

func (s *slipScreen) field(*view) input.Field {
	if s.form.atEnd() {
		return input.Command
	}
	return input.Text
}

func (s *slipScreen) take(_ *view, p press) (as []ask, ok bool) {
	if name, touched := p.on.(onOffer); touched {
		s.form.field().Text.Set(string(name))
		s.form.move(1)
		ok = true
	} else {
		as, ok = s.form.press(p)
	}
	if s.judge != nil {
		s.judge(&s.form)
	}
	return as, ok
}

func (s *slipScreen) actions(*view) []action {
	choose := ""
	switch f := s.form.field(); {
	case f != nil && f.Choices != nil:
		choose = "choose"
	case len(s.form.completions()) > 0:
		choose = "complete"
	}
	return s.form.actions(does(keys.Open, s.write).named("write it down"), choose, gives(keys.Leave, goTo{s.back}))
}

// write writes down what was read back, or goes to the field that does not do.
func (s *slipScreen) write() []ask {
	_, becomes, err := s.read(&s.form)
	if err != nil {
		if bad := slices.IndexFunc(s.form.Fields, func(f formField) bool { return f.Problem != "" }); bad >= 0 {
			s.form.Chosen = bad
		}
		return asks(say{text: sentence(err), bad: true})
	}
	return asks(becomes)
}

func (s *slipScreen) draw(v *view, w, h int) block {
	b := v.air()
	h -= len(b.lines)
	if !s.form.atEnd() {
		s.form.Fields[0].Head = s.title
		help, names := s.form.completes(), s.form.completions()
		if t := s.form.field().Hint; t != "" {
			help = append(help, ink{text: t, role: look.Quiet})
		}
		var offers block
		if len(names) > 0 {
			offers = v.offers(names, w)
		}
		b.put(s.form.draw(&v.frame, w, h-len(offers.lines), &s.leaf, help, "After the last field it is read back and written down."))
		b.put(offers)
		return b
	}
	l := v.leaf(w)
	l.section(s.title+": read it back, then O writes it down", "")
	l.blank()
	words, _, err := s.read(&s.form)
	if err != nil {
		l.marked("✗", look.Out, look.Strong, 0, sentence(err))
	} else {
		l.wrapped(look.Strong, 0, capital(words)+stop(words))
	}
	b.put(s.form.drawBack(h, l))
	return b
}

// textField makes a field to be written in.
func textField(label, value string) formField {
	f := formField{Label: label, Text: newTextLine()}
	f.Text.Set(value)
	return f
}

// What was found of a part of the instrument.
var found = []choice[string]{{"not looked at", ""}, {"in order", day.InOrder}, {"was out, put right", "was out, put right"}, {"is out, left so", "is out, left so"}}

// The fields of the check of an instrument.
const (
	kInstrument = iota
	kSerial
	kUnit
	kLeastCount
	kCircle
	kBubble
	kPlummet
	kHeights
	kHL
	kHR
	kVL
	kVR
	kBy
)

// checkSlip is the guided check of the instrument before work.
func checkSlip(v *view) slip {
	last := v.lastSpec
	if v.lastSetup == 0 || last.Instrument.Unit == 0 {
		last = v.first
	}
	if n := len(v.book.Checks); v.lastSetup == 0 && n > 0 {
		last.Instrument, last.Observer = v.book.Checks[n-1].Instrument, v.book.Checks[n-1].By
	}
	i, names := last.Instrument, namesOf(v)
	f := form{Fields: []formField{
		textField("Instrument", i.Name).offering(names.instruments), textField("Serial number", i.Serial).offering(names.serials), answers("Circle unit", units, i.Unit),
		textField("Least count", leastCountText(i)).hinted("In seconds, or milligon for a circle in gon."), answers("Vertical circle from the", circles, i.Circle),
		answers("Bubble", found, "").under("What is found").hinted("Level, turn by half a circle: the bubble stays. → chooses, Enter goes on."),
		answers("Plummet", found, "").hinted("Turn the instrument: the plummet stays on the mark."),
		answers("Heights", found, "").hinted("Height rule and prism poles against each other; tripod and pole clamps hold."),
		textField("Horizontal, face left", "").under("One sharp mark, both faces, near the horizon").hinted("Sight the mark on face left, and key what the circle reads. Empty: not looked at."),
		textField("Horizontal, face right", "").hinted("Transit and sight the same mark again."),
		textField("Vertical, face left", "").hinted("Of the same mark. Empty: not looked at."), textField("Vertical, face right", ""),
		textField("Checked by", last.Observer).offering(names.crew),
	}}
	if i.Name != "" {
		f.Chosen = kBubble
	}
	return slip{title: "Check of the instrument before work", form: f, back: onDay, read: func(f *form) (string, ask, error) {
		c, err := instrumentChecked(f, i)
		return strings.TrimSpace(c.Instrument.Name+" "+c.Instrument.Serial) + ": " + c.Words() + ", checked by " + c.By, bookOfDay{c, onDay}, err
	}}
}

// instrumentChecked reads the answers of the check.
func instrumentChecked(f *form, i spec.Instrument) (event.InstrumentChecked, error) {
	x := f.Fields
	i.Name, i.Serial = f.line(kInstrument), f.line(kSerial)
	i.Unit, i.Circle = chosen(&x[kUnit], units), chosen(&x[kCircle], circles)
	lc, ok := parseDecimal(x[kLeastCount].Value(), i.Unit.Small())
	if !ok || lc <= 0 {
		return event.InstrumentChecked{}, errors.New("the least count is a decimal of seconds or milligon, such as 5")
	}
	i.LeastCount = lc
	return day.CheckInstrument(i, [3]string{chosen(&x[kBubble], found), chosen(&x[kPlummet], found), chosen(&x[kHeights], found)},
		[4]string{f.line(kHL), f.line(kHR), f.line(kVL), f.line(kVR)}, f.line(kBy))
}

// notDecimal says of a text that it is no number.
func notDecimal(text string) error { return errors.New(quote(text) + ": a plain decimal, or empty") }

// weatherSlip notes the weather at this time.
func weatherSlip() slip {
	f := form{Fields: []formField{
		textField("Weather", "").hinted("Haze, wind, sun or shade: what the readings may show."),
		textField("Temperature, °C", "").hinted("In the shade. May stay empty."),
		textField("Pressure, hPa", "").hinted("Where the instrument stands, not reduced to the sea. May stay empty."),
	}}
	return slip{title: "The weather now", back: onDay, form: f, read: func(f *form) (string, ask, error) {
		n := noteWeather{text: strings.TrimSpace(f.Fields[0].Value())}
		for i, into := range []**float64{&n.celsius, &n.hectopascal} {
			t := f.line(1 + i)
			if t == "" {
				continue
			}
			x, err := decimal.Parse(t)
			if err != nil {
				return "", nil, notDecimal(t)
			}
			*into = &x
		}
		w, err := booking.Setup{}.Weather(n.text, n.celsius, n.hectopascal)
		return w.Words(), n, err
	}}
}

// fileSlip names a sketch or a photo.
func fileSlip() slip {
	f := form{Fields: []formField{
		textField("File", "").hinted("Its name with its folder. The file stays where it is: its name and its hash stand in the book."),
		textField("What it shows", "").hinted("May stay empty."),
	}}
	return slip{title: "A sketch or a photo of this setup", back: onDay, form: f, read: func(f *form) (string, ask, error) {
		name := strings.TrimSpace(f.Fields[0].Value())
		if name == "" {
			return "", nil, errors.New("give the name of the file")
		}
		return name + "; it is read once, for its hash", nameFile{name, strings.TrimSpace(f.Fields[1].Value())}, nil
	}}
}
