package sheet

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/testdata/crew"
)

// A corner is a station of the made-up ring: where it lies, in metres.
type corner struct {
	name string
	e, n float64
}

var corners = []corner{{"Weir", 1000, 5000}, {"Alder", 1212.004, 5088.011}, {"Chapel", 1246.013, 5236.02}, {"Mast", 1088.007, 5304.016}, {"Quarry", 927.998, 5168.009}}

// ringSetups walk the ring: on every corner the one before is the RO and the one
// after the target, sighted with a noise of a least count and measured with a few
// millimetres of error.
func ringSetups(t *testing.T) []booking.Setup {
	t.Helper()
	var out []booking.Setup
	for i, at := range corners {
		before, after := corners[(i+len(corners)-1)%len(corners)], corners[(i+1)%len(corners)]
		spec := smallSpec()
		spec.Station, spec.RO, spec.Targets, spec.CloseHalves = at.name, before.name, []string{after.name}, false
		c := crew.Open(t, i+1, spec)
		for n := 0; programme.Expect(c.Setup).Phase != programme.AtVerdict && len(c.Setup.Rounds) <= spec.Rounds; n++ {
			c.Key(walked(c, at, before, after, n+i))
		}
		lift, err := check.Lift(c.Setup, "the office decides")
		c.Do(lift, err)
		out = append(out, c.Setup)
	}
	return out
}

func walked(c *crew.Crew, at, before, after corner, n int) string {
	k := programme.Expect(c.Setup).Slot
	to := before
	if k.Target == after.name {
		to = after
	}
	bearing := func(p corner) reduce.Angle {
		return reduce.FromDegrees(math.Atan2(p.e-at.e, p.n-at.n) * 180 / math.Pi).Normalize()
	}
	lc := 5 * reduce.Arcsecond
	switch k.Quantity {
	case spec.Horizontal:
		d := (bearing(to) - bearing(before)).Normalize() + reduce.Angle(k.Round-1)*reduce.QuarterTurn + 5*reduce.Arcminute
		if k.Face == faces.FR {
			return keyed((d + reduce.HalfTurn + lc).Round(lc).Normalize())
		}
		return keyed((d + reduce.Angle(n%2)*lc).Round(lc).Normalize())
	case spec.Vertical:
		if k.Face == faces.FR {
			return keyed(reduce.Turn - 90*reduce.Degree)
		}
		return keyed(90 * reduce.Degree)
	case spec.Slope:
		return fmt.Sprintf("%.3f", math.Hypot(to.e-at.e, to.n-at.n)+0.002*float64(n%3))
	}
	return "1.500"
}

func covered(t *testing.T) Binder {
	t.Helper()
	b := binder("brackenfold.book", ringSetups(t)...)
	b.Cover = &Cover{LastSeq: 1484, Hash: b.Sheets[0].Hash}
	for i := range b.Sheets {
		b.Sheets[i].Book.Client, b.Sheets[i].Book.Place = "Brackenfold Water Board", "east bank"
	}
	return b
}

// The cover of a day says of every station when it was observed and how it stands,
// of the ring what it closes with and where its corners lie; one block is signed.
// The walk is 946.2 m round (the five sides by Pythagoras), its five inner angles
// make 540° (plane geometry).
func TestCover_RingOfADay(t *testing.T) {
	b := covered(t)
	leaves := b.cover()
	if len(leaves) != 1 {
		t.Errorf("%d leaves, want one", len(leaves))
	}
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 80); err != nil {
		t.Fatal(err)
	}
	said := squeeze(text.String())
	for _, want := range []string{"Day sheet 4 May 2026 book Brackenfold dam: 5 LIFT", "Brackenfold Water Board", "1 Weir Quarry 08:0", "540°00′00″", "Misclosure", "Linear misclosure", "of 946.",
		"limit 1 : ", "Weir 0.000 0.000", "Ines Holm observer", "Instrument T-5 no. 4471", "last event 1484 · hash 3f786850"} {
		if want == "INSTRUMENT" || strings.Contains(said, want) || strings.Contains(said, strings.ToUpper(want)) {
			continue
		}
		t.Errorf("the cover lacks %q:\n%s", want, text.String()[:min(6000, text.Len())])
	}
	if n := strings.Count(doc.String(), `class="signed"`); n != 6 {
		t.Errorf("%d blocks of signatures, want one on the cover and one on each setup", n)
	}
	for _, want := range []string{"95 % ellipses and misclosure drawn", "<ellipse", "Weir to Alder 229.5 m"} {
		if !strings.Contains(doc.String(), want) {
			t.Errorf("the plan lacks %q", want)
		}
	}
}

// A cover of many days and books, of drills and of nothing is set too.
func TestCover_AnySetups(t *testing.T) {
	for _, b := range []Binder{binder("empty.book"), binder("one.book", smallSetup(t), longSetup(t)), binder("void.book", booking.Setup{})} {
		b.Cover = &Cover{}
		for i := range b.Sheets {
			b.Sheets[i].Book.Drill = true
		}
		var doc bytes.Buffer
		if err := b.HTML(&doc); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(doc.String(), "NaN") || strings.Contains(doc.String(), "Inf") || strings.Contains(doc.String(), "ZgotmplZ") {
			t.Error("a figure that is none is printed")
		}
	}
}

// A list that has no room says how many more there are; no name is cut.
func TestFew_CutsNoName(t *testing.T) {
	for _, tt := range []struct {
		names []string
		room  int
		want  string
	}{
		{nil, 9, ""}, {[]string{"Ines Holm"}, 4, "Ines Holm"}, {[]string{"Ines Holm", "Tam Okoro"}, 20, "Ines Holm, Tam Okoro"},
		{[]string{"Ines Holm", "Tam Okoro", "Runa Vey"}, 20, "Ines Holm, Tam Okoro and 1 more"}, {[]string{"Ines Holm", "Tam Okoro"}, 19, "Ines Holm and 1 more"},
	} {
		if got := few(tt.names, ", ", tt.room); got != tt.want {
			t.Errorf("%q in %d: %q, want %q", tt.names, tt.room, got, tt.want)
		}
	}
}
