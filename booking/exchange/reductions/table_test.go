package reductions

import (
	"bytes"
	"testing"

	"example.org/readback/booking/exchange"
)

// A printer that is used again leaves nothing of the setup before in the next: large
// and small ones in turn print as each does alone.
func TestPrinter_UsedAgain(t *testing.T) {
	var again Printer
	for _, name := range []string{"brackenfold-day.csv", "average-angle.csv", "S13-third-round.csv", "vertical-pair.csv", "repetition.csv", "brackenfold-slip.csv", "steep.csv"} {
		for _, s := range open(t, name, exchange.Options{}) {
			var one, other bytes.Buffer
			if err := new(Printer).Table(&one, s, true); err != nil {
				t.Fatal(err)
			}
			if err := again.Table(&other, s, true); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(one.Bytes(), other.Bytes()) {
				t.Errorf("%s, setup %d: alone\n%s\nbehind others\n%s", name, s.Number, one.Bytes(), other.Bytes())
			}
		}
	}
}
