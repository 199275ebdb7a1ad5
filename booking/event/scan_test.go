package event

import (
	"encoding/json"
	"reflect"
	"testing"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
	"pgregory.net/rapid"
)

// What scanReading reads is what encoding/json reads, to the field. Rapid prints
// the seed of a failure.
func TestScanReading_AsJSON(t *testing.T) {
	scanned := 0
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{"", "Spire", "0051020", "Tam Okoro", "Pier 7", "(]{}:,'", "Weir", "0 12 25", "a\"b", `a\b`, "°", "<a>", "\n", "\x7f"})
		e := ReadingBooked{
			Slot: spec.Slot{Quantity: spec.Quantity(rapid.Byte().Draw(t, "quantity")), Round: rapid.IntRange(0, 120).Draw(t, "round"),
				Face: faces.Face(rapid.Byte().Draw(t, "face")), Target: text.Draw(t, "target"), Closing: rapid.Bool().Draw(t, "closing")},
			Text: text.Draw(t, "text"), Value: rapid.Int64Min(-9).Draw(t, "value"), Confirmed: rapid.Bool().Draw(t, "confirmed"),
			By: text.Draw(t, "by"), ReadAt: text.Draw(t, "read at"), Remark: text.Draw(t, "remark"),
		}
		if rapid.IntRange(0, 9).Draw(t, "finding") == 0 {
			e.Findings = []Finding{{Code: "2c", Severity: Warn, Text: "x"}}
		}
		body, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		if got, ok := scanReading(body); ok {
			scanned++
			var want ReadingBooked
			if err := json.Unmarshal(body, &want); err != nil || !reflect.DeepEqual(got, want) {
				t.Fatalf("%s\nscanned %+v\nwant    %+v", body, got, want)
			}
		}
	})
	t.Logf("%d were scanned", scanned)
	plain, err := json.Marshal(ReadingBooked{Slot: spec.Slot{Quantity: spec.Horizontal, Round: 1, Face: faces.FL, Target: "Spire"}, Text: "0 12 25", Value: 745_000_000, By: "Tam Okoro"})
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := scanReading(plain); !ok {
		t.Errorf("a plain reading is not scanned: %s", plain)
	}
}

func FuzzScanReading(f *testing.F) {
	f.Add([]byte(`{"slot":{"quantity":1,"round":2,"face":1,"target":"Spire","closing":true},"text":"0051020","value":18620000000,"confirmed":true,"by":"Tam Okoro","read_at":"2026-05-04T08:00:00Z","remark":"haze"}`))
	f.Add([]byte(`{"slot":{"quantity":256},"text":"","value":00,"by":""}`))
	f.Fuzz(func(t *testing.T, body []byte) {
		got, ok := scanReading(body)
		if !ok {
			return
		}
		var want ReadingBooked
		if err := json.Unmarshal(body, &want); err != nil || !reflect.DeepEqual(got, want) {
			t.Fatalf("scanned %+v\nwant %+v, %v", got, want, err)
		}
	})
}
