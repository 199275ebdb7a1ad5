package traverse

import (
	"os"
	"testing"

	"example.org/readback/testdata"
)

// TestMain holds the table of the largest differences to printed figures.
func TestMain(m *testing.M) {
	os.Exit(testdata.Differences(m, "figure-differences.md", func(string) string { return "" }))
}

// agrees holds a figure against a printed one of a table.
func agrees(t *testing.T, table, quantity, where string, got float64, want string) {
	t.Helper()
	p := testdata.Printed{Name: table + ".csv"}
	testdata.Near(t, where+" "+quantity, got, testdata.Num(t, want), testdata.HalfUnit(want))
	p.Note(quantity, got-testdata.Num(t, want))
}
