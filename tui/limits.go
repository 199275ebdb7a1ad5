package tui

import (
	"errors"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking/event"
	"example.org/readback/booking/network"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/lengths"
)

// isOfFigures tells whether figures are worked otherwise with an event of the book.
func isOfFigures(e event.Event) bool {
	switch e.(type) {
	case event.FiguresSet, event.CentreNoted, event.LevelsLoaded:
		return true
	}
	return false
}

// workAnew reads what follows from an event that isOfFigures: the figures, and what is
// known of the station at work, against which sights are held while they are keyed.
func (a *app) workAnew() tea.Cmd {
	a.workDue = false
	var known, figure tea.Cmd
	if a.v.open {
		known = a.loadKnown()
	}
	if a.v.text.which != healthText {
		figure = a.loadText(a.v.text.which)
	}
	return tea.Batch(known, figure, a.afterSaved())
}

// limitsForm shows the form of the limits of figures with what is in force.
func limitsForm(v *view) []ask {
	set, err := network.DefaultSettings().Recorded(v.book.Figures)
	if err != nil {
		return asks(say{text: "The settings of this book cannot be read: " + sentence(err), bad: true})
	}
	return asks(fillIn{limitsSlip(v, set.List(v.book.Figures))})
}

// limitsSlip sets the limits and standard deviations that figures are worked with:
// the same list, checked by the same rule, as on the command line.
func limitsSlip(v *view, list []network.Setting) slip {
	spec := v.setup.Spec
	if !v.open {
		spec = v.lastSpec
	}
	s := slip{title: "Limits and σ of figures", back: onText}
	for i, usual := range network.DefaultSettings().List(nil) {
		x := list[i]
		f := textField(limitLabel(x), x.Number()).hinted(limitHint(x, usual, spec))
		if f.Offered = true; x.Name == rangeNames[0] {
			f.Head = "Plausible heights and lengths, in setups opened from now on"
		}
		s.form.Fields = append(s.form.Fields, f)
	}
	by := len(list)
	s.form.Fields = append(s.form.Fields, textField("Set by", v.booker()).hinted("The name stands in the record. May stay empty.").offering(namesOf(v).crew))
	s.judge = func(f *form) { judgeLimits(f, list) }
	s.read = func(f *form) (string, ask, error) {
		e, changes, err := limitsOf(f, list)
		if err == nil {
			err = network.Accepts(v.book.Figures, e)
		}
		text := strings.Join(changes, "; ")
		if e.By = f.line(by); e.By != "" {
			text += "; set by " + e.By
		}
		return text, bookOfDay{e, onText}, err
	}
	return s
}

// rangeNames are the settings that every setup has for itself.
var rangeNames = [...]string{"instrument-least", "instrument-most", "height-again", "target-most", "distance-least", "distance-most", "distance-known"}

// rangeLabel is the name of a range with the unit of length it is keyed in.
func rangeLabel(x network.Setting, u lengths.Unit) string {
	return capital(limitWords(x)) + ", " + lengthMark(u)
}

// lengthMark is a unit of length beside a number: to the millimetre the two feet are one.
func lengthMark(u lengths.Unit) string {
	if u == lengths.USFeet {
		u = lengths.Feet
	}
	return u.String()
}

// rangeText is a range as it is keyed in a unit of length.
func rangeText(x network.Setting, u lengths.Unit) string {
	text := lengths.FromMetres(x.Value).Format(u, 6)
	if u != lengths.Metres { // a figure of the metre comes out crooked: to 0.3 mm
		text = lengths.FromMetres(x.Value).Format(u, 3)
	}
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}

// rangeOf reads a range; ok is false where it is left as it is.
func rangeOf(f *formField, x network.Setting, u lengths.Unit) (metres float64, ok bool, err error) {
	text := strings.TrimSpace(f.Value())
	if text == "" || text == rangeText(x, u) {
		return 0, false, nil
	}
	l, err := lengths.Parse(text, u)
	if err != nil {
		return 0, false, errors.New("a plain decimal of " + lengthMark(u) + ", or empty")
	}
	if err := x.Check(l.Metres()); err != nil {
		return 0, false, errors.New(err.Error() + " " + x.Unit)
	}
	return l.Metres(), true, nil
}

// ranges are those settings with the values of l.
func ranges(l spec.Lengths) []network.Setting {
	list := network.Settings{Lengths: l}.List(nil)
	return slices.DeleteFunc(list, func(x network.Setting) bool { return !slices.Contains(rangeNames[:], x.Name) })
}

// bookLengths are the plausible heights and lengths that the book has set.
func bookLengths(v *view) spec.Lengths {
	set, err := network.DefaultSettings().Recorded(v.book.Figures)
	if err != nil {
		return spec.DefaultLengths()
	}
	return set.Lengths
}

// limitWords are the name of a setting as words.
func limitWords(x network.Setting) string {
	words := strings.Split(x.Name, "-")
	for i, w := range words {
		if w == "sd" {
			words[i] = "σ"
		}
	}
	return strings.Join(words, " ")
}

// limitLabel is its name with the unit it is keyed in.
func limitLabel(x network.Setting) string {
	words := capital(limitWords(x))
	if x.Unit == "" || strings.HasSuffix(words, " "+x.Unit) {
		return words
	}
	return words + ", " + x.Unit
}

// limitHint says what a setting is, what is taken unless it is set, where it is an
// angle what the small unit of the circle comes to in it, and where it is a plausible
// length what it comes to in the feet that the book is in.
func limitHint(x, usual network.Setting, spec spec.Spec) string {
	unit, length := spec.Instrument.Unit, spec.LengthUnit
	text := capital(x.What) + ". Unless set: " + usual.Text() + "."
	if x.Recorded {
		text += " Empty takes that again."
	}
	if x.Unit == "″" && unit.Known() && unit != reduce.DMS {
		text += " 1" + reduce.SmallMark(unit) + " is " + decimalText(unit.Small(), reduce.Arcsecond) + "″."
	}
	if slices.Contains(rangeNames[:], x.Name) && (length == lengths.Feet || length == lengths.USFeet) {
		text += " That is " + rangeText(usual, length) + " " + lengthMark(length) + "."
	}
	return text
}

// limitOf reads a field; changed tells whether what it says is to be booked.
func limitOf(f *formField, x network.Setting) (v event.FigureValue, changed bool, err error) {
	text := strings.TrimSpace(f.Value())
	if text == "" {
		return event.FigureValue{Name: x.Name}, x.Recorded, nil
	}
	value, err := decimal.Parse(text)
	if err != nil {
		return v, false, notDecimal(text)
	}
	if err := x.Check(value); err != nil {
		return v, false, err
	}
	keyed := !f.Offered && !x.Recorded // the crew takes by name what the program takes
	return event.FigureValue{Name: x.Name, Value: &value}, keyed || value != x.Value, nil
}

// limitsOf reads what the form changes, and says each change in words.
func limitsOf(f *form, list []network.Setting) (e event.FiguresSet, changes []string, err error) {
	for i, x := range list {
		v, changed, err := limitOf(&f.Fields[i], x)
		if err != nil {
			return e, nil, errors.New(f.Fields[i].Label + ": " + err.Error())
		}
		if !changed {
			continue
		}
		e.Values = append(e.Values, v)
		words := limitWords(x) + " at the program's own value"
		if v.Value != nil {
			is := x
			is.Value = *v.Value
			words = limitWords(x) + " " + is.Text()
		}
		if v.Value == nil || *v.Value != x.Value {
			words += ", was " + x.Text()
		} else {
			words += ", as it was"
		}
		changes = append(changes, words)
	}
	if len(e.Values) == 0 {
		return e, nil, errors.New("nothing is changed yet")
	}
	return e, changes, nil
}

// judgeLimits marks what does not do, and the field that is being keyed only once it
// was left.
func judgeLimits(f *form, list []network.Setting) {
	for i, x := range list {
		switch _, _, err := limitOf(&f.Fields[i], x); {
		case err == nil:
			f.Fields[i].Problem = ""
		case i != f.Chosen:
			f.Fields[i].Problem = err.Error()
		}
	}
}
