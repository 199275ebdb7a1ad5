package tui

import (
	"errors"
	"fmt"
	"maps"
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

// a slip is a short form: its fields, what helps beside each, what its answers
// say when they are read back, and what they become. Enter goes to the next
// field; on the last line a key of its own writes it down.
type slip struct {
	title string
	form  form
	heads map[int]string
	hints map[int]string
	said  func(f *form) (words string, err error) // read back; the error says what does not do
	then  func(f *form) []ask
	judge func(f *form) // marks the fields whose answers do not do, after every press; nil: that is seen when it is read back
	back  screenID      // left without it
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
	as, ok = s.form.press(p)
	if s.judge != nil {
		s.judge(&s.form)
	}
	return as, ok
}

func (s *slipScreen) actions(*view) []action {
	choose := ""
	if f := s.form.field(); f != nil && f.Choices != nil {
		choose = "choose"
	}
	return s.form.actions(does(keys.Open, s.write).named("write it down"), choose, gives(keys.Leave, goTo{s.back}))
}

// write writes down what was read back, or goes to the field that does not do.
func (s *slipScreen) write() []ask {
	if _, err := s.said(&s.form); err != nil {
		if bad := slices.IndexFunc(s.form.Fields, func(f formField) bool { return f.Problem != "" }); bad >= 0 {
			s.form.Chosen = bad
		}
		return asks(say{text: sentence(err), bad: true})
	}
	return s.then(&s.form)
}

func (s *slipScreen) draw(v *view, w, h int) block {
	b := v.air()
	h -= len(b.lines)
	if !s.form.atEnd() {
		heads := map[int]string{0: s.title}
		maps.Copy(heads, s.heads)
		var help []ink
		if t := s.hints[s.form.Chosen]; t != "" {
			help = append(help, ink{text: t, role: look.Quiet})
		}
		b.put(s.form.draw(&v.frame, w, h, &s.leaf, heads, help, "After the last field it is read back and written down."))
		return b
	}
	l := v.leaf(w)
	l.section(s.title+": read it back, then O writes it down", "")
	l.blank()
	words, err := s.said(&s.form)
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
	i := last.Instrument
	f := form{Fields: []formField{
		textField("Instrument", i.Name), textField("Serial number", i.Serial), answers("Circle unit", units, i.Unit),
		textField("Least count", leastCountText(i)), answers("Vertical circle from the", circles, i.Circle),
		answers("Bubble", found, ""), answers("Plummet", found, ""), answers("Heights", found, ""),
		textField("Horizontal, face left", ""), textField("Horizontal, face right", ""), textField("Vertical, face left", ""), textField("Vertical, face right", ""),
		textField("Checked by", last.Observer),
	}}
	if i.Name != "" {
		f.Chosen = kBubble
	}
	make := func(f *form) (event.InstrumentChecked, error) {
		return instrumentChecked(f, i)
	}
	return slip{title: "Check of the instrument before work", form: f, back: onDay,
		heads: map[int]string{kBubble: "What is found", kHL: "One sharp mark, both faces, near the horizon"},
		hints: map[int]string{
			kLeastCount: "In seconds, or milligon for a circle in gon.",
			kBubble:     "Level, turn by half a circle: the bubble stays. → chooses, Enter goes on.",
			kPlummet:    "Turn the instrument: the plummet stays on the mark.",
			kHeights:    "Height rule and prism poles against each other; tripod and pole clamps hold.",
			kHL:         "Sight the mark on face left, and key what the circle reads. Empty: not looked at.",
			kHR:         "Transit and sight the same mark again.",
			kVL:         "Of the same mark. Empty: not looked at.",
		},
		said: func(f *form) (string, error) {
			c, err := make(f)
			return strings.TrimSpace(c.Instrument.Name+" "+c.Instrument.Serial) + ": " + c.Words() + ", checked by " + c.By, err
		},
		then: func(f *form) []ask {
			c, _ := make(f)
			return asks(bookOfDay{c, onDay})
		},
	}
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

// parseNumber reads a decimal with a point or a comma.
func parseNumber(text string) (float64, error) {
	x, err := decimal.Parse(text)
	if err != nil {
		return 0, fmt.Errorf("%s: a plain decimal, or empty", quote(text))
	}
	return x, nil
}

// weatherSlip notes the weather at this time.
func weatherSlip() slip {
	read := func(f *form) (noteWeather, error) {
		n := noteWeather{text: strings.TrimSpace(f.Fields[0].Value())}
		for i, into := range []**float64{&n.celsius, &n.hectopascal} {
			t := strings.TrimSpace(f.Fields[1+i].Value())
			if t == "" {
				continue
			}
			x, err := parseNumber(t)
			if err != nil {
				return n, err
			}
			*into = &x
		}
		return n, nil
	}
	return slip{title: "The weather now", back: onDay, form: form{Fields: []formField{textField("Weather", ""), textField("Temperature, °C", ""), textField("Pressure, hPa", "")}},
		hints: map[int]string{0: "Haze, wind, sun or shade: what the readings may show.", 1: "In the shade. May stay empty.", 2: "Where the instrument stands, not reduced to the sea. May stay empty."},
		said: func(f *form) (string, error) {
			n, err := read(f)
			if err != nil {
				return "", err
			}
			w, err := booking.Setup{}.Weather(n.text, n.celsius, n.hectopascal)
			return w.Words(), err
		},
		then: func(f *form) []ask {
			n, _ := read(f)
			return asks(n)
		},
	}
}

// fileSlip names a sketch or a photo.
func fileSlip() slip {
	return slip{title: "A sketch or a photo of this setup", back: onDay, form: form{Fields: []formField{textField("File", ""), textField("What it shows", "")}},
		hints: map[int]string{0: "Its name with its folder. The file stays where it is: its name and its hash stand in the book.", 1: "May stay empty."},
		said: func(f *form) (string, error) {
			name := strings.TrimSpace(f.Fields[0].Value())
			if name == "" {
				return "", errors.New("give the name of the file")
			}
			return name + "; it is read once, for its hash", nil
		},
		then: func(f *form) []ask {
			return asks(nameFile{strings.TrimSpace(f.Fields[0].Value()), strings.TrimSpace(f.Fields[1].Value())})
		},
	}
}
