package tui

import (
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/testdata"
	"example.org/readback/tui/input"
)

// Every key on every screen does something that is seen, or a sentence says why
// it does not.
func TestKeys_DoSomethingOrSayWhy(t *testing.T) {
	booked := func(play func(d *driver)) []event.Entry {
		d := newDriver(t, &fakePort{}, Options{})
		d.blind = true
		play(d)
		return d.port.entries
	}
	begun := booked(func(d *driver) { half(d) })
	done := booked(func(d *driver) { whole(d) })
	lifted := booked(func(d *driver) { whole(d).keys("lty") })
	presses := strings.Split("abcdefghijklmnopqrstuvwxyz0123456789?.,- /", "")
	for name := range specials {
		presses = append(presses, "<"+name+">")
	}
	presses = append(presses, "<esc>")
	slices.Sort(presses)
	for n, at := range []struct {
		name    string
		entries []event.Entry
		way     string
	}{
		{"first form", nil, ""}, {"empty work list", nil, "<esc>"}, {"booking", begun, ""}, {"booking done", done, ""}, {"keying", begun, "30"}, {"left half keyed", begun, "30pb"},
		{"page", begun, "p"}, {"page of a lifted setup", lifted, "w<enter>"}, {"pointings", begun, "g"}, {"strike", begun, "s"}, {"compare", done, "c"}, {"compare after the lift", lifted, "w<enter>c"},
		{"hold", begun, "l"}, {"lift", done, "l"}, {"lifted", lifted, "w<enter>l"}, {"work list", begun, "w"}, {"work list, nothing open", lifted, ""},
		{"form", lifted, "n"}, {"form read back", lifted, "n<pgdown>"}, {"amend", begun, "m"}, {"reason", begun, "v"}, {"options", begun, "o"}, {"figure", begun, "wg"}, {"health", begun, "wh"},
		{"day", begun, "d"}, {"check", begun, "d1"}, {"weather", begun, "d2"}, {"pack-up", begun, "d4"}, {"keys", begun, "?"}, {"leave", begun, "q"},
	} {
		for m, k := range presses {
			if !testdata.OneOf(9, n+m) {
				continue
			}
			d := newDriver(t, &fakePort{entries: at.entries[:len(at.entries):len(at.entries)], head: uint64(len(at.entries))}, Options{}).keys(at.way)
			before, prefs, settings := d.app.View(), d.port.prefs, d.app.active
			if k == " " && d.app.field() == input.Text {
				continue // behind a word it is not seen
			}
			d.keys(k)
			if after := d.app.View(); after == before && !d.quit && d.port.prefs == prefs && d.app.active == settings {
				t.Errorf("%s: %q does nothing and says nothing:\n%s", at.name, k, d.plain())
			}
		}
	}
}

// After the lift what was struck is read again from the page, marked as it is.
func TestReread_AfterTheLift(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).keys("lty").size(100, 45)
	d.keys("w<enter>g").sees("only struck readings are read again, and none is open here")
	for i, r := range d.app.v.setup.Readings {
		if k := r.Slot; k.Quantity == spec.Vertical && k.Target == "Mast" {
			d.keys("s" + itoa(len(d.app.v.setup.Readings)-i) + "<enter>1")
			break
		}
	}
	d.keys("g").sees("Mast, face left, vertical circle").keys("<enter>").sees("Read again after the lift").book("871500")
	d.sees("Weir to Spire")
	s := d.app.v.setup
	if r := s.Readings[len(s.Readings)-1]; !r.AfterLift || r.Slot.Target != "Mast" || s.Lift == nil {
		t.Errorf("%+v", r)
	}
	d.keys("rlooked at in the office<enter>").sees("Weir to Spire")
	d.keys("c").sees("X leave round 2 out").keys("x1")
	if r, _ := d.app.v.setup.Round(2); r.LeftOut == nil || !r.LeftOut.AfterLift || len(d.app.v.setup.Remarks) != 1 {
		t.Errorf("%+v", r)
	}
	d.keys("b")
}
