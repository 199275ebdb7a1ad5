package plot_test

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
	"example.org/readback/tui/look"
	"example.org/readback/tui/plot"
)

// paper paints nothing: what a picture says, it says without colour.
var paper, _ = look.Named("plain")

func deg(d float64) reduce.Angle { return reduce.FromDegrees(d) }

func seconds(v float64) string { return strings.Replace(fmt.Sprintf("%+.1f″", v), "-", "−", 1) }

// strip makes a strip the picture of its marks and the scale under it.
func strip(s plot.Strip) func(*look.Theme, int, int) []string {
	return func(t *look.Theme, w, h int) []string {
		return []string{s.Draw(t, w), s.Scale(t, w, seconds, "")}[:min(h, 2)]
	}
}

var (
	ninth  = plot.Strip{Limit: 10, Marks: []plot.Mark{{Value: 0, Sign: "1"}, {Value: 4, Sign: "2"}, {Value: 19, Sign: "3"}, {Value: -90, Sign: "4"}, {Value: 4, Sign: "5"}}}
	pairs  = plot.Pairs{Limit: 20, Rounds: [][]float64{{-5, 0, 4.5}, {2, 9, -31}, {3, math.NaN(), 28}}, Names: []string{"R1", "R2", "R3"}, Label: seconds}
	series = plot.Series{Values: []float64{3, 4, 2, 5, math.NaN(), 3, 9, 12, 3}, Unit: "″", Limit: 5}
	plan   = plot.Traverse{Closed: true, DE: 0.02, DN: -0.01, Current: 2, Places: []plot.Place{{Name: "Weir"}, {Name: "Alder", E: 100, N: 20}, {Name: "Quarry", E: 120, N: 90}, {Name: "Spire", E: 30, N: 110}}}
	around = plot.Horizon{Rays: []plot.Ray{{Name: "Alder", Done: true}, {Name: "Quarry", Direction: deg(62.23), Done: true}, {Name: "Spire", Direction: deg(131.05), Current: true},
		{Name: "Chapel", Direction: deg(139.6)}, {Name: "Mast", Direction: deg(283.2)}}}
)

var signs = map[string]look.Signs{"": look.Full, "-blocks": look.Blocks, "-ascii": look.ASCII}

// The pictures as text at two sizes, in each set of signs.
func TestPictures(t *testing.T) {
	for _, p := range []struct {
		name  string
		draw  func(t *look.Theme, w, h int) []string
		sizes [2][2]int
	}{
		{"strip", strip(ninth), [2][2]int{{61, 2}, {25, 2}}},
		{"pairs", pairs.Draw, [2][2]int{{46, 10}, {22, 6}}},
		{"series", series.Draw, [2][2]int{{46, 8}, {24, 5}}},
		{"plan", plan.Draw, [2][2]int{{46, 14}, {25, 8}}},
		{"horizon", around.Draw, [2][2]int{{46, 17}, {25, 8}}},
	} {
		for _, s := range p.sizes {
			for suffix, set := range signs {
				th := paper.With(set)
				got := th.Fit(p.draw(th, s[0], s[1]), s[0], s[1]) + "\n"
				testdata.Golden(t, filepath.Join("testdata", fmt.Sprintf("%s-%dx%d%s.txt", p.name, s[0], s[1], suffix)), got)
				if set == look.ASCII && strings.ContainsFunc(got, func(r rune) bool { return r >= 0x80 }) {
					t.Errorf("%s: more than ASCII is drawn\n%s", p.name, got)
				}
			}
		}
	}
}

// number is one that a drawing may meet: usual, enormous, none.
var number = rapid.OneOf(rapid.Float64Range(-100, 100), rapid.Float64Range(-100, 100), rapid.Float64(), rapid.Just(0.0),
	rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, -math.MaxFloat64, 5e-324, 1e12, 1e9}))

var name = rapid.SampledFrom([]string{"", "Alder", "字 Chapel of the Hill", "\x1b[2J", "e\u0301", "x"})

// anything is a picture of any kind of anything.
func anything(t *rapid.T) func(*look.Theme, int, int) []string {
	numbers := rapid.SliceOfN(number, 0, 30)
	switch rapid.IntRange(0, 4).Draw(t, "picture") {
	case 0:
		s := plot.Strip{Limit: number.Draw(t, "limit")}
		for _, v := range numbers.Draw(t, "values") {
			s.Marks = append(s.Marks, plot.Mark{Value: v, Sign: name.Draw(t, "sign"), Now: rapid.Bool().Draw(t, "now")})
		}
		return strip(s)
	case 1:
		return plot.Pairs{Limit: number.Draw(t, "limit"), Label: seconds, Names: rapid.SliceOfN(name, 0, 6).Draw(t, "names"), Rounds: rapid.SliceOfN(numbers, 0, 6).Draw(t, "rounds")}.Draw
	case 2:
		return plot.Series{Values: numbers.Draw(t, "values"), Unit: name.Draw(t, "unit"), Limit: number.Draw(t, "limit"), At: numbers.Draw(t, "times"), Names: rapid.SliceOfN(name, 0, 30).Draw(t, "names")}.Draw
	case 3:
		p := plot.Traverse{Closed: rapid.Bool().Draw(t, "closed"), DE: number.Draw(t, "de"), DN: number.Draw(t, "dn"), Current: rapid.IntRange(-1, 6).Draw(t, "at")}
		for range rapid.IntRange(0, 6).Draw(t, "n") {
			p.Places = append(p.Places, plot.Place{Name: name.Draw(t, "name"), E: number.Draw(t, "e"), N: number.Draw(t, "n"), A: number.Draw(t, "a"), B: number.Draw(t, "b"), Bearing: number.Draw(t, "bearing")})
		}
		p.Sights = append(p.Sights, p.Places...)
		return p.Draw
	}
	h := plot.Horizon{}
	for range rapid.IntRange(0, 6).Draw(t, "n") {
		h.Rays = append(h.Rays, plot.Ray{Name: name.Draw(t, "name"), Direction: reduce.Angle(rapid.Int64().Draw(t, "dir")), Current: rapid.Bool().Draw(t, "current")})
	}
	return h.Draw
}

// Whatever numbers and names come, nothing panics and nothing leaves its cells.
func TestDraw_KeepsToItsCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := paper.With(rapid.SampledFrom([]look.Signs{look.Full, look.Blocks, look.ASCII}).Draw(t, "signs"))
		w, h := rapid.IntRange(0, 200).Draw(t, "w"), rapid.IntRange(0, 60).Draw(t, "h")
		lines := anything(t)(th, w, h)
		if len(lines) > h {
			t.Fatalf("%d lines of %d", len(lines), h)
		}
		for _, l := range lines {
			if got := ansi.StringWidth(l); got > w || strings.ContainsRune(l, 0x1b) {
				t.Fatalf("a line of %d cells of %d: %q", got, w, l)
			}
		}
	})
}

// values are some that a limit of 10 is held against, the odd one infinite; none
// is so near the limit that rounding decides.
func values(t *rapid.T) (v []float64, spread float64) {
	v = rapid.SliceOfN(rapid.Float64Range(-12, 12), 1, 8).Draw(t, "values")
	if rapid.IntRange(0, 3).Draw(t, "odd") == 0 {
		v = append(v, rapid.SampledFrom([]float64{math.Inf(1), math.Inf(-1), 1e300, -400, 77}).Draw(t, "far"))
	}
	spread = slices.Max(v) - slices.Min(v)
	if math.Abs(spread-10) < 1e-6 {
		t.Skip("on the limit")
	}
	return v, spread
}

// A mark stands outside the band of a strip exactly when the limit is not met.
func TestStrip_OutsideWhereTheLimitIsNotMet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, spread := values(t)
		s := plot.Strip{Limit: 10}
		for _, x := range v {
			s.Marks = append(s.Marks, plot.Mark{Value: x, Sign: "x"})
		}
		row := s.Draw(paper, rapid.IntRange(9, 200).Draw(t, "w"))
		parts := strings.Split(row, "│")
		if len(parts) != 3 {
			t.Fatalf("no band in %q", row)
		}
		if out := strings.ContainsAny(parts[0]+parts[2], "x●"); out != (spread > 10) {
			t.Fatalf("a spread of %v of 10 is drawn %q", spread, row)
		}
	})
}

// Of the pairs each that is out has its mark on the edge, each other its own.
func TestPairs_EdgeWhereTheLimitIsNotMet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, spread := values(t)
		text := strings.Join(plot.Pairs{Limit: 10, Label: seconds, Rounds: [][]float64{v}, Names: []string{"R1"}}.Draw(paper, 25, rapid.IntRange(4, 60).Draw(t, "h")), "\n")
		out, in := strings.Count(text, "▲")+strings.Count(text, "▼"), strings.Count(text, "▀")+strings.Count(text, "▄")
		if out > 0 != (spread > 10) || out+in != len(v) && out+in != 2*len(v) { // two cells a pair where there is room
			t.Fatalf("%d out and %d in of %v\n%s", out, in, v, text)
		}
	})
}

// The marks of a series stand on values beyond the band, and beyond its lines.
func TestSeries_MarksWhatIsBeyond(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.OneOf(rapid.Float64Range(-25, 25), rapid.SampledFrom([]float64{math.Inf(1), math.Inf(-1), 1e300, -1e300})).Draw(t, "v")
		h := rapid.IntRange(2, 60).Draw(t, "h")
		lines := plot.Series{Values: []float64{1, v, -1}, Limit: 10, Unit: "″"}.Draw(paper, 60, h)
		row := slices.IndexFunc(lines, func(l string) bool { return strings.Contains(l, "!") })
		if (row >= 0) != (math.Abs(v) > 10) {
			t.Fatalf("%v of 10 is drawn\n%s", v, strings.Join(lines, "\n"))
		}
		if row >= 0 && (row < h/2) != (v > 0) {
			t.Fatalf("%v stands in row %d of %d", v, row, h)
		}
	})
}

// A limit on the scale is named beside its line, at every height; where it lies off the
// scale the ends of the scale are.
func TestSeries_NamesItsLimits(t *testing.T) {
	for h := 4; h <= 30; h++ {
		for _, l := range (plot.Series{Values: []float64{-4, -16, -33}, Limit: 30, Unit: "″"}).Draw(paper, 60, h) {
			if named := strings.Contains(l, "30″"); named != (strings.Count(ansi.Strip(l), "⠄")+strings.Count(l, "⠂")+strings.Count(l, "⠁")+strings.Count(l, "⡀") > 8) && h > 6 {
				t.Fatalf("%d rows: named %v\n%s", h, named, l)
			}
		}
	}
	text := ansi.Strip(strings.Join(plot.Series{Values: []float64{2, 1, -1}, Limit: 30, Unit: "″"}.Draw(paper, 60, 8), "\n"))
	if strings.Contains(text, "30″") || !strings.Contains(text, " 2″") || !strings.Contains(text, "−1″") {
		t.Fatal(text)
	}
}

// A direction clockwise from what is up lies to the right of it: the plan turns
// as the circle does.
func TestHorizon_Clockwise(t *testing.T) {
	lines := plot.Horizon{Rays: []plot.Ray{{Name: "N"}, {Name: "E", Direction: deg(90)}, {Name: "S", Direction: deg(180)}, {Name: "W", Direction: deg(270)}}}.Draw(paper, 42, 20)
	at := func(name string) (x, y int) {
		y = slices.IndexFunc(lines, func(l string) bool { return strings.Contains(l, name) })
		if y < 0 {
			t.Fatalf("no %s in\n%s", name, strings.Join(lines, "\n"))
		}
		before, _, _ := strings.Cut(lines[y], name)
		return ansi.StringWidth(before), y
	}
	nx, ny := at("N")
	ex, ey := at("E")
	_, sy := at("S")
	wx, _ := at("W")
	if ex <= nx || wx >= nx || ny >= ey || sy <= ey {
		t.Errorf("not clockwise:\n%s", strings.Join(lines, "\n"))
	}
}

// The azimuth of the misclosure is told in the unit of the circle: south-east is
// 135°, 150 gon; what rounds to the whole circle is 0.
func TestTraverse_Unit(t *testing.T) {
	for _, tt := range []struct {
		unit   reduce.Unit
		de, dn float64
		want   string
	}{{reduce.DMS, 0.01, -0.01, "at 135°,"}, {reduce.GonUnit, 0.01, -0.01, "at 150 gon,"}, {reduce.DMS, -0.00001, 0.01, "at 0°,"}} {
		p := plan
		p.Unit, p.DE, p.DN = tt.unit, tt.de, tt.dn
		if got := strings.Join(p.Draw(paper, 60, 14), "\n"); !strings.Contains(got, tt.want) {
			t.Errorf("%q is not in\n%s", tt.want, got)
		}
	}
}
