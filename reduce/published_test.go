package reduce

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// A fixture is a file of testdata/published: lines "name: field | field", with
// its source first. The figures stand as their source prints them.
type fixture struct {
	name  string
	lines []fixtureLine
}

type fixtureLine struct {
	name   string
	fields []string
}

func published(t testing.TB, name string) fixture {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "testdata", "published", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	f := fixture{name: name}
	for _, line := range strings.Split(string(b), "\n") {
		key, rest, ok := strings.Cut(line, ":")
		if !ok {
			continue
		}
		parts := strings.Split(rest, "|")
		for i := range parts {
			parts[i] = strings.TrimSpace(parts[i])
		}
		f.lines = append(f.lines, fixtureLine{key, parts})
	}
	if len(f.lines) == 0 || f.lines[0].name != "source" {
		t.Fatalf("%s: the source does not stand first", name)
	}
	return f
}

// all returns the fields of every line of that name.
func (f fixture) all(name string) [][]string {
	var out [][]string
	for _, l := range f.lines {
		if l.name == name {
			out = append(out, l.fields)
		}
	}
	return out
}

// one returns the only line of that name.
func (f fixture) one(t testing.TB, name string) []string {
	t.Helper()
	x := f.all(name)
	if len(x) != 1 {
		t.Fatalf("%s: %d lines %q", f.name, len(x), name)
	}
	return x[0]
}

// cases splits the lines at each "case".
func (f fixture) cases() []fixture {
	var out []fixture
	for _, l := range f.lines {
		if l.name == "case" {
			out = append(out, fixture{name: f.name + " " + l.fields[0]})
		}
		if len(out) > 0 {
			out[len(out)-1].lines = append(out[len(out)-1].lines, l)
		}
	}
	return out
}

// tolerance is half a unit of the last printed digit of s.
func tolerance(s string) float64 {
	half := 0.5
	if _, dec, ok := strings.Cut(s, "."); ok {
		for range dec {
			half /= 10
		}
	}
	return half * (1 + 1e-9)
}

func num(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimPrefix(s, "+"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// meets checks a computed figure against a printed one to half a unit of its last
// digit, and notes the difference for the table of the README.
func (f fixture) meets(t *testing.T, quantity string, got float64, printed string) {
	t.Helper()
	want := num(t, printed)
	near(t, f.name+", "+quantity, got, want, tolerance(printed))
	noteDifference(f.name, quantity, got-want)
}

// meetsAngle does the same for a printed angle; the difference is in seconds.
func (f fixture) meetsAngle(t *testing.T, quantity string, got Angle, printed string) {
	t.Helper()
	d := (got - at(t, printed)).Wrap().Seconds()
	near(t, f.name+", "+quantity+" "+printed, d, 0, tolerance(printed))
	noteDifference(f.name, quantity, d)
}
