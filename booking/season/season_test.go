package season_test

import (
	"testing"

	"example.org/readback/booking/season"
	"example.org/readback/testdata"
)

func TestRun_IsRepeatable(t *testing.T) {
	seasons := testdata.Times(1, 4)
	a, err := season.Run(seasons, 7)
	if err != nil {
		t.Fatal(err)
	}
	b, err := season.Run(seasons, 7)
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
