package check

import (
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// What the crew planned is a check: a vertical circle that was to be read and was
// not keeps the tripod, one that was passed over as blocked does not.
func TestVerdict_PlannedVerticals(t *testing.T) {
	agreed := testSpec()
	agreed.Verticals = true
	b := newBench(t, agreed)
	for _, k := range []string{
		"0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15",
		"90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15",
	} {
		b.key(k)
	}
	unread := func(name string) bool {
		return slices.ContainsFunc(Judge(b.s).Reasons(), func(r string) bool { return strings.Contains(r, "circle was not read") && strings.Contains(r, name) })
	}
	if Judge(b.s).Lift || !unread("Mast") {
		t.Fatalf("lifts without the verticals that were planned: %q", Judge(b.s).Reasons())
	}
	for _, face := range []faces.Face{faces.FL, faces.FR} {
		skip, err := b.s.Skip(spec.Slot{Quantity: spec.Vertical, Face: face, Target: "Mast"}, true, "fog")
		if err != nil {
			t.Fatal(err)
		}
		b.do(skip)
	}
	if unread("Mast") || !unread("Spire") {
		t.Errorf("after Mast was passed over: %q", Judge(b.s).Reasons())
	}
	for _, k := range []string{"92 34 35", "89 30 00", "88 00 10", "271 59 55", "270 30 05", "267 25 30"} {
		b.key(k)
	}
	if v := Judge(b.s); !v.Lift {
		t.Errorf("with the verticals read: %q", v.Reasons())
	}
}
