package sheet

import (
	"bytes"
	"strings"
	"testing"

	"example.org/readback/booking/exchange"
)

// A reading that was keyed finer than the least count stands on paper as it was
// keyed, and every reading of the setup with as many decimals.
func TestSheet_ReadingsStandAsTheyWereBooked(t *testing.T) {
	for _, tt := range []struct{ unit, first, second, want, also string }{
		{"gon", "0.1126", "226.9498", "226.9498", "0.1120"},
		{"dms", "0 05 10", "45 10 20.5", "45°10′20.5″", "0°05′10.0″"},
		{"dms", "0 05 10", "45 10 20", "45°10′20″", "0°05′10″"},
	} {
		text := "setup,station,round,face,target,quantity,reading,unit\n"
		for _, row := range []string{"FL,Spire,horizontal," + tt.first, "FL,Mast,horizontal," + tt.second} {
			text += "1,Weir,1," + row + "," + tt.unit + "\n"
		}
		if tt.unit == "gon" {
			text += "1,Weir,1,FL,Heron,horizontal,0.112,gon\n"
		}
		f, err := exchange.Open(strings.NewReader(text), int64(len(text)), "day.csv")
		if err != nil {
			t.Fatal(err)
		}
		p, err := f.Reader().Paper(0, exchange.Options{LeastCount: "5"})
		if err != nil {
			t.Fatal(err)
		}
		s, err := p.Setup()
		if err != nil {
			t.Fatal(err)
		}
		var doc bytes.Buffer
		if err := binder("day.book", s).HTML(&doc); err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{tt.want, tt.also} {
			if !strings.Contains(doc.String(), ">"+want+"<") {
				t.Errorf("%s %s: the page lacks %s", tt.unit, tt.second, want)
			}
		}
	}
}
