package reduce

import (
	"bytes"
	"example.org/readback/testdata"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"testing"
)

// difference is the largest one found between our figures and printed ones.
type difference struct {
	fixtures []string
	count    int
	largest  float64
}

// differences are kept by quantity, over the whole run.
var differences = map[string]*difference{}

// noteDifference keeps the largest difference of a quantity for the README.
func noteDifference(fixture, quantity string, d float64) {
	fixture, _, _ = strings.Cut(fixture, " ")
	x := differences[quantity]
	if x == nil {
		x = &difference{}
		differences[quantity] = x
	}
	if !slices.Contains(x.fixtures, fixture) {
		x.fixtures = append(x.fixtures, fixture)
	}
	x.count++
	x.largest = max(x.largest, math.Abs(d))
}

// unitOf names the unit a quantity's difference is in; statistics and limits have
// none.
func unitOf(quantity string) string {
	for _, u := range []struct{ unit, words string }{
		{" %", "gradient"}, {" gon", "direction in gon,gon"}, {" mil", "horizontal angle in mils"},
		{" m or ft", "curvature,curvature and refraction,height,height difference,reciprocal height difference,horizontal distance,rise,slope less horizontal,standard deviation of HD"},
		{"″²", "sum of squares,pooled sum of squares,pooled variance"},
		{"", "1/F,F,Student's t,chi square,chi square limit,chi square statistic,factor on the stated value,k from a pair,non-centrality,normal deviate,normal limit,pooled degrees of freedom,redundancy number,tau limit,tau statistic"},
	} {
		if slices.Contains(strings.Split(u.words, ","), quantity) {
			return u.unit
		}
	}
	return "″"
}

// TestMain compares the table of largest differences with the committed one when
// every test was run.
func TestMain(m *testing.M) {
	code := m.Run()
	if code == 0 && wholeRun() {
		code = checkDifferences()
	}
	os.Exit(code)
}

// wholeRun tells whether every test was run, and once: the table counts what was
// compared.
func wholeRun() bool {
	if flag.Lookup("test.count").Value.String() != "1" {
		return false
	}
	for _, name := range []string{"test.run", "test.skip", "test.bench", "test.fuzz", "test.list"} {
		if flag.Lookup(name).Value.String() != "" {
			return false
		}
	}
	return true
}

func checkDifferences() int {
	path := filepath.Join("..", "testdata", "published", "differences.md")
	table := differenceTable()
	if *testdata.Update {
		if err := os.WriteFile(path, table, 0o644); err != nil {
			fmt.Println(err)
			return 1
		}
	}
	old, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(old, table) {
		fmt.Printf("testdata/published/differences.md is not current (%v): go test ./reduce -update writes it\n%s", err, table)
		return 1
	}
	return 0
}

func differenceTable() []byte {
	var quantities []string
	used := map[string]bool{}
	for q, d := range differences {
		quantities = append(quantities, q)
		for _, f := range d.fixtures {
			used[f] = true
		}
	}
	sort.Strings(quantities)
	var b bytes.Buffer
	b.WriteString("| quantity | figures of | compared | largest difference |\n|---|---|---|---|\n")
	for _, q := range quantities {
		d := differences[q]
		sortFixtures(d.fixtures)
		fmt.Fprintf(&b, "| %s | %s | %d | %s |\n", q, strings.Join(d.fixtures, ", "), d.count, shortNumber(d.largest, unitOf(q)))
	}
	b.WriteString("\n| file of testdata/published | source |\n|---|---|\n")
	var files []string
	for f := range used {
		files = append(files, f)
	}
	sortFixtures(files)
	for _, f := range files {
		fmt.Fprintf(&b, "| %s.txt | %s |\n", f, sourceOf(f))
	}
	return b.Bytes()
}

// sortFixtures sorts F5 before F16.
func sortFixtures(names []string) {
	slices.SortFunc(names, func(a, b string) int {
		if a[0] != b[0] {
			return int(a[0]) - int(b[0])
		}
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return strings.Compare(a, b)
	})
}

func sourceOf(name string) string {
	b, err := os.ReadFile(filepath.Join("..", "testdata", "published", name+".txt"))
	if err != nil {
		return err.Error()
	}
	line, _, _ := strings.Cut(string(b), "\n")
	return strings.TrimSpace(strings.TrimPrefix(line, "source:"))
}

// shortNumber prints two figures, and what is rounding noise as 0.
func shortNumber(x float64, unit string) string {
	if x < 1e-9 {
		return "0"
	}
	return fmt.Sprintf("%.2g", x) + unit
}
