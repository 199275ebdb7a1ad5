package reports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// breaches lists where a value breaks a schema.
func breaches(n *node, at string, v any) (out []string) {
	if n == nil {
		return []string{at + ": not in the schema"}
	}
	kind := map[string]bool{}
	switch v := v.(type) {
	case map[string]any:
		kind["object"] = true
		for _, r := range n.Required {
			if _, ok := v[r]; !ok {
				out = append(out, at+": "+r+" is missing")
			}
		}
		for k, x := range v {
			out = append(out, breaches(n.Properties[k], at+"."+k, x)...)
		}
	case []any:
		kind["array"] = true
		for i, x := range v {
			out = append(out, breaches(n.Items, fmt.Sprintf("%s[%d]", at, i), x)...)
		}
	case string:
		kind["string"] = true
		if _, err := time.Parse(time.RFC3339, v); n.Format == "date-time" && err != nil {
			out = append(out, at+": "+err.Error())
		}
	case bool:
		kind["boolean"] = true
	case float64:
		kind["number"], kind["integer"] = true, v == math.Trunc(v)
	}
	if !kind[n.Type] {
		out = append(out, fmt.Sprintf("%s: %v is no %s", at, v, n.Type))
	}
	return out
}

// fits holds a document against the schema that is printed for it.
func fits(t *testing.T, name string, document any) map[string]any {
	t.Helper()
	var n node
	d := json.NewDecoder(strings.NewReader(Schemas()[name]))
	d.DisallowUnknownFields()
	if err := d.Decode(&n); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(document)
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	for _, b := range breaches(&n, name, v) {
		t.Error(b)
	}
	if delete(v, "books"); len(breaches(&n, name, v)) == 0 {
		t.Error("a document without its books passes")
	}
	return v
}

// place is where the marks of a made-up triangle stand, metres.
var place = map[string][2]float64{"Weir": {1000, 2000}, "Alder": {1180, 2090}, "Mast": {1060, 2210}}

// corner is the summary of an exact setup on one corner of the triangle.
func corner(n int, at, ro, target string) day.Summary {
	m := day.Summary{Setup: n, Station: at, RO: ro, Targets: []string{target}, State: "lifted", Figure: spec.Limit{Value: 10 * reduce.Arcsecond, From: "test"},
		Instrument: spec.Instrument{Name: "T-5", LeastCount: reduce.Arcsecond, Unit: reduce.DMS, Circle: faces.Zenith}}
	bearing := func(to string) float64 {
		return math.Atan2(place[to][0]-place[at][0], place[to][1]-place[at][1])
	}
	for _, to := range []string{ro, target} {
		l := day.SightLine{Target: to, SD: 1, Horizontal: math.Hypot(place[to][0]-place[at][0], place[to][1]-place[at][1])}
		l.Direction = reduce.DirectionAt(reduce.FromRadians(bearing(to) - bearing(ro)))
		m.Sights = append(m.Sights, l)
	}
	return m
}

// A triangle whose corners are known to lie where they lie comes out there: its
// coordinates are those it was made from (plane geometry), in JSON and in CSV.
func TestFigures_CoordinatesOfATriangle(t *testing.T) {
	known := func(name string) event.KnownStation {
		return event.KnownStation{Name: name, East: place[name][0], North: place[name][1]}
	}
	r := network.Work(network.Input{Settings: network.DefaultSettings(), Known: []event.KnownStation{known("Weir"), known("Alder")},
		Setups: []day.Summary{corner(1, "Weir", "Alder", "Mast"), corner(2, "Alder", "Mast", "Weir"), corner(3, "Mast", "Weir", "Alder")}})
	j := FiguresOf(Book{Book: "ab", Name: "dam", LastEvent: 9, LastHash: "cd"}, r)
	fits(t, "figure", Figures{Books: []FiguresOfBook{j}})
	if len(j.Figures) == 0 || !j.Figures[0].Met || j.Figures[0].Kind != "ring" || j.Figures[0].Angles == nil || math.Abs(*j.Figures[0].Angles.Value) > 0.001 {
		t.Fatalf("%+v", j.Figures)
	}
	for _, p := range j.Points {
		if at := place[p.Name]; math.Hypot(*p.East-at[0], *p.North-at[1]) > 0.0005 || p.Local {
			t.Errorf("%s at %.4f %.4f, want %v", p.Name, *p.East, *p.North, at)
		}
	}
	var out bytes.Buffer
	if local, err := WritePoints(&out, r.Places()); err != nil || local {
		t.Error(local, err)
	}
	again, err := network.ParseKnown(out.Bytes())
	if err != nil || len(again) != 3 {
		t.Fatalf("%v\n%s", err, out.String())
	}
	for _, k := range again {
		if at := place[k.Name]; math.Hypot(k.East-at[0], k.North-at[1]) > 0.0005 {
			t.Errorf("%+v", k)
		}
	}
}

// What a plan brings fits its schema, with every part that may be left out.
func TestPlans_FitTheSchema(t *testing.T) {
	known := func(name string) event.KnownStation {
		return event.KnownStation{Name: name, East: place[name][0], North: place[name][1]}
	}
	plan := network.Planned{Want: 0.02, Near: []event.KnownStation{known("Mast")}, Stations: []event.PlannedStation{
		{Station: "Weir", RO: "Alder", Targets: []string{"Mast"}, Rounds: 2, Distances: true}, {Station: "Alder", RO: "Mast", Targets: []string{"Weir"}, Rounds: 3}}}
	e, err := network.Expect(network.Input{Settings: network.DefaultSettings(), Known: []event.KnownStation{known("Weir"), known("Alder")}}, plan)
	if err != nil {
		t.Fatal(err)
	}
	j := PlanOf(Book{Book: "ab", Name: "dam", LastEvent: 9, LastHash: "cd"}, e)
	fits(t, "plan", Plans{Books: []PlanOfBook{j}})
	if len(j.Places) != 3 || j.Weakest != "Mast" || j.Wanted == nil || j.Setups[1].Rounds != 3 || !j.Places[0].Known || j.Places[2].Known {
		t.Errorf("%+v", j)
	}
}

// The collimation that an instrument was given is told in its history, and the
// standard deviation of its readings in its field test: s of one direction on both
// faces is that of one reading over √2, within what chance allows (the χ² quotient
// of 32 degrees of freedom lies in 0.5 … 1.7 but once in a hundred).
func TestInstrument_HistoryAndFieldTest(t *testing.T) {
	var samples []instrument.Sample
	var setups []booking.Setup
	for n := 1; n <= 4; n++ {
		o := observer.New(observer.Options{Seed: uint64(n), Targets: 4, Rounds: 3, Sigma: 2 * reduce.Arcsecond, LeastCount: reduce.Arcsecond})
		o.Collim = 12 * reduce.Arcsecond
		s, err := o.Book()
		if err != nil {
			t.Fatal(err)
		}
		s.Number = n
		samples, setups = append(samples, instrument.SampleOf(s)), append(setups, s)
		check.Judge(s)
	}
	h := HealthOf([]Book{{Name: "dam"}}, instrument.Work(samples, instrument.DefaultSettings()))
	fits(t, "health", h)
	for _, v := range h.Instruments[0].Series[0].Values {
		if math.Abs(*v.Seconds-12) > 1.5 {
			t.Errorf("collimation %+v", v)
		}
	}
	ft, err := instrument.WorkFieldTest(setups)
	if err != nil {
		t.Fatal(err)
	}
	f := FieldTestOf([]Book{{Name: "dam"}}, ft)
	fits(t, "fieldtest", f)
	if q := *f.Horizontal.S * *f.Horizontal.S / 2; f.Horizontal.Dof != 32 || !f.Horizontal.Full || q < 0.5 || q > 1.7 {
		t.Errorf("%+v: s %.2f″, ordered %.2f″", f.Horizontal, *f.Horizontal.S, math.Sqrt2)
	}
}
