package check

import (
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// Fact of the trade (common practice, no source): a zenith-graduated reading
// between 180° and 360° on a face-left line gives away that the face was not
// changed, or that it was booked under the other face.
func TestGraduation(t *testing.T) {
	tests := []struct {
		name   string
		circle faces.Circle
		fl, fr string // empty: not read
		want   string // empty: nothing is said
	}{
		{"elevation", faces.Zenith, "69 58 30", "290 02 00", ""},
		{"depression", faces.Zenith, "92 34 35", "267 25 20", ""},
		{"four degrees of index error", faces.Zenith, "66 00 00", "286 00 00", ""},
		{"horizon circle, elevation", faces.Horizon, "20 01 30", "159 58 00", ""},
		{"horizon circle, depression", faces.Horizon, "357 25 25", "182 34 40", ""},
		{"faces exchanged", faces.Zenith, "290 02 00", "69 58 30", "one of face right"},
		{"face left alone under the other face", faces.Zenith, "290 02 00", "", "one of face right"},
		{"face right alone under the other face", faces.Zenith, "", "69 58 30", "one of face left"},
		{"horizon readings on a zenith circle", faces.Zenith, "20 01 30", "159 58 00", "graduated from the horizon"},
		{"zenith readings on a horizon circle", faces.Horizon, "69 58 30", "290 02 00", "graduated from the zenith"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			agreed := testSpec()
			agreed.Instrument.Circle = tt.circle
			b := newBench(t, agreed)
			for face, text := range map[faces.Face]string{faces.FL: tt.fl, faces.FR: tt.fr} {
				if text == "" {
					continue
				}
				a, err := reduce.ParseDMS(text)
				if err != nil {
					t.Fatal(err)
				}
				b.do(event.ReadingBooked{Slot: spec.Slot{Quantity: spec.Vertical, Face: face, Target: "Alder"}, Text: text, Value: int64(a)})
			}
			var said []string
			for _, c := range Judge(b.s).Checks {
				if c.Name == "graduation" {
					said = append(said, c.Text)
				}
			}
			if (tt.want == "") != (len(said) == 0) || tt.want != "" && !strings.Contains(said[0], tt.want) {
				t.Errorf("said %q, want %q", said, tt.want)
			}
		})
	}
}
