package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
	"example.org/readback/testdata"
)

// J. Mahun, Traverse Computations, chapter H (testdata/published/traverse-link.csv):
// the link is written down as a day on paper, imported, and worked by the
// commands. The printed adjusted latitudes and departures, thousandths of a foot,
// summed to coordinates: the figure prints them in metres to the millimetre, 3.3
// thousandths of a foot.
func TestFigure_PublishedLinkThroughTheCommands(t *testing.T) {
	const foot = lengths.InternationalFoot
	rows := testdata.Rows(t, "../../testdata/published/traverse-link.csv")
	dir := t.TempDir()
	book, day, places := filepath.Join(dir, "link.book"), filepath.Join(dir, "day.csv"), filepath.Join(dir, "known.csv")
	put(t, day, dayOnPaper(t, rows, []string{"Q", "R", "S", "T"}, "Ridge", 200*reduce.Degree))
	put(t, places, fmt.Sprintf("name,E,N,H\nQ,0,0,\nT,%.6f,%.6f,\n", 336.141*foot, 113.301*foot))
	for _, args := range [][]string{
		{"known", book, places, "--bearing", "Q,Ridge,200 00 00"},
		{"import", book, day, "--booker", "Tam Okoro", "--least-count", "1"},
	} {
		if code, _, errs := said(args...); code != exitFine {
			t.Fatalf("%v: %s", args, errs)
		}
	}
	code, out, errs := said("figure", book)
	if code != exitFine || !strings.Contains(out, "Link Q–R–S–T: closes.") {
		t.Fatalf("exit %d %s\n%s", code, errs, out)
	}
	got := compassRule(out)
	e, n := 0.0, 0.0
	for i, name := range []string{"R", "S"} {
		e, n = e+number(t, rows[i]["adj_dep"])*foot, n+number(t, rows[i]["adj_lat"])*foot
		if p := got[name]; math.Abs(p[0]-e) > 0.001 || math.Abs(p[1]-n) > 0.001 {
			t.Errorf("%s: %v, printed %.4f, %.4f\n%s", name, p, e, n, out)
		}
	}
}

// dayOnPaper writes the stations of a traverse as a readings file in feet: two
// rounds from the mark behind to the one before, level, and the leg ahead.
func dayOnPaper(t *testing.T, rows []map[string]string, names []string, first string, bearing reduce.Angle) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("setup,station,round,face,target,quantity,reading,unit\n")
	back := first
	for i, row := range rows {
		azimuth, err := reduce.ParseDMS(row["azimuth"])
		if err != nil {
			t.Fatal(err)
		}
		angle := azimuth - bearing
		line := func(round, face, target, quantity, reading, unit string) {
			fmt.Fprintf(&b, "%d,%s,%s,%s,%s,%s,%s,%s\n", i+1, names[i], round, face, target, quantity, reading, unit)
		}
		for round := range 2 {
			zero, r := reduce.Angle(round)*reduce.QuarterTurn+5*reduce.Arcminute, strconv.Itoa(round+1)
			line(r, "FL", back, "horizontal", written(zero), "dms")
			line(r, "FL", names[i+1], "horizontal", written(zero+angle), "dms")
			line(r, "FR", names[i+1], "horizontal", written(zero+angle+reduce.HalfTurn), "dms")
			line(r, "FR", back, "horizontal", written(zero+reduce.HalfTurn), "dms")
		}
		line("", "FL", names[i+1], "vertical", "90 00 00", "dms")
		line("", "FR", names[i+1], "vertical", "270 00 00", "dms")
		line("", "", names[i+1], "slope", row["length"], "ft")
		back, bearing = names[i], azimuth+reduce.HalfTurn
	}
	return b.String()
}

func written(a reduce.Angle) string {
	a = a.Normalize()
	return fmt.Sprintf("%d %02d %02d", a/reduce.Degree, a%reduce.Degree/reduce.Arcminute, a%reduce.Arcminute/reduce.Arcsecond)
}

// compassRule reads the first two figures behind each name under "Compass rule".
func compassRule(text string) map[string][2]float64 {
	_, text, _ = strings.Cut(text, "Compass rule E, N")
	text, _, _ = strings.Cut(text, "Everything together")
	out := map[string][2]float64{}
	for _, l := range strings.Split(text, "\n") {
		f := strings.Fields(strings.ReplaceAll(l, "−", "-"))
		if len(f) < 5 {
			continue
		}
		e, errE := strconv.ParseFloat(f[1], 64)
		n, errN := strconv.ParseFloat(f[2], 64)
		if errE == nil && errN == nil {
			out[f[0]] = [2]float64{e, n}
		}
	}
	return out
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
