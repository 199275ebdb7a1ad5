package tui

import (
	"fmt"
	"strings"
	"testing"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce/lengths"
	"example.org/readback/tui/look"
)

// formSizes are the windows that the form is walked in.
var formSizes = [][2]int{{40, 12}, {60, 20}, {80, 24}}

// readOf is a window as running text, without the arrows in its right margin, and
// whether an arrow says that more lies below.
func readOf(d *driver) (text string, below bool) {
	for _, l := range strings.Split(d.plain(), "\n") {
		l = strings.TrimRight(l, " ")
		if t := strings.TrimSuffix(l, "↓"); t != l {
			l, below = t, true
		}
		text += " " + strings.TrimSuffix(l, "↑")
	}
	return strings.Join(strings.Fields(text), " "), below
}

// Field by field, in every unit of the circle and in the smallest windows: no hint, no
// label and no answer is cut, that more rows lie below is seen, and the form speaks the
// unit of the circle.
func TestForm_NothingOfAFieldIsCut(t *testing.T) {
	for n, size := range formSizes {
		for u, unit := range units {
			if n > 0 && u > 1 {
				continue // the others than degrees and gon in the smallest window
			}
			d := newDriver(t, &fakePort{}, Options{}).size(size[0], size[1])
			s := d.app.screen().(*setupScreen)
			d.unseen(func() {
				d.keys("Weir<enter>Spire<enter>Alder, Mast<enter>")
				for s.form.Chosen < fUnit {
					d.keys("<down>")
				}
				for range u {
					d.keys("<right>")
				}
				d.keys("<pgup>")
			})
			for i := range s.form.Fields {
				if s.form.Chosen != i {
					t.Fatalf("field %d is chosen, not %d", s.form.Chosen, i)
				}
				checkField(t, d, s, fmt.Sprintf("%v, %s", size, unit.words))
				d.keys("<down>")
			}
		}
	}
}

// checkField looks whether the chosen field is seen whole, with each of its answers.
func checkField(t *testing.T, d *driver, s *setupScreen, where string) {
	t.Helper()
	f := s.form.field()
	for range max(len(f.Choices), 1) {
		_ = d.app.View()
		text, below := readOf(d)
		for _, k := range s.help() {
			if k.text != "" && !strings.Contains(text, strings.Join(strings.Fields(k.text), " ")) {
				t.Errorf("%s, %s: the hint %q is cut in\n%s", where, f.Label, k.text, d.plain())
			}
		}
		for _, w := range strings.Fields(f.Label + " " + f.Value()) {
			if !strings.Contains(text, w) {
				t.Errorf("%s, %s: %q is not seen in\n%s", where, f.Label, w, d.plain())
			}
		}
		if end := "behind the last field"; !below && !strings.Contains(text, end) {
			t.Errorf("%s, %s: nothing says that more rows lie below\n%s", where, f.Label, d.plain())
		}
		if u := s.circleUnit(); u.Decimal() && u.Name() == "gon" && s.form.Chosen != fUnit && strings.ContainsAny(strings.ReplaceAll(text, "°C", ""), "°′″") {
			t.Errorf("%s, %s: degrees in a form of gon\n%s", where, f.Label, d.plain())
		}
		if s.form.Chosen == fUnit {
			return // another answer is another form
		}
		f.walk(1)
	}
}

// A hint beside a name that is pointed at, a problem and the names on offer: nothing of
// it is cut either.
func TestForm_HintBesideAName(t *testing.T) {
	for _, size := range formSizes {
		d := newDriver(t, &fakePort{}, Options{})
		whole(d).keys("ltyn").size(size[0], size[1])
		d.keys("Alder<enter>Spier").sees("▸ Reference object", "Do you mean Spire")
		s := d.app.screen().(*setupScreen)
		text, _ := readOf(d)
		for _, k := range s.help() {
			if !strings.Contains(text, k.text) {
				t.Errorf("%v: %q is cut in\n%s", size, k.text, d.plain())
			}
		}
	}
}

// Enter goes to the next field and opens nothing, however often it is pressed; the last
// line reads the whole setup back, page by page where it has no room.
func TestForm_TheLastLineShowsTheWholeSetup(t *testing.T) {
	for _, size := range formSizes {
		d := newDriver(t, &fakePort{}, Options{}).size(size[0], size[1])
		s := d.app.screen().(*setupScreen)
		d.keys("Weir<enter>Spire<enter>Alder, Mast<enter>")
		for range 2 * numFields {
			d.keys("<enter>")
		}
		if !s.form.atEnd() || d.app.v.open || len(d.port.entries) > 0 {
			t.Fatalf("%v: Enter opened the setup, or never came to the last line", size)
		}
		all, below := readOf(d)
		for k := 0; below && k < 40; k++ {
			var more string
			more, below = readOf(d.keys("<down>"))
			all += " " + more
		}
		for _, r := range append(s.readBackRows(), [2]string{"O", "open the setup"}) {
			for _, w := range strings.Fields(look.Clean(r[0] + " " + r[1])) {
				if !strings.Contains(all, w) {
					t.Errorf("%v: %q of %s is never seen in\n%s", size, w, r[0], all)
				}
			}
		}
		if !strings.Contains(all, "Crew and instrument may be said later") && !strings.Contains(all, "before the tripod is lifted") {
			t.Errorf("%v: the last lines are not read back: %s", size, all)
		}
		for k := 0; s.form.atEnd() && k < 40; k++ {
			d.keys("<up>")
		}
		if s.form.Chosen != numFields-1 {
			t.Errorf("%v: up does not lead back to the fields but to %d", size, s.form.Chosen)
		}
		if d.keys("<down>o"); !d.app.v.open || d.app.v.setup.Spec.Order != spec.ByHalves {
			t.Errorf("%v: O does not open it", size)
		}
	}
}

// The ranges of heights and lengths stand behind all else, with what the book has set.
// What is keyed there holds for that setup alone and is read back; the rule is that of
// the settings of the book.
func TestForm_PlausibleRangesOfASetup(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 45).keys("<esc>gl")
	for d.app.slip.form.Fields[d.app.slip.form.Chosen].Label != "Target most, m" {
		d.keys("<down>")
	}
	d.keys("4<pgdown>o").sees("Figures are worked with it").keys("wn")
	s := d.app.screen().(*setupScreen)
	d.keys("Weir<enter>Spire<enter>Alder, Mast<enter>")
	for s.form.Chosen < fRange {
		d.keys("<down>")
	}
	d.sees("▸ Instrument least, m", "In this setup alone", "0.2 m, as in the book").keys("<down><back><back><back>x<pgdown>o").sees("▸ Instrument most, m", "a plain decimal")
	d.keys("<back>3,1<down><down>").sees("▸ Target most, m", "4 m, as in the book").keys("<back><pgdown>")
	d.sees("instrument height 0.2 to 3,1 m", "target height to 4 m").keys("o")
	want := spec.DefaultLengths()
	want.MostInstrument, want.MostTarget = 3100*lengths.Millimetre, 4000*lengths.Millimetre
	if l := d.app.v.setup.Spec.Lengths(); l != want {
		t.Fatalf("%+v", l)
	}
	// Amended, with a reason once readings stand.
	d.book("00510").keys("m")
	amend := d.app.screen().(*setupScreen)
	for amend.form.Chosen < fRange+1 {
		d.keys("<down>")
	}
	d.sees("▸ Instrument most, m", "3.1").keys("<back><back><back>2<pgdown>").sees("Largest plausible instrument height 2 m, was 3.1 m.").keys("o").sees("reason").keys("the tripod is a low one<enter>")
	if l := d.app.v.setup.Spec.Lengths(); l.MostInstrument != 2000*lengths.Millimetre || l.MostTarget != want.MostTarget {
		t.Fatalf("%+v", l)
	}
}

// A setup in feet is told its ranges in feet: the label, the figure, what helps, what is
// read back; what nobody changed stays the book's to the nanometre, what is keyed is feet.
// (1 ft is 0.3048 m, by definition)
func TestForm_RangesInFeet(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 45).keys("Weir<enter>Spire<enter>Alder, Mast<enter>")
	s := d.app.screen().(*setupScreen)
	for s.form.Chosen < fLength {
		d.keys("<down>")
	}
	d.keys("<right>").sees("‹ feet ›")
	d.size(100, 60).sees("Instrument most, ft 8.202", "Distance least, ft 1.64").size(100, 45)
	for s.form.Chosen < fRange {
		d.keys("<down>")
	}
	d.sees("empty: 0.656 ft, as in the book").keys("<down>").keys("<back><back><back><back><back>10<pgdown>")
	d.sees("instrument height 0.656 to 10 ft, again 0.016 ft").keys("o")
	want := spec.DefaultLengths()
	want.MostInstrument = 3048 * lengths.Millimetre
	if l := d.app.v.setup.Spec.Lengths(); l != want {
		t.Fatalf("%+v", l)
	}
	// What an amendment changes is said in feet, and so is what cannot be.
	d.book("00510").keys("m")
	amend := d.app.screen().(*setupScreen)
	for amend.form.Chosen < fRange+1 {
		d.keys("<down>")
	}
	d.sees("▸ Instrument most, ft", "10").keys("<back><back>0.5<pgdown>o").sees("the least plausible instrument height, 0.656168 ft, is above the largest, 0.5 ft")
	d.keys("<down><back><back><back>9<pgdown>").sees("Largest plausible instrument height 9 ft, was 10 ft.").keys("<esc>")
	d.keys("wgl")
	for d.app.slip.form.Fields[d.app.slip.form.Chosen].Label != "Instrument most, m" {
		d.keys("<down>")
	}
	d.sees("Unless set: 2.5 m. That is 8.202 ft.")
}

// The line that is read back offers to go on only where lines stand below.
func TestForm_MoreOnlyWhereThereIsMore(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).size(80, 24)
	d.keys("d2haze<pgdown>").sees("O write it down ↑ field Esc").seesNot("↓ more")
	d.keys("<esc><esc>m<pgdown>").sees("↑ field").seesNot("↓ more")
	d.size(60, 20).sees("↑ field ↓ more")
	d.keys("<pgdown>").seesNot("↓ more")
}
