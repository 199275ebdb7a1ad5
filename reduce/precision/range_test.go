package precision

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
)

// printedLines returns the lines of a table that hold values.
func printedLines(t *testing.T, name string) (list []string) {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			list = append(list, line)
		}
	}
	return list
}

// The published values and their sources stand in testdata/studentised-range.txt;
// each is met to half a unit of its last digit.
func TestRangeLimit_Published(t *testing.T) {
	n := 0
	for _, line := range printedLines(t, "testdata/studentised-range.txt") {
		var alpha, want, unit float64
		var k, dof int
		if _, err := fmt.Sscan(line, &alpha, &k, &dof, &want, &unit); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		n++
		if got := RangeLimit(alpha, k, dof); math.Abs(got-want) > unit/2*1.0001 {
			t.Errorf("q(1−%g; %d, %d): %.5f, printed %g", alpha, k, dof, got, want)
		}
		if p := rangeOver(rangeKnown, RangeLimit(alpha, k, dof), k, scatters(dof)); math.Abs(1-alpha-p) > 1e-6 {
			t.Errorf("q(1−%g; %d, %d) is reached with probability %g", alpha, k, dof, p)
		}
	}
	if n < 20 {
		t.Errorf("only %d values", n)
	}
}

// The range of drawn values exceeds its limit as often as it says: the formula
// against the plain experiment. Seeded, four standard errors.
func TestRangeLimit_Drawn(t *testing.T) {
	const n = 40000
	rng := rand.New(rand.NewPCG(7, 7))
	for _, c := range []struct{ k, dof int }{{3, 0}, {8, 0}, {24, 0}, {3, 5}, {6, 17}} {
		limit, over := RangeLimit(0.02, c.k, c.dof), 0
		v := make([]float64, c.k)
		for range n {
			for i := range v {
				v[i] = rng.NormFloat64()
			}
			s := 1.0
			if c.dof > 0 {
				s = 0
				for range c.dof {
					x := rng.NormFloat64()
					s += x * x / float64(c.dof)
				}
				s = math.Sqrt(s)
			}
			if slices.Max(v)-slices.Min(v) > limit*s {
				over++
			}
		}
		if share := float64(over) / n; math.Abs(share-0.02) > 4*math.Sqrt(0.02*0.98/n) {
			t.Errorf("%d values, %d degrees of freedom: %.4f beyond the limit of 0.02", c.k, c.dof, share)
		}
	}
}

func TestRangeLimit_Borders(t *testing.T) {
	if RangeLimit(0, 3, 4) != math.Inf(1) || RangeLimit(1, 3, 4) != math.Inf(1) || RangeLimit(0.01, 1, 4) != 0 {
		t.Error("borders")
	}
	last := 0.0
	for k := 2; k < 1500; k += 97 {
		q := RangeLimit(0.0025, k, 0)
		if !(q > last) || math.IsInf(q, 0) {
			t.Errorf("%d values: %g after %g", k, q, last)
		}
		last = q
	}
}

func BenchmarkRangeLimit(b *testing.B) {
	for b.Loop() {
		RangeLimit(0.0025, 12, 0)
	}
}

// Student's t and χ² as printed: sources in testdata/student-and-chi.txt. Each is met
// to half a unit of its last digit; between two whole degrees of freedom t lies
// between their values.
func TestStudentAndChi_Published(t *testing.T) {
	n := 0
	for _, line := range printedLines(t, "testdata/student-and-chi.txt") {
		var what string
		var alpha, want, unit float64
		var dof int
		if _, err := fmt.Sscan(line, &what, &alpha, &dof, &want, &unit); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		n++
		got := chiQuantile(1-alpha, dof)
		if what == "t" {
			got = StudentLimit(alpha, dof)
			if mid := StudentLimit(alpha, float64(dof)+0.5); !(mid < got && mid > StudentLimit(alpha, dof+1)) {
				t.Errorf("t at %g and %d.5 is %g", alpha, dof, mid)
			}
		}
		if math.Abs(got-want) > unit/2*1.0001 {
			t.Errorf("%s at %g, %d: %.5f, printed %g", what, alpha, dof, got, want)
		}
	}
	if n != 20 {
		t.Errorf("%d values", n)
	}
}
