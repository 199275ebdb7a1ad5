package event_test

import (
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/slope"
	"example.org/readback/testdata"
)

// wireDir holds one annotated record of each event as it is written. A pin is
// never rewritten: where it fails, old books would read differently, and another
// way is needed (a new optional field, a new version, a new kind).
const wireDir = "../../testdata/wire"

// wired are the events pinned, by the name of their file. Together the records
// of a kind set every field it has.
var wired = []struct {
	name  string
	event event.Event
}{
	{"01-book-opened", event.BookOpened{Program: "v0.9.1", Drill: true, Title: "Brackenfold"}},
	{"02-setup-opened", event.SetupOpened{Spec: wiredSpec()}},
	{"02-setup-opened-least", event.SetupOpened{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 1}}},
	{"02-setup-opened-making", event.SetupOpened{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 1, Making: wiredMaking()}}},
	{"02-setup-opened-air", event.SetupOpened{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 1, Making: &spec.DistanceMaking{AirNoted: true}}}},
	{"02-setup-opened-before", event.SetupOpened{Spec: wiredBefore()}},
	{"14-setup-amended-air", event.SetupAmended{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2, Making: &spec.DistanceMaking{AirNoted: true}}, By: "Tam Okoro"}},
	{"14-setup-amended-before", event.SetupAmended{Spec: wiredBefore(), By: "Tam Okoro"}},
	{"02-setup-opened-lengths", event.SetupOpened{Spec: wiredLengths()}},
	{"14-setup-amended-lengths", event.SetupAmended{Spec: wiredLengths(), By: "Tam Okoro"}},
	{"20-instrument-checked-sigma", event.InstrumentChecked{Instrument: wiredBefore().Instrument, By: "Ines Holm"}},
	{"03-reading-booked", event.ReadingBooked{
		Slot: spec.Slot{Quantity: spec.Horizontal, Round: 2, Face: faces.FR, Target: "Spire", Closing: true},
		Text: "270 05 15", Value: int64(270*reduce.Degree + 5*reduce.Arcminute + 15*reduce.Arcsecond), Confirmed: true,
		Findings: []event.Finding{{Code: "slip", Severity: event.Stop, Text: "A whole degree off."}},
		By:       "Tam Okoro", ReadAt: "2026-05-04T08:31:00Z", Remark: "haze <over> the water",
	}},
	{"03-reading-booked-distance", event.ReadingBooked{
		Slot: spec.Slot{Quantity: spec.Slope, Target: "Alder"}, Text: "120.5", Value: int64(1205 * lengths.Metre / 10), By: "Tam Okoro"}},
	{"04-reading-struck", event.ReadingStruck{Seq: 12, Reason: "wrong target", By: "Tam Okoro"}},
	{"05-pointing-skipped", event.PointingSkipped{
		Slot: spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: "Mast"}, Blocked: true, Reason: "behind the trees", By: "Tam Okoro"}},
	{"05-pointing-skipped-for-now", event.PointingSkipped{
		Slot:   spec.Slot{Quantity: spec.Horizontal, Round: 1, Face: faces.FR, Target: "Spire", Closing: true},
		Reason: "hidden", By: "Tam Okoro"}},
	{"06-round-voided", event.RoundVoided{Round: 1,
		From:   spec.Slot{Quantity: spec.Horizontal, Round: 1, Face: faces.FL, Target: "Spire", Closing: true},
		Reason: "the tripod was knocked", By: "Tam Okoro"}},
	{"07-round-left-out", event.RoundLeftOut{Round: 3, Reason: "does not agree", By: "Tam Okoro"}},
	{"08-round-taken-back", event.RoundTakenBack{Round: 3, Reason: "it was round 2", By: "Tam Okoro"}},
	{"09-remark-made", event.RemarkMade{Seq: 9, Text: "wind", By: "Tam Okoro"}},
	{"10-round-added", event.RoundAdded{Reason: "rounds disagree", By: "Tam Okoro"}},
	{"11-lifted-rule", event.Lifted{Verdict: "lift", Rule: 1, By: "Tam Okoro"}},
	{"11-lifted", event.Lifted{Verdict: "hold", Reasons: []string{"Rounds 1 and 2 differ."}, Despite: "thunder", By: "Tam Okoro"}},
	{"12-known-loaded", event.KnownLoaded{File: "known.csv",
		Stations: []event.KnownStation{{Name: "Weir", East: 1000.25, North: 5000.5, Elev: new(96.125)}},
		Bearings: []event.KnownBearing{{From: "Weir", To: "Spire", Bearing: reduce.DirectionAt(12 * reduce.Degree)}}, By: "Tam Okoro"}},
	{"03-reading-booked-again", event.ReadingBooked{
		Slot: spec.Slot{Quantity: spec.Slope, Target: "Alder", Repeat: 2}, Text: "120.502", Value: int64(120502 * lengths.Millimetre), By: "Tam Okoro", AfterLift: true}},
	{"04-reading-struck-after", event.ReadingStruck{Seq: 12, Reason: "wrong target", By: "Tam Okoro", AfterLift: true}},
	{"05-pointing-skipped-again", event.PointingSkipped{
		Slot: spec.Slot{Quantity: spec.Slope, Target: "Mast", Repeat: 1}, Blocked: true, Reason: "rain", By: "Tam Okoro"}},
	{"06-round-voided-again", event.RoundVoided{Round: 1,
		From: spec.Slot{Quantity: spec.Horizontal, Round: 1, Face: faces.FL, Target: "Alder", Repeat: 1}, Reason: "knocked", By: "Tam Okoro"}},
	{"07-round-left-out-after", event.RoundLeftOut{Round: 3, Reason: "does not agree", By: "Tam Okoro", AfterLift: true}},
	{"08-round-taken-back-after", event.RoundTakenBack{Round: 3, Reason: "it was round 2", By: "Tam Okoro", AfterLift: true}},
	{"02-setup-opened-quantities", event.SetupOpened{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2,
		NoVertical: []string{"Alder"}, NoDistance: []string{"Spire"}}}},
	{"02-setup-opened-order", event.SetupOpened{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2, Order: spec.ByTarget}}},
	{"14-setup-amended-order", event.SetupAmended{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2, Order: spec.ByTarget}, By: "Tam Okoro"}},
	{"02-setup-opened-more-ros", event.SetupOpened{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Mast"}, Rounds: 2, CloseHalves: true, MoreROs: []string{"Mast"}}}},
	{"14-setup-amended-more-ros", event.SetupAmended{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Mast"}, Rounds: 2, CloseHalves: true, MoreROs: []string{"Mast"}}, By: "Tam Okoro"}},
	{"18-plan-loaded-more-ros", event.PlanLoaded{Stations: []event.PlannedStation{{Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Mast"}, MoreROs: []string{"Mast"}}}}},
	{"18-plan-loaded-order", event.PlanLoaded{Stations: []event.PlannedStation{{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Order: new(spec.ByTarget)}}}},
	{"02-setup-opened-repetition", event.SetupOpened{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2, Order: spec.ByRepetition, Repetitions: 6}}},
	{"14-setup-amended-repetition", event.SetupAmended{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2, Order: spec.ByRepetition, Repetitions: 6}, By: "Tam Okoro"}},
	{"18-plan-loaded-repetition", event.PlanLoaded{Stations: []event.PlannedStation{{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Order: new(spec.ByRepetition), Repetitions: 6}}}},
	{"03-reading-booked-accumulated", event.ReadingBooked{Slot: spec.Slot{Quantity: spec.Accumulated, Round: 1, Face: faces.FR, Target: "Alder"}, Text: "2720228", Value: 980_548_000_000, By: "Tam Okoro"}},
	{"14-setup-amended-making", event.SetupAmended{Spec: spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2, Making: wiredMaking()}, By: "Tam Okoro"}},
	{"14-setup-amended", event.SetupAmended{Spec: amendedSpec(), Renamed: []spec.Rename{{From: "Spier", To: "Spire"}}, Reason: "misspelt", By: "Tam Okoro", AfterLift: true}},
	{"15-setup-struck", event.SetupStruck{Reason: "opened by mistake", By: "Tam Okoro"}},
	{"16-reading-left-out", event.ReadingLeftOut{Seq: 31, Reason: "a metre short of what D measured", By: "Tam Okoro", AfterLift: true}},
	{"17-reading-taken-back", event.ReadingTakenBack{Seq: 31, Reason: "it was D", By: "Tam Okoro", AfterLift: true}},
	{"18-plan-loaded", event.PlanLoaded{File: "monday.csv", By: "Ada Brandt", Stations: []event.PlannedStation{{
		Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Gannet"}, Rounds: 2, Verticals: true, Distances: true,
		NoVertical: []string{"Alder"}, NoDistance: []string{"Spire"}, Day: "2026-05-04"}}}},
	{"20-instrument-checked", event.InstrumentChecked{Instrument: wiredSpec().Instrument, Bubble: "in order", Plummet: "1 mm off, adjusted", Heights: "in order",
		HorizontalFL: &event.Keyed{Text: "12 00 10", Value: 12*reduce.Degree + 10*reduce.Arcsecond}, HorizontalFR: &event.Keyed{Text: "192 00 05", Value: 192*reduce.Degree + 5*reduce.Arcsecond},
		VerticalFL: &event.Keyed{Text: "88 10 00", Value: 88*reduce.Degree + 10*reduce.Arcminute}, VerticalFR: &event.Keyed{Text: "271 50 10", Value: 271*reduce.Degree + 50*reduce.Arcminute + 10*reduce.Arcsecond},
		By: "Ines Holm"}},
	{"21-weather-noted", event.WeatherNoted{Text: "haze", Celsius: new(18.5), Hectopascal: new(1006.0), By: "Tam Okoro"}},
	{"22-handed-over", event.HandedOver{Text: "The peg at Kiln is loose.", By: "Tam Okoro"}},
	{"23-file-named", event.FileNamed{Name: "weir.jpg", Bytes: 20480, SHA256: "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", Text: "the mark from the north", By: "Tam Okoro"}},
	{"24-packed-up", event.PackedUp{Done: []string{"A rod stands beside the mark"}, Left: []string{"Rods come down"}, Text: "the gate is locked", By: "Tam Okoro"}},
	{"25-figures-set", event.FiguresSet{Values: []event.FigureValue{{Name: "centring", Value: new(0.001)}, {Name: "least-ratio"}}, By: "Tam Okoro"}},
	{"26-centre-noted", event.CentreNoted{Setup: 3, Target: "Spire", Distance: 5800 * lengths.Millimetre, Angle: 86*reduce.Degree + 40*reduce.Arcminute, By: "Tam Okoro"}},
	{"27-levels-loaded", event.LevelsLoaded{File: "levels.csv", Rises: []event.LevelledRise{{From: "Weir", To: "Alder", Rise: 1234 * lengths.Millimetre, SD: 2 * lengths.Millimetre}}, By: "Ada Brandt"}},
	{"19-book-described", event.BookDescribed{Job: "Brackenfold dam, epoch 7", Client: "Brackenfold Water Board", Place: "Brackenfold", By: "Ada Brandt"}},
	{"28-half-asked", event.HalfAsked{Round: 2, Face: faces.FR, Repeat: 1, By: "Tam Okoro"}},
	{"13-copy-set", event.CopySet{Dir: "/media/card", By: "Tam Okoro"}},
}

// wiredLengths sets what the book had set of plausible lengths.
func wiredLengths() spec.Spec {
	s := wiredBefore()
	set := spec.DefaultLengths()
	set.MostInstrument = 1900 * lengths.Millimetre
	s.Before.Lengths = &set
	return s
}

// wiredBefore sets what the book knew when a setup was opened, and σ of altitudes.
func wiredBefore() spec.Spec {
	return spec.Spec{Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Rounds: 2,
		Instrument: spec.Instrument{Name: "T-5", LeastCount: 5 * reduce.Arcsecond, Unit: reduce.DMS, SigmaUpright: 4 * reduce.Arcsecond},
		Before:     spec.Before{S: 2.25, Dof: 24, Setups: 6, Altitudes: map[string]reduce.Angle{"Alder": 3 * reduce.Degree}}}
}

// wiredSpec sets every field of a spec.
func wiredSpec() spec.Spec {
	lc := 5 * reduce.Arcsecond
	return spec.Spec{
		Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Quarry"}, HeightsOnly: []string{"Sill"},
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: lc, Unit: reduce.DMS, Sigma: 2 * reduce.Arcsecond,
			Circle: faces.Zenith, DistanceSD: 2 * lengths.Millimetre, DistancePPM: 2.5},
		Observer: "Ines Holm", Booker: "Tam Okoro", Weather: "overcast", Rounds: 2, CloseHalves: true,
		ClosingRule: faces.ClosingMean, Plan: spec.SpreadPlan, Limits: pinnedLimits(lc), Verticals: true, Distances: true,
		LengthUnit: lengths.Metres, Refraction: 0.13, KeyedAfterwards: &spec.KeyedAfterwards{By: "Ada Brandt", File: "weir.csv"},
	}
}

func wiredMaking() *spec.DistanceMaking {
	height := 412 * lengths.Metre
	return &spec.DistanceMaking{Air: &slope.Air{Celsius: 18, Pressure: 985, Humidity: 60}, Carrier: &spec.Carrier{Micrometres: 0.85, Refractivity: 281.8},
		PPMSet: 12, Prism: -30 * lengths.Millimetre, SeaLevel: &height, Scale: 0.99985}
}

// amendedSpec sets every field of a spec as well.
func amendedSpec() spec.Spec {
	s := wiredSpec()
	s.NoVertical, s.NoDistance = []string{"Quarry"}, []string{"Spire"}
	return s
}

func TestWire_EventsAreWrittenAsPinned(t *testing.T) {
	for _, w := range wired {
		kind, version, body, err := event.Encode(w.event)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(wireDir, w.name+".hex")
		text, err := os.ReadFile(path)
		if errors.Is(err, os.ErrNotExist) && *testdata.Update {
			text = []byte(annotate(kind, version, body))
			err = os.WriteFile(path, text, 0o644)
		}
		if err != nil {
			t.Fatalf("%v: a new event is pinned with -update", err)
		}
		k, v, pinned := readPin(t, path, string(text))
		if k != kind || v != version || string(pinned) != string(body) {
			t.Errorf("%s is no longer written as it was: kind %d, version %d\n%s\nwas kind %d, version %d\n%s", w.name, kind, version, body, k, v, pinned)
		}
		back, err := event.Decode(k, v, pinned)
		if err != nil || !reflect.DeepEqual(back, w.event) {
			t.Errorf("%s reads as\n%+v (%v)\nwas\n%+v", w.name, back, err, w.event)
		}
	}
}

// Every kind that the codec reads is pinned with all of its fields, and every pin
// belongs to a record above.
func TestWire_NothingIsLeftUnpinned(t *testing.T) {
	records := map[event.Kind][]reflect.Value{}
	for _, w := range wired {
		kind, _, _, err := event.Encode(w.event)
		if err != nil {
			t.Fatal(err)
		}
		records[kind] = append(records[kind], reflect.ValueOf(w.event))
		if _, err := os.Stat(filepath.Join(wireDir, w.name+".hex")); err != nil {
			t.Error(err)
		}
	}
	for kind := event.Kind(0); kind < 1000; kind++ {
		_, err := event.Decode(kind, event.EventVersion, []byte("{}"))
		known := !errors.Is(err, event.ErrNewerEvent)
		if known != (len(records[kind]) > 0) {
			t.Errorf("kind %d: the codec reads it: %v; records pinned: %d", kind, known, len(records[kind]))
		}
		if len(records[kind]) > 0 {
			for _, f := range unset(records[kind], records[kind][0].Type().Name()) {
				t.Errorf("no record of kind %d sets %s: add one, and leave the old ones as they are", kind, f)
			}
		}
	}
	files, err := filepath.Glob(filepath.Join(wireDir, "*.hex"))
	if err != nil || len(files) != len(wired) {
		t.Errorf("%d files in %s for %d records (%v)", len(files), wireDir, len(wired), err)
	}
}

// unset names the fields that are empty in all of the values.
func unset(vs []reflect.Value, at string) []string {
	var all []reflect.Value // what is not empty, pointers and lists opened
	for _, v := range vs {
		for v.Kind() == reflect.Pointer && !v.IsNil() {
			v = v.Elem()
		}
		if v.Kind() == reflect.Slice {
			for i := range v.Len() {
				all = append(all, v.Index(i))
			}
		} else if v.IsValid() && !v.IsZero() {
			all = append(all, v)
		}
	}
	if len(all) == 0 {
		return []string{at}
	}
	if all[0].Kind() != reflect.Struct {
		return nil
	}
	var out []string
	for i := range all[0].NumField() {
		var fields []reflect.Value
		for _, v := range all {
			fields = append(fields, v.Field(i))
		}
		out = append(out, unset(fields, at+"."+all[0].Type().Field(i).Name)...)
	}
	return out
}

// annotate writes a pin: the bytes in hex, what they say beside them.
func annotate(kind event.Kind, version uint8, body []byte) string {
	var b strings.Builder
	fmt.Fprintf(&b, "kind %d version %d\n", kind, version)
	for len(body) > 0 {
		n := min(24, len(body))
		says := []byte(strings.Clone(string(body[:n])))
		for i, c := range says {
			if c < ' ' || c > '~' {
				says[i] = '.'
			}
		}
		fmt.Fprintf(&b, "%-48x | %s\n", body[:n], says)
		body = body[n:]
	}
	return b.String()
}

// readPin is the inverse of annotate.
func readPin(t *testing.T, path, text string) (kind event.Kind, version uint8, body []byte) {
	t.Helper()
	head, rest, _ := strings.Cut(text, "\n")
	if _, err := fmt.Sscanf(head, "kind %d version %d", &kind, &version); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	for line := range strings.Lines(rest) {
		digits, _, _ := strings.Cut(line, "|")
		part, err := hex.DecodeString(strings.TrimSpace(digits))
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		body = append(body, part...)
	}
	return kind, version, body
}

// pinnedLimits are the defaults of the first edition, which the pins hold.
func pinnedLimits(leastCount reduce.Angle) spec.Limits {
	l := spec.DefaultLimits(leastCount)
	l.Index.Value = l.TwoC.Value
	return l
}
