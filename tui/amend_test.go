package tui

import (
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

// A name that was misspelt is put right after readings were booked: they follow
// it, and the reason stands in the book.
func TestAmend_AMisspeltNameFollowsThrough(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 45)
	d.keys("Weir<enter>Spier<enter>Alder, Quarry<enter><down>Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter><pgdown>o")
	d.book("00510", "451020").sees("Quarry")
	d.keys("m<enter><back><back>re<pgdown>").sees("Spier is now Spire.").seesNot("least count 5″, was")
	d.keys("o").sees("Amend the setup").keys("1").sees("The setup is amended.")
	s := d.app.v.setup
	if s.Spec.RO != "Spire" || s.Readings[0].Slot.Target != "Spire" || s.Amended[0].Reason != "misspelt" {
		t.Fatalf("%+v", s.Amended)
	}
	d.sees("Quarry").key("p").sees("Spire")
}

// Before the first reading everything can be changed without a reason; what the
// readings deny is refused with the sentence why.
func TestAmend_FreelyBeforeTheFirstReading(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).size(100, 45)
	d.key("00518").keys("<enter>").sees("M amends the setup")
	d.keys("<back><back><back><back><back>m<down><down><down><down><down><down><down><down><back>1<pgdown>").sees("Least count 1″, was 5″.")
	d.keys("o").book("00518").sees("Booked: Spire")
	d.keys("m<down><down><down><down><down><down><down><down><back>5<pgdown>o1").sees("which is no multiple of this least count")
}

func TestAmend_TargetsAddedAndDropped(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).size(100, 45).book(roundOne...)
	d.keys("m<down><down>, Kiln<pgdown>").sees("Kiln is sighted too.").keys("o3").sees("round 2")
	if !slices.Contains(d.app.v.setup.Spec.Targets, "Kiln") || !slices.Equal(d.app.v.setup.Rounds[0].Without, []string{"Kiln"}) {
		t.Fatalf("%+v", d.app.v.setup.Spec)
	}
	d.keys("g").sees("Kiln")
}

// A setup opened by mistake is struck whole: it leaves the work list, keeps its
// number, and its settings are not handed on.
func TestStrike_AnEmptySetupWhole(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).keys("lty").size(100, 45)
	d.keys("nKiln<enter>Spire<enter>Weir<down><down>" + strings.Repeat("<back>", len("Ines Holm")) + "Ada<pgdown>o").sees("Kiln setup 2")
	if s := d.app.v.setup.Spec; s.Observer != "Ada" {
		t.Fatalf("%q observes", s.Observer)
	}
	d.keys("s").sees("No reading of this setup stands.", "strike the whole setup").keys("<enter><enter>").sees("Work list").seesNot("Kiln")
	d.keys("f" + "struck").sees("2 Kiln struck").keys("<esc>")
	d.keys("nAlder<enter>Weir<enter>Spire<enter>o").sees("Alder setup 3")
	if s := d.app.v.setup.Spec; s.Observer != "Ines Holm" {
		t.Errorf("the struck setup handed on %+v", s.Observer)
	}
}

// The next setup is proposed as the foresight of the last one: two keys begin it
// where nothing is missing.
func TestSetup_ProposedInTwoKeys(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).keys("lty")
	d.keys("n").sees("Next station, proposed from the last setup", "Mast", "Weir")
	d.keys("<enter><enter>Spire<enter>o").sees("Mast setup 2", "Sight Weir, the RO.")
	if s := d.app.v.setup.Spec; s.Station != "Mast" || s.RO != "Weir" || strings.Join(s.Targets, " ") != "Spire" {
		t.Fatalf("%+v", s)
	}
}

// A planned day of four stations is begun in two keys each; another station than
// the planned one is keyed over it.
func TestPlan_TwoKeysEach(t *testing.T) {
	port := &fakePort{}
	plan := event.PlanLoaded{Stations: []event.PlannedStation{
		{Station: "Weir", RO: "Spire", Targets: []string{"Gannet"}, Rounds: 2}, {Station: "Gannet", RO: "Weir", Targets: []string{"Alder"}, Rounds: 2},
		{Station: "Alder", RO: "Gannet", Targets: []string{"Weir"}, Rounds: 2}, {Station: "Mast", RO: "Alder", Targets: []string{"Weir"}, Rounds: 2}}}
	port.entries = []event.Entry{{Seq: 1, Event: event.BookOpened{}}, {Seq: 2, Event: plan}}
	port.head = 2
	d := newDriver(t, port, Options{}).size(100, 45)
	d.sees("Proposed from the plan", "Weir", "may be said later")
	d.keys("<pgup><down><down><down><down>Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter><enter><enter><enter>o").sees("Weir setup 1")
	d.book("00510", "451020", "2251025", "1800515", "900510", "1351025", "3151030", "2700515").keys("lty")
	for i, p := range plan.Stations[1:] {
		if i > 0 {
			d.keys("w").sees("1 of 4 planned done")
		}
		d.keys("n").sees("Proposed from the plan: read it back", p.Station, p.RO).keys("o")
		if s := d.app.v.setup.Spec; s.Station != p.Station || s.RO != p.RO || d.app.v.setup.Number != i+2 {
			t.Fatalf("%+v", s)
		}
	}
	d.keys("wnKiln<enter>").sees("Kiln").keys("Mast<enter>Weir<enter>o").sees("Kiln setup 5")
}

func TestPlan_RowsOfTheWorkList(t *testing.T) {
	port := &fakePort{}
	port.entries = []event.Entry{{Seq: 1, Event: event.BookOpened{}}, {Seq: 2, Event: event.PlanLoaded{Stations: []event.PlannedStation{
		{Station: "Kiln", RO: "Spire", Targets: []string{"Gannet"}, Day: "2026-05-04"}, {Station: "Oast", RO: "Kiln", Targets: []string{"Weir"}}}}}}
	port.head = 2
	d := newDriver(t, port, Options{}).size(100, 45).keys("<esc>")
	d.sees("Kiln planned next 4 May", "Oast planned", "0 of 2 planned done").seesNot("2026-05")
	d.keys("<down><enter>").sees("Oast", "Proposed from the plan")
}

// A distance is measured again, does not agree, and is left out with a reason.
func TestAgain_ADistanceAndLeftOut(t *testing.T) {
	d := gonStation(newDriver(t, &fakePort{}, Options{})).size(100, 45)
	d.sees("The verdict is Lift.")
	at := 0
	for i, k := range slotsOfPointings(d) {
		if k.Quantity == spec.Slope && k.Target == "Alder" {
			at = i + 1
		}
	}
	d.keys("g" + itoa(at)).keys("a").sees("slope distance to Alder").book("88.29")
	d.keys("l").sees("The distance to Alder was measured 2 times", "spread 40.0 mm").keys("b")
	d.keys("sx").sees("Leave 88.290 m").keys("1").sees("left out").keys("l").seesNot("measured 2 times").keys("b")
	d.keys("sx").sees("Take 88.290 m").keys("1").keys("l").sees("measured 2 times")
}

// slotsOfPointings are the rows of the list of pointings.
func slotsOfPointings(d *driver) []spec.Slot {
	d.keys("g")
	slots := d.app.screen().(*pointingsScreen).slots
	d.keys("<esc>")
	return slots
}

// A spire gets no distance: said at the pointing, it is not asked for again.
func TestNoDistance_SaidAtThePointing(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 45)
	d.keys("Weir<enter>Spire<enter>Alder<enter>1.5<enter>Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter><enter><enter>")
	d.keys("<down><down><down><down><down><left><down><right><pgdown>o") // vertical circle: no; distances: yes
	d.book("00510", "451020", "2251025", "1800515", "900510", "1351025", "3151030", "2700515").sees("slope distance to Spire")
	d.keys("h<down><down><enter>").sees("slope distance to Alder")
	if s := d.app.v.setup.Spec; !slices.Equal(s.NoDistance, []string{"Spire"}) {
		t.Fatalf("%+v", s)
	}
	// Put right as the RO, the name follows into the field that names it too.
	d.keys("m<enter><back><back><back>le<pgdown>").sees("Spire is now Sple.").keys("o1").sees("slope distance to Alder")
	if s := d.app.v.setup.Spec; s.RO != "Sple" || !slices.Equal(s.NoDistance, []string{"Sple"}) {
		t.Errorf("%+v", s)
	}
}

// A setup that was lifted is put right from its page: the ring can be mended.
func TestAmend_AfterTheLift(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).keys("lty").size(100, 45)
	d.keys("w<enter>").sees("Spire").keys("m<enter><back><back><back><back><back>Steeple<pgdown>").sees("Spire is now Steeple.")
	d.keys("o1").sees("Weir to Steeple")
	a := d.app.v.setup.Amended
	if len(a) != 1 || !a[0].AfterLift {
		t.Fatalf("%+v", a)
	}
	d.keys("s<enter>1").sees("Weir to Steeple")
	n := 0
	for _, r := range d.app.v.setup.Readings {
		if r.Struck != nil && r.Struck.AfterLift {
			n++
		}
	}
	if n != 1 {
		t.Errorf("%d readings are struck after the lift", n)
	}
}
