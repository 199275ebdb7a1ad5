package traverse

import (
	"example.org/readback/testdata"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
)

const differencesFile = "../../testdata/published/figure-differences.md"

// A difference is the largest one found between our figures and printed ones.
type difference struct {
	fixtures []string
	count    int
	largest  float64
}

// differences are kept by quantity, over the whole run.
var differences = map[string]*difference{}

// agrees holds a figure against a printed one, to half a unit of its last digit,
// and keeps the largest difference of the quantity.
func agrees(t *testing.T, fixture, quantity, where string, got float64, want string) {
	t.Helper()
	printed(t, where+" "+quantity, got, want)
	d := differences[quantity]
	if d == nil {
		d = &difference{}
		differences[quantity] = d
	}
	if !slices.Contains(d.fixtures, fixture) {
		d.fixtures = append(d.fixtures, fixture)
	}
	d.count++
	d.largest = max(d.largest, math.Abs(got-num(t, want)))
}

// TestMain holds the table of largest differences against the committed one when
// every test was run.
func TestMain(m *testing.M) {
	code := m.Run()
	whole := flag.Lookup("test.run").Value.String() == "" && flag.Lookup("test.skip").Value.String() == "" &&
		flag.Lookup("test.bench").Value.String() == "" && flag.Lookup("test.count").Value.String() == "1" && flag.Lookup("test.list").Value.String() == ""
	if code == 0 && whole {
		code = checkDifferences()
	}
	os.Exit(code)
}

func checkDifferences() int {
	var lines []string
	for q, d := range differences {
		slices.Sort(d.fixtures)
		size := "0"
		if d.largest > 1e-6 {
			size = fmt.Sprintf("%.2g", d.largest)
		}
		lines = append(lines, fmt.Sprintf("| %s | %s | %d | %s |\n", q, strings.Join(d.fixtures, ", "), d.count, size))
	}
	slices.Sort(lines)
	table := "| quantity | fixture | compared | largest difference |\n|---|---|---|---|\n" + strings.Join(lines, "")
	if *testdata.Update {
		if err := os.WriteFile(differencesFile, []byte(table), 0o644); err != nil {
			fmt.Println(err)
			return 1
		}
		return 0
	}
	was, err := os.ReadFile(differencesFile)
	if err != nil || string(was) != table {
		fmt.Printf("the table of largest differences has changed; run the tests with -update and look at what changed\n%s", table)
		return 1
	}
	return 0
}
