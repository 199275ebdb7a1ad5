package main

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// A slope of 1,500 m under 20° is the same horizontal distance wherever one is made:
// HD = S·sin z − S²·sin z·cos z·(1 − k/2)/R with k = 0.13 and R = 6,371 km, worked here;
// without its second part it is 106 mm too long.
func TestHorizontal_EveryOutput(t *testing.T) {
	const s, z, k, r = 1500.0, 70 * math.Pi / 180, 0.13, 6_371_000.0
	hd := s*math.Sin(z) - s*s*math.Sin(z)*math.Cos(z)*(1-k/2)/r
	file, book := example("steep.csv"), filepath.Join(t.TempDir(), "steep.readback")
	call(t, "", "import", book, file, "--booker", "Tam Okoro").must(t, exitFine)
	for _, args := range [][]string{
		{"reduce", file}, {"reduce", "--json", file}, {"sheet", book, "--text"}, {"sheet", book}, {"export", book, "--as", "json"},
		{"export", book, "--as", "landxml"}, {"export", book, "--as", "sql"}, {"export", book, "--as", "directions"},
	} {
		out := call(t, "", args...).must(t, exitFine).out
		if !strings.Contains(out, fmt.Sprintf("%.3f", hd)) && !strings.Contains(out, fmt.Sprintf("%.6f", hd)) && !strings.Contains(out, fmt.Sprintf("%.4f", hd)) {
			t.Errorf("%v: %.4f is not in\n%s", args[:len(args)-1], hd, out)
		}
		if flat := fmt.Sprintf("%.2f", s*math.Sin(z)); strings.Contains(out, flat[:len(flat)-1]) {
			t.Errorf("%v: a distance as on a flat Earth", args)
		}
	}
}
