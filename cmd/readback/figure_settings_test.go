package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking/network"
	"example.org/readback/reduce"
)

// What is given stands in place of the default, what is not keeps it, and a number that
// is none is refused with the option's name.
func TestFigureSettings_OverTheDefaults(t *testing.T) {
	ratio, centring, direction, distance := 10000.0, 0.0, 1.5, 3.0
	s, err := FigureSettings{LeastRatio: &ratio, Centring: &centring, AngleSD: &direction, LengthSD: &distance}.over(network.DefaultSettings())
	want := network.DefaultSettings()
	want.LeastRatio, want.LeastRatioFrom, want.Centring, want.AngleSD = 10000, "set by the crew", 0, 1500*reduce.Arcsecond/1000
	want.LengthSD = 0.003 // millimetres, as in reduce and import
	if err != nil || s != want {
		t.Errorf("%+v, %v", s, err)
	}
	bad := -1.0
	if _, err := (FigureSettings{KnownSD: &bad}).over(s); err == nil || err.Error() != "--known-sd -1: expected a number from 0 to 10" {
		t.Error(err)
	}
	none := 0.0
	if _, err := (FigureSettings{Risk: &none}).over(s); err == nil {
		t.Error("a risk of nothing is taken")
	}
}

// A default of this account is no setting of a book: to look at the limits of a book
// records nothing.
func TestLimits_RecordNoDefaults(t *testing.T) {
	dir := t.TempDir()
	mkdir(t, filepath.Join(dir, "readback"))
	put(t, filepath.Join(dir, "readback", "defaults"), "distance-sd = 2\ndistance-ppm = 2\n")
	file := filepath.Join(dir, "dam.readback")
	call(t, "", "import", file, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	before := call(t, "", "export", file, "--as", "jsonl").must(t, exitFine).out
	var out, errs bytes.Buffer
	if code := runAgain([]string{"limits", file}, &Context{Out: &out, Err: &errs, Getenv: func(k string) string { return map[string]string{"XDG_CONFIG_HOME": dir}[k] }}); code != exitFine {
		t.Fatal(errs.String())
	}
	if after := call(t, "", "export", file, "--as", "jsonl").must(t, exitFine).out; after != before || !strings.Contains(out.String(), "distance-sd") {
		t.Errorf("listing the limits booked something, or listed nothing:\n%s", out.String())
	}
}

// --feet is for the printed tables: what is handed on as numbers stays in metres, and the
// option is refused beside it.
func TestFigure_InFeet(t *testing.T) {
	dam := filepath.Join(t.TempDir(), "dam.book")
	call(t, "", "import", dam, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	if out := call(t, "", "figure", dam, "--feet").must(t, exitFine).out; !strings.Contains(out, "Length ft") || !strings.Contains(out, "0.3048 m exactly") {
		t.Error(out)
	}
	for _, other := range []string{"--json", "--points", "--onto=known.csv"} {
		call(t, "", "figure", dam, "--feet", other).must(t, exitUsage)
	}
}

// A least above its largest is refused, against what is given with it, what the book has
// recorded and what the program takes; no book is made for it, and nothing is booked.
func TestLimits_LeastAboveLargest(t *testing.T) {
	file := filepath.Join(t.TempDir(), "dam.readback")
	if got := call(t, "", "limits", file, "--instrument-least", "3").must(t, exitUsage); !strings.Contains(got.err, "the least plausible instrument height, 3 m, is above the largest, 2.5 m") {
		t.Error(got.err)
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("a book was made")
	}
	call(t, "", "limits", file, "--distance-least", "20", "--distance-most", "400").must(t, exitFine)
	before := call(t, "", "export", file, "--as", "jsonl").out
	if got := call(t, "", "limits", file, "--distance-most", "15").must(t, exitUsage); !strings.Contains(got.err, "the least plausible distance, 20 m, is above the largest, 15 m") {
		t.Error(got.err)
	}
	if after := call(t, "", "export", file, "--as", "jsonl").out; after != before {
		t.Error("something was booked")
	}
	call(t, "", "limits", file, "--distance-most", "15", "--default", "distance-least").must(t, exitFine)
}
