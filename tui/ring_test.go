package tui

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/readback/booking/event"
	"example.org/readback/booking/instrument"
	"example.org/readback/reduce"
)

// corners of an invented ring, metres east and north, anticlockwise.
var corners = []struct {
	name string
	e, n float64
}{{"Weir", 0, 0}, {"Alder", 120, 10}, {"Quarry", 130, 110}, {"Spire", 15, 95}}

// ring books the corners one after another with distances, each with two rounds
// to the corner before and the one after, and leaves the last setup on Lift. off is
// a slip of the leg from the second to the third, metres.
func ring(d *driver, off ...float64) *driver {
	for i, c := range corners {
		next, last := corners[(i+1)%len(corners)], corners[(i+len(corners)-1)%len(corners)]
		if i == 0 {
			d.keys(c.name + "<enter>" + next.name + "<enter>" + last.name + "<enter>1.5<enter>")
			d.keys("Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter><enter><enter>")
			d.keys("<down><down><down><down><down><down><right><enter>o") // distances: yes
		} else {
			d.keys("n" + c.name + "<enter>" + next.name + "<enter>" + last.name + "<enter>1.5<enter>o")
		}
		slips := [2]float64{}
		if len(off) > 0 && (i == 1 || i == 2) {
			slips[i-1] = off[0]
		}
		d.observe(c.e, c.n, next.e, next.n, last.e, last.n, slips)
		switch {
		case len(off) > 0 && i == 2: // the last corner is sighted from two stations: the leg shows before it is occupied
			d.keys("l").sees("The network does not agree", "the distances of the line Alder–Quarry").keys("t1y")
		case i+1 < len(corners):
			d.keys("lty")
		}
	}
	return d
}

// observe books two rounds, the vertical circle on the level, and distances, of
// two targets whose places are known; it ends behind the distance until, where one
// is given.
func (d *driver) observe(e, n, roE, roN, e2, n2 float64, slips [2]float64, until ...string) *driver {
	angle := math.Atan2(e2-e, n2-n) - math.Atan2(roE-e, roN-n)
	for _, start := range []reduce.Angle{5 * reduce.Arcminute, 90*reduce.Degree + 5*reduce.Arcminute} {
		to := start + reduce.FromRadians(angle)
		for _, a := range []reduce.Angle{start, to, to + reduce.HalfTurn, start + reduce.HalfTurn} {
			d.book(keyed(a))
		}
	}
	d.book("900000", "900005", "2695955", "2700000")
	for _, leg := range []float64{math.Hypot(roE-e, roN-n) + slips[0], math.Hypot(e2-e, n2-n) + slips[1]} {
		text := fmt.Sprintf("%.3f", leg)
		d.book(text)
		if len(until) > 0 && text == until[0] {
			return d
		}
		d.book("1.5")
	}
	return d
}

// keyed writes an angle as a booker keys it, to the nearest 5″.
func keyed(a reduce.Angle) string {
	a = a.Round(5 * reduce.Arcsecond).Normalize()
	return fmt.Sprintf("%d%02d%02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
}

// The interior angles of a ring of four sum to 360° (TRADE.md 2, figures; a fact
// of geometry), so a ring that was computed closes within the rounding of its
// readings.
func TestRing_IsSaidBeforeTheTripodIsLifted(t *testing.T) {
	d := ring(newDriver(t, &fakePort{}, Options{})).size(100, 45)
	d.keys("l").sees("The figure", "Ring")
	d.key("g").sees("Ring").size(150, 45).sees("Weir", "Quarry")
	d.size(80, 24).key("p").sees("Ring")
	d.key("h").sees("T-5").key("p").sees("collimation, limit ± 30″", "4 May")
}

// What is booked while the figures are worked ends that work, and they are worked anew;
// a result that is out of date is not shown.
func TestRing_WorkOutOfDateIsEnded(t *testing.T) {
	d := ring(newDriver(t, &fakePort{}, Options{}))
	first := d.app.loadReport()
	if first == nil || d.app.loadReport() != nil {
		t.Fatal("two works at once")
	}
	d.app.v.standing = nil
	m := first().(reportLoaded)
	if m.state != nil || m.report.Figures != nil {
		t.Errorf("it was worked on: %+v", m.state)
	}
	anew := d.app.reportRead(m)
	if anew == nil || d.app.v.standing != nil {
		t.Fatal("it is not worked anew")
	}
	if d.app.reportRead(anew().(reportLoaded)); len(d.app.v.standing) == 0 {
		t.Error("nothing is said of the ring")
	}
}

// A ring that misses its limit holds its last tripod: the leg is named, and the
// tripod is not lifted without a reason.
func TestRing_ThatMissesIsHold(t *testing.T) {
	d := ring(newDriver(t, &fakePort{}, Options{}), 1.7).size(100, 45)
	d.sees("The verdict is Hold.", "✗ not met The coordinates miss by")
	d.keys("l").sees("The tripod stays.", "does not close", "One leg explains it: Alder–Quarry.", "lift on Hold, with a reason")
	d.keys("t").sees("Lift the tripod on Hold").keys("1y").sees("Lifted on Hold: the site must be cleared", "does not close")
	if e, ok := d.port.entries[len(d.port.entries)-1].Event.(event.Lifted); !ok || e.Verdict != "hold" || len(e.Reasons) != 1 {
		t.Errorf("%+v", e)
	}
}

// A distance that does not agree with the one from its other end is said when it
// is booked, on the booking screen.
func TestDistance_IsHeldAgainstItsOtherEndAtOnce(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 45)
	d.keys("Weir<enter>Spire<enter>Alder<enter>1.5<enter>Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter><enter><enter>")
	d.keys("<down><down><down><down><down><down><right><enter>o") // distances: yes
	d.observe(0, 0, 15, 95, 120, 10, [2]float64{}).keys("lty")
	d.keys("nAlder<enter>Weir<enter>Quarry<enter>1.5<enter>o")
	d.observe(120, 10, 0, 0, 130, 110, [2]float64{1, 0}, "121.416")
	d.sees("Ask for the height of the target at Weir.", "! Weir–Alder: distance 120.416 m from Weir, 121.416 m from Alder, there and back 1000 mm apart, limit 11 mm.",
		"Before this tripod is lifted, measure the distance to Weir again.")
}

// The errors of an instrument in gon are drawn in milligon, also its band: 30″
// are 9.26 mgon, and 1″ is 1/3.24 mgon by definition.
func TestHistory_InTheUnitOfTheCircle(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	points := []instrument.Point{{Seconds: 3.24}, {Seconds: 3.24 * 40}}
	for unit, want := range map[reduce.Unit]string{reduce.GonUnit: " 40 mgon", reduce.DMS: "130″"} {
		is := []instrument.Instrument{{Name: "T-5", Serial: "4471", Unit: unit, Due: 30 * reduce.Arcsecond, Series: []instrument.Series{{Name: "collimation", Points: points}}}}
		if got := ansi.Strip(strings.Join(drawHistory(&d.app.v, is, 60, 20), "\n")); !strings.Contains(got, want) || strings.Contains(got, "″") == (unit == reduce.GonUnit) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
}
