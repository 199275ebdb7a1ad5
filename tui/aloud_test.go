package tui

import "testing"

// Each figure is spoken digit by digit as it was booked, once it is booked and
// only where it is wanted; a marked entry and Hold ring.
func TestAloud_SaysWhatIsBooked(t *testing.T) {
	var said []string
	port := &fakePort{}
	d := firstSetup(newDriver(t, port, Options{Say: func(s string) { said = append(said, s) }}))
	d.book("00510")
	if len(said) != 0 {
		t.Fatalf("%q is said unasked", said)
	}
	d.keys("or").sees("Read back aloud yes").keys("b").book("451020")
	if len(said) != 1 || said[0] != "4 5, 1 0, 2 0" {
		t.Fatalf("%q", said)
	}
	d.key("120").keys("<back><back><back>")
	if len(said) != 1 {
		t.Fatalf("%q: an entry is no reading", said)
	}
	for figure, want := range map[string]string{"359°59′59.5″": "3 5 9, 5 9, 5 9 point 5", "0.105": "0 point 1 0 5", "1.542 m": "1 point 5 4 2 metres"} {
		if got := spokenFigure(figure); got != want {
			t.Errorf("%s is spoken as %q, expected %q", figure, got, want)
		}
	}
}

func TestBell_AtAMarkedEntryAndAtHold(t *testing.T) {
	d := half(newDriver(t, &fakePort{prefs: preferences{Bell: true}}, Options{}))
	d.book("313005")
	if d.rings != 1 {
		t.Fatalf("%d bells at a marked entry", d.rings)
	}
	d.key("n").book("303005", "3151030", "2700515")
	if d.rings != 1 {
		t.Fatalf("%d bells at readings that fit", d.rings)
	}
	d.book("923435", "893000", "880010", "871500").book("2724500", "2715955", "2703005")
	if d.rings != 1 {
		t.Fatalf("%d bells before the last reading", d.rings)
	}
	if d.book("2672530"); d.rings != 1 {
		t.Fatalf("%d bells at Lift", d.rings)
	}
	d = firstSetup(newDriver(t, &fakePort{prefs: preferences{Bell: true}}, Options{})).book(roundOne...).book(roundTwo[:4]...)
	d.confirmed("1600150", "303105", "3151130", "2700615").book("923435", "893000", "880010", "871500").book("2724500", "2715955", "2703005")
	before := d.rings
	if d.book("2672530"); d.rings != before+1 {
		t.Fatalf("%d bells at Hold\n%s", d.rings-before, d.plain())
	}
	d.key("l").sees("Hold")
}
