package exchange

import (
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// paperOf reads rows "round face target reading" of one setup.
func paperOf(t *testing.T, rows ...string) Paper {
	t.Helper()
	var b strings.Builder
	b.WriteString("setup,station,round,face,target,quantity,reading,unit\n")
	for _, r := range rows {
		cells := strings.SplitN(r, " ", 4)
		b.WriteString("1,Weir," + strings.Join(cells[:3], ",") + ",horizontal," + cells[3] + ",dms\n")
	}
	f, err := readAll(strings.NewReader(b.String()), "a test")
	if err != nil {
		t.Fatal(err)
	}
	papers, err := f.papers(Options{})
	if err != nil {
		t.Fatal(err)
	}
	return papers[0]
}

// A target hidden in the first round, or on face left, still comes where the
// circle has it: the closing error is spread over the round in that order.
func TestNames_Clockwise(t *testing.T) {
	want := []string{"Alder", "Quarry", "Mast"}
	for name, rows := range map[string][]string{
		"first seen on face right": {"1 FL Spire 0 00 00", "1 FL Mast 200 00 00", "1 FR Mast 20 00 00", "1 FR Quarry 270 00 00", "1 FR Alder 220 00 00", "1 FR Spire 180 00 00"},
		"first seen in round 2, the one before it hidden there": {"1 FL Spire 0 00 00", "1 FL Alder 40 00 00", "1 FL Mast 200 00 00",
			"2 FL Spire 90 00 00", "2 FL Quarry 180 00 00", "2 FL Mast 290 00 00"},
		"first seen in round 2, where the reference object is hidden": {"1 FL Spire 0 00 00", "1 FL Alder 40 00 00", "1 FR Mast 20 00 00", "1 FR Spire 180 00 00",
			"2 FL Quarry 180 00 00", "2 FL Mast 290 00 00", "3 FL Spire 180 00 00", "3 FL Quarry 270 00 00"},
	} {
		if p := paperOf(t, rows...); p.Spec.RO != "Spire" || !slices.Equal(p.Spec.Targets, want) {
			t.Errorf("%s: RO %s, targets %v", name, p.Spec.RO, p.Spec.Targets)
		}
	}
}

// A face-right half with one target cannot tell which sight of the reference
// object closed it: it was listed as the others of the setup were.
func TestClosing_ListedAsTheOtherRounds(t *testing.T) {
	p := paperOf(t,
		"1 FL Spire 0 00 00", "1 FL Alder 40 00 00", "1 FL Mast 200 00 00", "1 FL Spire 0 00 05",
		"1 FR Spire 180 00 00", "1 FR Alder 220 00 00", "1 FR Mast 20 00 00", "1 FR Spire 180 00 05",
		"2 FL Spire 90 00 00", "2 FL Mast 290 00 00", "2 FL Spire 90 00 05",
		"2 FR Spire 270 00 00", "2 FR Mast 110 00 00", "2 FR Spire 270 00 05")
	s, err := p.Setup()
	if err != nil {
		t.Fatal(err)
	}
	r, ok := s.At(spec.Slot{Quantity: spec.Horizontal, Round: 2, Face: faces.FR, Target: "Spire", Closing: true})
	if !ok || r.Angle() != 270*reduce.Degree+5*reduce.Arcsecond {
		t.Errorf("closing sight of round 2 on face right: %v", r.Angle())
	}
}
