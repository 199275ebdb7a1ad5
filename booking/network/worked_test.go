package network

import (
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/traverse"
	"example.org/readback/testdata"
)

func dms(t *testing.T, s string) reduce.Angle {
	t.Helper()
	return testdata.Parsed(t, reduce.ParseDMS, s)
}

// Chinese textbook exercise 9 (testdata/published/traverse-left-hand.csv): five
// setups booked through events; the printed coordinates to the printed
// hundredth.
func TestWorked_LeftHandRing(t *testing.T) {
	rows := testdata.Rows(t, "../../testdata/published/traverse-left-hand.csv")
	c := newCrew(t)
	c.limit = 20 * reduce.Arcsecond
	k := len(rows)
	for i := range rows {
		at := rows[(i+k-1)%k]
		back, fore := rows[(i+k-1)%k], rows[i]
		before := rows[(i+k-2)%k]["station"]
		c.occupy(at["station"], true,
			sight{to: before, length: back["distance"]},
			sight{to: fore["station"], direction: dms(t, at["observed"]), length: fore["distance"]})
	}
	in := c.input()
	in.Known = []event.KnownStation{{Name: "A", East: 2000, North: 1000}}
	in.Bearings = []KnownBearing{{From: "A", To: "1", Bearing: reduce.DirectionAt(45 * reduce.Degree)}}
	in.Settings.AngleStep, in.Settings.LengthStep, in.Settings.LeastRatio = reduce.Arcsecond, 0.01, 2000
	r := Work(in)
	if len(r.Figures) != 1 || r.Figures[0].Kind != Ring || !r.Figures[0].Met() {
		t.Fatal(Text(r))
	}
	got := r.Figures[0].Result.Carried
	if got.Angular.Misclosure != -36*reduce.Arcsecond {
		t.Errorf("misclosure %v", got.Angular.Misclosure)
	}
	for i, row := range rows {
		end := got.Points[(i+1)%k]
		printed(t, row["line"]+" x", end.N, row["x"])
		printed(t, row["line"]+" y", end.E, row["y"])
	}
	printed(t, "fx", got.Linear.Closing.N, "0.10")
	printed(t, "fy", got.Linear.Closing.E, "0.13")
}

// Purdue University, ASM 215 (testdata/published/traverse-purdue.csv), booked in
// feet. The page's coordinates to the printed hundredth of a foot, but for the
// east of E, where the page forces a hundredth (see reduce/traverse).
func TestWorked_Purdue(t *testing.T) {
	const foot = 0.3048
	rows := testdata.Rows(t, "../../testdata/published/traverse-purdue.csv")
	c := newCrew(t)
	c.unit = lengths.Feet
	k := len(rows)
	for i, row := range rows {
		last, next := rows[(i+k-1)%k], rows[(i+1)%k]
		c.occupy(row["station"], true,
			sight{to: last["station"], direction: dms(t, last["azimuth"]) + reduce.HalfTurn, length: last["length"]},
			sight{to: next["station"], direction: dms(t, row["azimuth"]), length: row["length"]})
	}
	in := c.input()
	in.Known = []event.KnownStation{{Name: "A", East: 10000 * foot, North: 10000 * foot}}
	in.Bearings = []KnownBearing{{From: "A", To: "B", Bearing: reduce.DirectionAt(dms(t, rows[0]["azimuth"]))}}
	in.Settings.LengthStep, in.Settings.LeastRatio = 0.01*foot, 2000
	r := Work(in)
	if len(r.Figures) != 1 || !r.Figures[0].Met() {
		t.Fatal(Text(r))
	}
	got := r.Figures[0].Result.Carried
	for i, row := range rows {
		end := got.Points[(i+1)%k]
		printed(t, row["station"]+" next north", end.N/foot, row["next_n"])
		if row["station"] == "D" {
			printed(t, "D next east, by the rule", end.E/foot, "10517.56")
			continue
		}
		printed(t, row["station"]+" next east", end.E/foot, row["next_e"])
	}
	printed(t, "misclosure", got.Linear.Misclosure/foot, "0.89")
}

// J. Mahun's link (testdata/published/traverse-link.csv), booked in feet from a
// known point with a known bearing to a known point that is not occupied. The
// printed adjusted latitudes and departures to the printed thousandth, but for
// the last departure, which is 413.035 unrounded.
func TestWorked_Link(t *testing.T) {
	const foot = 0.3048
	rows := testdata.Rows(t, "../../testdata/published/traverse-link.csv")
	c := newCrew(t)
	c.unit = lengths.Feet
	names := []string{"Q", "R", "S", "T"}
	for i, row := range rows {
		back := sight{to: "Ridge", direction: 200 * reduce.Degree}
		if i > 0 {
			back = sight{to: names[i-1], direction: dms(t, rows[i-1]["azimuth"]) + reduce.HalfTurn, length: rows[i-1]["length"]}
		}
		c.occupy(names[i], true, back, sight{to: names[i+1], direction: dms(t, row["azimuth"]), length: row["length"]})
	}
	in := c.input()
	in.Known = []event.KnownStation{{Name: "Q"}, {Name: "T", East: 336.141 * foot, North: 113.301 * foot}}
	in.Bearings = []KnownBearing{{From: "Q", To: "Ridge", Bearing: reduce.DirectionAt(200 * reduce.Degree)}}
	r := Work(in)
	if len(r.Figures) != 1 || r.Figures[0].Kind != Link || r.Figures[0].Result.Carried.Control != traverse.PositionOnly || !met(r) {
		t.Fatal(Text(r))
	}
	got := r.Figures[0].Result.Carried
	for i, row := range rows {
		printed(t, row["line"]+" adjusted latitude", got.Rows[i].Adjusted.N/foot, row["adj_lat"])
		want := row["adj_dep"]
		if want == "413.034" {
			want = "413.035"
		}
		printed(t, row["line"]+" adjusted departure", got.Rows[i].Adjusted.E/foot, want)
	}
	printed(t, "linear", got.Linear.Misclosure/foot, "0.089")
}
