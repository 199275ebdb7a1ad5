package network

import (
	"errors"
	"strings"
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

const knownList = "name,E,N,H\nWeir,1000.000,2000.000,101.25\r\nAlder,1100,2000,\n\"Spire, church\",1000,2100.5,-3\n"

func TestParseKnown_List(t *testing.T) {
	ks, err := ParseKnown([]byte("\uFEFF" + knownList))
	if err != nil {
		t.Fatal(err)
	}
	if len(ks) != 3 || ks[0].East != 1000 || *ks[0].Elev != 101.25 || ks[1].Elev != nil || ks[2].Name != "Spire, church" || *ks[2].Elev != -3 {
		t.Errorf("%+v", ks)
	}
	if ks, err = ParseKnown([]byte("N,name,E\n2,A,1\n")); err != nil || ks[0].North != 2 || ks[0].East != 1 {
		t.Errorf("free order: %+v %v", ks, err)
	}
}

func TestParseKnown_ErrorsSayWhere(t *testing.T) {
	for _, c := range []struct {
		in           string
		line, column int
		word         string
	}{
		{"", 1, 1, "empty"},
		{"name;E;N\n", 1, 1, "commas"},
		{"name,E,N,Q\n", 1, 10, "unknown column"},
		{"name,E,N,E\n", 1, 10, "twice"},
		{"name,E\nA,1\n", 1, 1, "N is missing"},
		{"name,E,N\nA,1,2\nA,3,4\n", 3, 1, "line 2"},
		{"name,E,N\nA,1.5e3,2\n", 2, 3, "not a number"},
		{"name,E,N\nA,NaN,2\n", 2, 3, "not a number"},
		{"name,E,N\nA,,2\n", 2, 3, "E is empty"},
		{"name,E,N,H\nA,1,2,x\n", 2, 7, "not a number"},
		{"name,E,N\n ,1,2\n", 2, 1, "no name"},
		{"name,E,N\nA,\"1,5\",2\n", 2, 3, "not a number"},
		{"name,E,N\nA,1\n", 2, 1, "not as many cells"},
		{"name,E,N\n\"A\nB\",1,2\n", 2, 1, "on one line"},
		{"name,E,N\n", 1, 1, "no row below the header"},
		{"name,E,N\nA,1,\"2\n", 2, 8, "quotation mark"},
		{"name,E,N\nA,1,\xff\n", 1, 1, "UTF-8"},
	} {
		_, err := ParseKnown([]byte(c.in))
		var r *knownError
		if !errors.As(err, &r) {
			t.Errorf("%q: %v", c.in, err)
			continue
		}
		if r.Line != c.line || r.Column != c.column || !strings.Contains(r.What, c.word) {
			t.Errorf("%q: %v, expected line %d, column %d, %q", c.in, err, c.line, c.column, c.word)
		}
	}
}

func FuzzParseKnown(f *testing.F) {
	f.Add([]byte(knownList))
	f.Fuzz(func(t *testing.T, data []byte) {
		ks, err := ParseKnown(data)
		var r *knownError
		if err != nil && !errors.As(err, &r) {
			t.Fatalf("%T %v", err, err)
		}
		for _, k := range ks {
			if k.Name == "" {
				t.Fatal("a station without a name")
			}
		}
	})
}

func TestKnown_DirectionFromCoordinates(t *testing.T) {
	ks, err := ParseKnown([]byte("name,E,N\nWeir,0,0\nAlder,0,200\nMast,-100,0\n"))
	if err != nil {
		t.Fatal(err)
	}
	d, sd, ok := knownDirection(ks, 0.02, "Weir", "Alder", "Mast")
	if !ok || d.Angle() != 270*reduce.Degree || sd < 40 || sd > 50 {
		t.Errorf("%v %v %v", d, sd, ok)
	}
	if _, _, ok := knownDirection(ks, 0.02, "Weir", "Alder", "Quarry"); ok {
		t.Error("Quarry is not known")
	}
	earlier := []day.Summary{{Station: "Weir", Instrument: spec.Instrument{LeastCount: 5 * reduce.Arcsecond},
		Sights: []day.SightLine{{Target: "Spire"}, {Target: "Alder", Direction: reduce.DirectionAt(350 * reduce.Degree), SD: 2}, {Target: "Quarry", Direction: reduce.DirectionAt(20 * reduce.Degree), SD: 1}}}}
	k := Known(ks, DefaultSettings(), earlier, "Weir", "Alder")
	if d, sd, ok := k.Direction("Quarry"); !ok || d.Angle() != 30*reduce.Degree || sd != 5 {
		t.Errorf("from an earlier setup: %v %v %v", d, sd, ok)
	}
	if d, _, ok := k.Direction("Mast"); !ok || d.Angle() != 270*reduce.Degree {
		t.Errorf("from coordinates: %v %v", d, ok)
	}
}
