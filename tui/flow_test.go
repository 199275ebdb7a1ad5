package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/testdata"
)

func TestEntry_BurstIsSoManyDigits(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{}))
	d.key("123").size(40, 12).sees("FL Spire")
	b := d.app.desk
	if b.entry.Text() != "123" {
		t.Fatalf("%q", b.entry.Text())
	}
}

func TestQuestion_IsSeenInASmallWindow(t *testing.T) {
	half(newDriver(t, &fakePort{}, Options{})).key("q").size(40, 8).sees("Leave Readback?", "Y: leave. N: stay.").key("n").sees("FR Quarry")
}

func TestEntry_PasteNeverBooks(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{}))
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("00510\r")})
	d.sees("Pasted: “00510”")
	d.key("n").seesNot("Pasted").sees("empty")
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("00510\r")})
	d.key("y").sees("ready")
	if n := len(d.app.v.setup.Readings); n != 0 {
		t.Fatalf("%d readings booked by a paste", n)
	}
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("12\r\n34")})
	d.sees("The paste was not taken")
}

// The pieces of a mouse report that a read cut in two ([ENGINEERING 3.4], tried
// there on a terminal) never become digits.
func TestEntry_BrokenSequence(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{}))
	d.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Alt: true, Runes: []rune("[")})
	d.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("<0;70")})
	d.app.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("1")})
	d.app.Update(tea.KeyMsg{Type: tea.KeyEnter})
	d.sees("empty")
	d.key("12x").sees("Not taken: “12x”", "empty")
}

func TestMarked_NeedsTheQuestion(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	n := len(d.app.v.setup.Readings)
	d.book("313005").sees("Has the observer read it again?")
	d.keys("<enter><enter>").key("315").sees("Answer first")
	if len(d.app.v.setup.Readings) != n {
		t.Fatal("Enter confirmed a marked entry")
	}
	d.keys("<back>").sees("marked").seesNot("Has the observer")
	d.keys("5<enter>").sees("Has the observer read it again?").key("y").seesNot("Has the observer")
	r, _ := d.app.v.setup.Last()
	if !r.Confirmed || len(r.Findings) == 0 {
		t.Fatalf("the record lacks the confirmation: %+v", r)
	}
	d.keys("p").sees("31°30′05″!")
}

func TestMarked_NoClearsTheEntry(t *testing.T) {
	half(newDriver(t, &fakePort{}, Options{})).book("313005").key("n").sees("empty").book("303005").sees("Booked: Quarry")
}

// What the other readings say of the next one is never seen before it is booked:
// neither its figure nor the digits that are still to come.
func TestExpectation_IsNeverShown(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	for _, keyed := range []string{"", "3", "0", "3", "0", "0"} {
		d.key(keyed).seesNot("30°30′05″", "30°30′00″", "30°29′", "30°30′10″")
	}
	d.sees("Quarry covered").seesNot("210°30′00″") // the other face would say it
	d.key("5").keys("<enter>").sees("210°30′00″ 30°30′05″")
	d.sees("Alder covered").key("p").sees("Alder 135°10′25″")
}

func TestStrike_KeepsTheFigure(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.keys("s3<enter>").sees("Strike 210°30′00″").keys("chimney, not the mast<enter>")
	d.sees("Sight Quarry and read it again.", "~210°30′00″~")
	if k := d.slot(); k.Face != faces.FL || k.Target != "Quarry" {
		t.Fatalf("%v is called", k)
	}
	d.book("2103000").sees("Transit the telescope.")
}

func TestStrike_Pair(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.keys("s<enter><down>1").sees("~160°00′50″~", "~340°00′40″~")
}

func TestHidden_ComesBackAtTheEndOfTheHalf(t *testing.T) {
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).book("00510")
	d.keys("h1").sees("hidden for now", "sight Quarry").book("1203000", "2500045")
	d.sees("It was hidden before.", "Sight Alder, if it is seen now.")
	d.keys("h<down>haze<enter>").sees("blocked").sees("Transit the telescope.")
}

func TestVoid_BeginsTheRoundAgain(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.keys("v1").sees("Round 2 is void and struck.", "Set the circle between 90° and 91°.")
	d.keys("p").sees("Round 2, void: tripod knocked", "~135°10′25″~")
}

// What was half keyed before a detour stands struck out until T takes it or Back
// drops it: it never joins with the next reading.
func TestInterruption_StrikesTheEntryOut(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{})).key("3030")
	entry := func(want, left string) {
		t.Helper()
		if got := d.app.desk.entry.Text(); got != want || d.app.desk.left != left || d.app.active != onBooking {
			t.Fatalf("%q is in the entry, not %q, and %q is left, on screen %d", got, want, d.app.desk.left, d.app.active)
		}
	}
	for _, there := range []string{"p", "g", "s", "c", "l", "w", "o", "?", "d"} {
		d.key(there).key("b")
		entry("", "3030")
		d.sees("~", "30′30″~ was left half keyed. T takes it, Back drops it").key("t")
		entry("3030", "")
		d.key(there).keys("<esc>")
		entry("", "3030")
		d.key("t")
	}
	d.key("r").keys("<esc>")
	entry("", "3030")
	d.key("t").key("r").keys("<back>")
	entry("", "3030")
	d.keys("<back>")
	entry("", "")
	d.key("3030").size(40, 10).sees("30′30″").size(0, 0).size(100, 30) // another window is no detour
	entry("3030", "")
	d.keys("p").keys("b").key("303005")
	entry("303005", "3030")
	d.sees("was left half keyed").keys("<enter>").sees("Booked: Quarry FR 30°30′05″.").seesNot("half keyed")
}

func TestChoose_AnotherPointingAndBack(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{})).key("30")
	d.keys("g<down><enter>").sees("Chosen by you").key("31")
	entry := func(want string) {
		t.Helper()
		if got := d.app.desk.entry.Text(); got != want {
			t.Fatalf("%q is in the entry, not %q", got, want)
		}
	}
	d.key("b").seesNot("Chosen by you").sees("was left half keyed")
	entry("")
	d.key("t")
	entry("30")
	d.keys("g7<enter>").sees("was left half keyed")
	entry("")
	d.keys("<back>").book("3151030").sees("Booked: Alder")
	if k := d.slot(); k.Target != "Quarry" {
		t.Fatalf("%v is called", k)
	}
}

func TestLookBack_IsReadOnlyAndReturns(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	whole(d).keys("lty").keys("nAlder<enter>Weir<enter>Spire, Mast<enter>o").book("00510").key("45")
	d.keys("w<down><enter>").sees("looking back, read-only")
	n := len(d.port.entries)
	d.keys("srxtav").sees("looking back, read-only")
	if len(d.port.entries) != n {
		t.Fatal("something was booked while looking back")
	}
	if d.keys("<esc>"); d.app.desk.entry.Text() != "45" {
		t.Fatalf("the entry holds %q", d.app.desk.entry.Text())
	}
}

func TestPage_ScrollsUnderTheEntry(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.seesNot("Round 1 ──").keys("<up><up><up><up><up><up><up><up><up><up>").sees("Round 1 ──")
	d.keys("<down>").seesNot("Round 1 ──").key("30").sees("keying")
	d.keys("305<enter>").seesNot("Round 1 ──")
}

func TestWorkList_IsReadAgain(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).key("w").sees("✓ 1 Weir Lift")
	d.keys("blty").key("w").sees("✓ 1 Weir lifted")
}

func TestWorkList_FindReadsOn(t *testing.T) {
	port := &fakePort{}
	d := newDriver(t, port, Options{})
	for i := 0; i < 2*chunk+5; i++ {
		spec := manySpec()
		spec.Station = "S" + itoa(i)
		d.run(d.app.carryOne(openSetup{spec: spec}))
		d.flush()
	}
	d.keys("w").sees("405 setups").keys("f" + "S3 spire").sees("S3 ")
	d.keys("<enter>").sees("S3")
}

// The limits are worked by hand: σ is not stated, and no target shows more than 2 × least
// count by practice. The halves of 2c are −2.5″ nine times and −5″ three times, of
// rounds 1 and 3 six times and twice: their squares make 14.06 and 9.375, and with the
// assumed s² of 2 + 25/24 at one degree of freedom s is 1.194″ (12) and 1.246″ (8). So the
// limit is q(1 − 0.0025/3; 3, 12) · √2 · s = 7.07 · 1.414 · 1.194″ = 11.9″ of three
// rounds and 7.34 · 1.414 · 1.246″ = 12.9″ of two, each rounded up to a quarter of the
// least count: 12.5″ and 13.75″. More pairs say more of the scatter, and the limit closes in.
func TestRounds_LeftOutAndTakenBack(t *testing.T) {
	d := disagree(newDriver(t, &fakePort{}, Options{}))
	d.book("2251020", "3003000", "700045", "2500050", "1203010", "451025", "00515")
	d.keys("c").sees("Rounds 1 and 3 agree with each other.")
	d.keys("2x1").sees("Round 2 is left out: it does not agree with the others.", "✓ agree The rounds agree within 13.8″.")
	d.keys("2t1").sees("The rounds do not agree on Alder: spread 35″, limit 12.5″.")
	d.keys("a").sees("round 4")
}

func TestNextStation_SevenKeysBeyondTheNames(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).keys("lty")
	keys := 0
	press := func(s string) { d.keys(s); keys++ }
	press("n")
	d.keys("Alder")
	press("<enter>")
	d.keys("Weir")
	press("<enter>")
	d.keys("Quarry")
	press(",")
	d.keys("Mast")
	press(",")
	d.keys("Spire")
	press("<enter>")
	d.sees("Read this setup back")
	press("o")
	d.sees("Alder setup 2", "Sight Weir, the RO.", "empty")
	if keys > 7 {
		t.Fatalf("%d keys beyond the names", keys)
	}
	if s := d.app.v.setup.Spec; s.Observer != "Ines Holm" || s.Instrument.Name != "T-5" || len(s.Targets) != 3 {
		t.Fatalf("%+v", s)
	}
}

func TestSetup_NamesAreCompleted(t *testing.T) {
	d := whole(newDriver(t, &fakePort{}, Options{})).keys("lty")
	d.keys("nal<right>").sees("▌Alder").keys("<enter>w<right><enter>q<right>, m<right><enter>o")
	if s := d.app.v.setup.Spec; s.Station != "Alder" || s.RO != "Weir" || strings.Join(s.Targets, " ") != "Quarry Mast" {
		t.Fatalf("%+v", s)
	}
}

func TestSetup_LimitsFollowTheLeastCount(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	d.keys("Weir<enter>Spire<enter>Alder<enter><down>")
	d.keys("Ines Holm<enter>Tam Okoro<enter>T-1<enter>17<enter><enter><back>1<enter><enter>o")
	l := d.app.v.setup.Spec.Limits
	if l.Rounds.Value != 5*reduce.Arcsecond || l.TwoC.Value != 10*reduce.Arcsecond || l.Rounds.From != spec.CommonPractice {
		t.Fatalf("%+v", l)
	}
}

func TestSetup_LimitsOfAGonCircle(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	d.keys("Weir<enter>Spire<enter>Alder<enter><down>Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter><right><enter><back>0.5<enter>")
	d.keys("<down><down><down><down><down><down><down><down><down><down><down><down><down><down><down><back><back><back><back><back><back><back><back>3<enter>o")
	l := d.app.v.setup.Spec.Limits
	if l.Rounds.Value != 5*reduce.Arcsecond || l.Rounds.From != spec.CommonPractice {
		t.Errorf("a default that is no round number of milligon: %+v", l.Rounds)
	}
	if l.ROMisclosure.Value != 3*reduce.Milligon || l.ROMisclosure.From != spec.SetByCrew {
		t.Errorf("set by the crew: %+v", l.ROMisclosure)
	}
}

func TestGonAndDistances(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	d.keys("Weir<enter>Spire<enter>Alder<enter>1.5<enter>")
	d.keys("Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter><right><enter><enter>")
	d.keys("<down><down><right><down><down><down><down><right><enter>o") // RO again: yes; distances: yes
	d.sees("Set the circle between 0 gon and 1 gon.", "Plain decimal in gon")
	d.book("0.105", "50.210", "0.110").sees("The half closes with")
	d.book("200.110", "250.215", "200.115").key("p").sees("closes", "+5 mgon", "limit 20 mgon").key("p")
	d.book("100.105", "150.210", "100.110", "300.110", "350.215", "300.115")
	d.book("98.5", "99.25", "300.755", "301.505").sees("slope distance to Spire")
	d.book("120.5", "1.6", "88.25", "1.7").sees("The verdict is Lift.")
	d.keys("l<pgdown><pgdown>").sees("level 120.4", "rise")
}

// A circle of 6400 mils, and one in decimal degrees: the form, the entry and the page
// speak their unit. 2c = wrap(0.2 − 3200.4 − 3200) mil (TRADE 2); a line 5 mil above
// the level stands at 1595 from the zenith.
func TestMilsAndDecimalDegrees(t *testing.T) {
	begin := func(rights string) *driver {
		d := newDriver(t, &fakePort{}, Options{})
		d.keys("Weir<enter>Spire<enter>Alder<enter>1.5<enter>")
		return d.keys("Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter>" + rights + "<enter><enter>")
	}
	d := begin("<right><right><right>").sees("mils", "0.1").keys("<enter>o")
	d.sees("Set the circle between 0 mil and 20 mil.", "Plain decimal in mils: 1234.5")
	d.book("0.2", "1800.3", "5000.5", "3200.4").key("p").sees("2c mil", "1800.3").key("p").sees("Set the circle between 1600 mil and 1620 mil.")
	if i := d.app.v.setup.Spec.Instrument; i.Unit != reduce.MilUnit || i.LeastCount != 20_250_000 {
		t.Errorf("%+v", i)
	}
	d = begin("<right><right>").sees("decimal degrees").keys("<up><back><back><back><back><back>0.0005<enter><enter>o").sees("Set the circle between 0° and 1°.", "Plain decimal in degrees: 123.4567")
	d.book("0.0005", "101.2500", "281.2515", "180.0010").key("p").sees("101.2500").key("p").sees("Set the circle between 90° and 91°.")
	if i := d.app.v.setup.Spec.Instrument; i.Unit != reduce.DegreeUnit || i.LeastCount != 1_800_000 {
		t.Errorf("%+v", i)
	}
}

func TestNames_NeverActOnTheTerminal(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	spec := manySpec()
	spec.Station, spec.RO, spec.Targets = "We\x1b[31mir", "Spi\x07re", []string{"塔 north", "cafe\u0301", "\u202eMast"}
	d.run(d.app.carryOne(openSetup{spec: spec}))
	d.app.carry(because(onBooking, booking.Setup.Remark, 0)("\x1b]0;title\x07"))
	for _, key := range []string{"", "p", "g", "w", "r"} {
		d.keys("<esc>").key(key)
		for _, bad := range []string{"\x1b[31m", "\x07", "\x1b]", "\u202e"} {
			if strings.Contains(d.app.View(), bad) {
				t.Fatalf("%q reaches the terminal on screen %q", bad, key)
			}
		}
	}
}

// Every binding that a screen prints does something there: the view, the screen
// or what is on disk is another one afterwards, or a way out is asked for.
func TestKeys_PrintedOnesDoSomething(t *testing.T) {
	idle := map[string]bool{"↑": true, "↓": true, "PgUp": true, "PgDn": true, "←": true, "→": true}
	seen := map[screenID]bool{}
	for _, sc := range scenes {
		if sc.name == "leave" {
			continue // the question stands over the screen
		}
		probe := newDriver(t, &fakePort{}, Options{})
		sc.lead(probe)
		probe.port.hold = true
		if seen[probe.app.active] {
			continue
		}
		seen[probe.app.active] = true
		for i, b := range listed(probe.app.screen().actions(&probe.app.v)) {
			if idle[b.Help().Key] || !testdata.OneOf(6, i+len(seen)) {
				continue
			}
			d := newDriver(t, &fakePort{}, Options{})
			sc.lead(d)
			before := d.plain()
			p := pressOf(b)
			if p.name != "" {
				d.keys("<" + map[string]string{"backspace": "back"}[p.name] + strings.TrimPrefix(p.name, "backspace") + ">")
			} else {
				d.key(string(p.r))
			}
			if d.plain() == before && !d.quit {
				t.Errorf("%s: %s %q does nothing", sc.name, b.Help().Key, b.Help().Desc)
			}
		}
	}
}

// What the book knew before a setup is read by a command; what is keyed until it has
// come is not lost.
func TestSetup_KeysWaitUntilItIsOpened(t *testing.T) {
	port := &fakePort{known: check.Known{Before: spec.Before{S: 2, Dof: 20, Setups: 3}}}
	d := newDriver(t, port, Options{})
	d.slow = true
	d.run(d.app.carryOne(openSetup{spec: manySpec()}))
	d.keys("12")
	if d.app.v.setup.Number != 0 {
		t.Fatal("opened before it was read what the book knew")
	}
	d.slow = false
	for len(d.waiting) > 0 {
		d.answerOne(0)
	}
	if d.app.v.setup.Spec.Before.Setups != 3 || d.app.desk.entry.Text() != "12" {
		t.Fatalf("before %+v, the entry holds %q", d.app.v.setup.Spec.Before, d.app.desk.entry.Text())
	}
}
