package network

import (
	"strings"
	"testing"

	"example.org/readback/reduce"
)

// Bearings within their quadrant: counted from north or south towards east or west (common
// practice, no source; the four pairs are worked by hand).
func TestBearingText_Quadrants(t *testing.T) {
	for _, c := range []struct {
		bearing reduce.Angle
		want    string
	}{{deg(35, 12, 8), "N 35°12′08″ E"}, {deg(144, 47, 52), "S 35°12′08″ E"}, {deg(215, 12, 8), "S 35°12′08″ W"}, {deg(324, 47, 52), "N 35°12′08″ W"},
		{0, "N 0°00′00″ E"}, {deg(90, 0, 0), "N 90°00′00″ E"}, {deg(180, 0, 0), "S 0°00′00″ E"}, {deg(270, 0, 0), "N 90°00′00″ W"}} {
		for _, zero := range []reduce.Angle{0, reduce.HalfTurn} { // a quadrant has no other zero
			s := Settings{Quadrants: true, Zero: zero}
			if got := s.BearingText(reduce.DirectionAt(c.bearing), reduce.DMS, 0); got != c.want {
				t.Errorf("%s: %s, want %s", c.bearing.Format(reduce.DMS, 0), got, c.want)
			}
		}
	}
	if got := (Settings{Zero: reduce.HalfTurn}).BearingText(reduce.DirectionAt(deg(35, 12, 8)), reduce.DMS, 0); got != "215°12′08″" {
		t.Error(got)
	}
}

// Every bearing of a figure's tables is printed so, the adjusted ones too, and it is said.
func TestText_BearingsInQuadrants(t *testing.T) {
	c := walkRing(t, ringNames, nil)
	in := c.input()
	in.Known = known("Weir", "Alder", "Chapel")
	in.Settings.Quadrants = true
	text := Text(Work(in))
	if n := strings.Count(text, " E ") + strings.Count(text, " W "); !strings.Contains(text, "within their quadrant.") || n < 10 { // 5 legs, twice
		t.Errorf("%d bearings\n%s", n, text)
	}
	if strings.Contains(text, "…") {
		t.Errorf("a column is too narrow:\n%s", text)
	}
	in.Settings.Quadrants, in.Settings.Zero = false, reduce.HalfTurn
	legs := Work(in).Figures[0].Result.Carried.Bearings
	if text := Text(Work(in)); strings.Count(text, reduce.DirectionAt(legs[1].Angle()-reduce.HalfTurn).Format(reduce.DMS, 0)) < 2 {
		t.Errorf("carried and adjusted bearing of the second leg are not both from south:\n%s", text)
	}
}
