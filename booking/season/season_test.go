package season_test

import (
	"testing"

	"example.org/readback/booking/season"
)

func TestRun_IsRepeatable(t *testing.T) {
	a, err := season.Run(4, 7)
	if err != nil {
		t.Fatal(err)
	}
	b, err := season.Run(4, 7)
	if err != nil {
		t.Fatal(err)
	}
	if a.String() != b.String() {
		t.Error("the same seed gave another table")
	}
	if testing.Verbose() {
		t.Log("\n" + a.String())
	}
}
