package reduce

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write testdata/published/differences.md anew")

// difference is the largest one found between our figure and a printed one.
type difference struct {
	fixture, quantity string
	count             int
	largest           float64
}

var differences = map[string]*difference{}

func noteDifference(fixture, quantity string, d float64) {
	fixture, _, _ = strings.Cut(fixture, " ")
	k := quantity + "\x00" + fixture
	if differences[k] == nil {
		differences[k] = &difference{fixture: fixture, quantity: quantity}
	}
	differences[k].count++
	differences[k].largest = max(differences[k].largest, math.Abs(d))
}

// TestMain compares the table of largest differences with the committed one when
// every test was run.
func TestMain(m *testing.M) {
	code := m.Run()
	run, short := flag.Lookup("test.run").Value.String(), flag.Lookup("test.bench").Value.String()
	if code == 0 && run == "" && short == "" && flag.Lookup("test.fuzz").Value.String() == "" {
		code = checkDifferences()
	}
	os.Exit(code)
}

func checkDifferences() int {
	path := filepath.Join("..", "testdata", "published", "differences.md")
	table := differenceTable()
	if *update {
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
	var rows []*difference
	for _, d := range differences {
		rows = append(rows, d)
	}
	sort.Slice(rows, func(i, j int) bool {
		if rows[i].quantity != rows[j].quantity {
			return rows[i].quantity < rows[j].quantity
		}
		return rows[i].fixture < rows[j].fixture
	})
	var b bytes.Buffer
	b.WriteString("| quantity | fixture | figures compared | largest difference |\n|---|---|---|---|\n")
	for _, d := range rows {
		fmt.Fprintf(&b, "| %s | %s.txt | %d | %s |\n", d.quantity, d.fixture, d.count, shortNumber(d.largest))
	}
	return b.Bytes()
}

// shortNumber prints two figures, and what is rounding noise as 0.
func shortNumber(x float64) string {
	if x < 1e-9 {
		return "0"
	}
	return fmt.Sprintf("%.2g", x)
}
