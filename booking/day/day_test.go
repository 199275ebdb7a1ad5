package day_test

import (
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// 2c = FL − FR − 180° and e = (FL + FR − 360°)/2 (as in testdata/published/F5.txt and
// F27.txt; worked by hand).
func TestCheckInstrument_OnePairOnBothFaces(t *testing.T) {
	i := spec.FirstSpec().Instrument
	i.Name = "T1"
	c, err := day.CheckInstrument(i, [3]string{day.InOrder, "", " 1 mm off, adjusted "}, [4]string{"12 00 20", "192 00 05", "88 10 00", "271 50 10"}, "Ines Holm")
	if err != nil {
		t.Fatal(err)
	}
	twoC, ok := c.TwoC()
	index, both := c.Index()
	if !ok || !both || twoC != 15*reduce.Arcsecond || index != 5*reduce.Arcsecond {
		t.Errorf("2c %v, index error %v", twoC, index)
	}
	if w := c.Words(); w != "bubble in order, heights 1 mm off, adjusted, 2c +15″, index error +5″" {
		t.Error(w)
	}
	for name, texts := range map[string][4]string{
		"one face":       {"12 00 20", "", "", ""},
		"no pair":        {"12 00 20", "12 00 20", "", ""},
		"horizon circle": {"", "", "1 50 00", "178 10 00"},
		"no reading":     {"twelve", "", "", ""},
		"nothing":        {},
	} {
		if _, err := day.CheckInstrument(i, [3]string{}, texts, "Ines Holm"); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}
