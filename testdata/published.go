package testdata

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Printed is a file of testdata/published: lines "name: field | field", with its
// source first. The figures stand as their source prints them.
type Printed struct {
	Name  string
	lines []printedLine
}

type printedLine struct {
	name   string
	fields []string
}

// Published reads the printed figures of one source.
func Published(t T, name string) Printed {
	t.Helper()
	p := Printed{Name: name}
	for line := range strings.Lines(Read(t, filepath.Join(publishedDir(), name+".txt"))) {
		key, rest, ok := strings.Cut(strings.TrimSuffix(line, "\n"), ":")
		if !ok {
			continue
		}
		fields := strings.Split(rest, "|")
		for i := range fields {
			fields[i] = strings.TrimSpace(fields[i])
		}
		p.lines = append(p.lines, printedLine{key, fields})
	}
	if len(p.lines) == 0 || p.lines[0].name != "source" {
		t.Fatalf("%s: the source does not stand first", name)
	}
	return p
}

// publishedDir is testdata/published as seen from the package under test.
func publishedDir() string {
	up := "."
	for range 6 {
		if _, err := os.Stat(filepath.Join(up, "go.mod")); err == nil {
			break
		}
		up = filepath.Join(up, "..")
	}
	return filepath.Join(up, "testdata", "published")
}

// All returns the fields of every line of that name.
func (p Printed) All(name string) [][]string {
	var out [][]string
	for _, l := range p.lines {
		if l.name == name {
			out = append(out, l.fields)
		}
	}
	return out
}

// One returns the only line of that name.
func (p Printed) One(t T, name string) []string {
	t.Helper()
	x := p.All(name)
	if len(x) != 1 {
		t.Fatalf("%s: %d lines %q", p.Name, len(x), name)
	}
	return x[0]
}

// Cases splits the lines at each "case".
func (p Printed) Cases() []Printed {
	var out []Printed
	for _, l := range p.lines {
		if l.name == "case" {
			out = append(out, Printed{Name: p.Name + " " + l.fields[0]})
		}
		if len(out) > 0 {
			out[len(out)-1].lines = append(out[len(out)-1].lines, l)
		}
	}
	return out
}

// Meets holds a computed figure against a printed one, to half a unit of its last
// digit, and notes the difference for the table.
func (p Printed) Meets(t T, quantity string, got float64, printed string) {
	t.Helper()
	p.MeetsBy(t, quantity, got-Num(t, printed), printed)
}

// MeetsBy does the same where the difference is known: of angles, in seconds.
func (p Printed) MeetsBy(t T, quantity string, difference float64, printed string) {
	t.Helper()
	Near(t, p.Name+", "+quantity+" "+printed, difference, 0, HalfUnit(printed))
	p.Note(quantity, difference)
}

// Note keeps a difference for the table; Meets and MeetsBy call it.
func (p Printed) Note(quantity string, difference float64) {
	source, _, _ := strings.Cut(p.Name, " ")
	x := differences[quantity]
	if x == nil {
		x = &largest{}
		differences[quantity] = x
	}
	if !slices.Contains(x.sources, source) {
		x.sources = append(x.sources, source)
	}
	x.count++
	x.size = max(x.size, math.Abs(difference))
}

// HalfUnit is half a unit of the last printed digit of s.
func HalfUnit(s string) float64 {
	half := 0.5
	if _, dec, ok := strings.Cut(s, "."); ok {
		for range dec {
			half /= 10
		}
	}
	return half * (1 + 1e-9)
}

// Num reads a printed number.
func Num(t T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimPrefix(s, "+"), 64)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return x
}

// Parsed reads a written figure with its own reader, or ends the test.
func Parsed[V any](t T, parse func(string) (V, error), s string) V {
	t.Helper()
	v, err := parse(s)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return v
}

// Near holds a figure against the one wanted.
func Near(t T, what string, got, want, tolerance float64) {
	t.Helper()
	if d := got - want; !(d <= tolerance && d >= -tolerance) {
		t.Errorf("%s: got %.6g, want %.6g ± %.2g", what, got, want, tolerance)
	}
}

// largest is the largest difference found between our figures and printed ones.
type largest struct {
	sources []string
	count   int
	size    float64
}

// differences are kept by quantity, over the whole run of a package's tests.
var differences = map[string]*largest{}

// A Runner is the part of *testing.M that is used here.
type Runner interface{ Run() int }

// Differences runs the tests of a package. Where all of them ran it holds the table
// of the largest differences against the file that was looked at. unit says what a
// quantity's difference is in.
func Differences(m Runner, file string, unit func(quantity string) string) int {
	code := m.Run()
	if code != 0 || flag.Lookup("test.count").Value.String() != "1" {
		return code
	}
	for _, name := range []string{"test.run", "test.skip", "test.bench", "test.fuzz", "test.list"} {
		if flag.Lookup(name).Value.String() != "" {
			return code
		}
	}
	path, table := filepath.Join(publishedDir(), file), differenceTable(unit)
	if *Update {
		if err := os.WriteFile(path, []byte(table), 0o644); err != nil {
			fmt.Println(err)
			return 1
		}
	}
	if old, err := os.ReadFile(path); err != nil || string(old) != table {
		fmt.Printf("testdata/published/%s is not current (%v): -update writes it; look at what changed\n%s", file, err, table)
		return 1
	}
	return 0
}

func differenceTable(unit func(string) string) string {
	var quantities, sources []string
	for q, d := range differences {
		quantities = append(quantities, q)
		sources = append(sources, d.sources...)
	}
	slices.Sort(quantities)
	var b strings.Builder
	b.WriteString("| quantity | figures of | compared | largest difference |\n|---|---|---|---|\n")
	for _, q := range quantities {
		d, size := differences[q], "0"
		sortSources(d.sources)
		if d.size >= 1e-9 { // less is the noise of rounding
			size = fmt.Sprintf("%.2g%s", d.size, unit(q))
		}
		fmt.Fprintf(&b, "| %s | %s | %d | %s |\n", q, strings.Join(d.sources, ", "), d.count, size)
	}
	b.WriteString("\n| file of testdata/published | source |\n|---|---|\n")
	sortSources(sources)
	for _, s := range slices.Compact(sources) {
		fmt.Fprintf(&b, "| %s | %s |\n", fileOf(s), sourceOf(s))
	}
	return b.String()
}

// sortSources sorts F5 before F16.
func sortSources(names []string) {
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

// fileOf is the file of a source: figures in a text, or a table.
func fileOf(name string) string {
	if filepath.Ext(name) == "" {
		name += ".txt"
	}
	return name
}

func sourceOf(name string) string {
	text, err := os.ReadFile(filepath.Join(publishedDir(), fileOf(name)))
	if err != nil {
		return err.Error()
	}
	line, _, _ := strings.Cut(string(text), "\n")
	return strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(line, "#"), "source:"))
}
