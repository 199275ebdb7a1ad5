package plot_test

import (
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/readback/reduce"
	"example.org/readback/tui/look"
	"example.org/readback/tui/plot"
	"example.org/readback/tui/widget"
)

var update = flag.Bool("update", false, "write the golden pictures anew; look at each before committing")

func deg(d float64) reduce.Angle { return reduce.FromDegrees(d) }

var (
	horizon = plot.Horizon{
		Rays: []plot.Ray{
			{Name: "Alder", Direction: 0, Done: true}, {Name: "Quarry", Direction: deg(62.23), Done: true},
			{Name: "Spire", Direction: deg(131.05), Current: true}, {Name: "Chapel", Direction: deg(139.6)}, {Name: "Mast", Direction: deg(283.2)},
		},
		Note: "Alder up",
	}
	residuals = plot.Residuals{Limit: 10, Rows: []plot.ResidualRow{
		{Name: "Alder", Values: []float64{1, -1.2, 0.1}, Note: "spread 2″, agrees"},
		{Name: "Quarry", Values: []float64{4, math.NaN(), -4}, Note: "spread 8″, agrees"},
		{Name: "Spire", Values: []float64{-3, 14, -11}, Note: "spread 25″, over 10″", Stop: true},
		{Name: "Mast", Values: []float64{0, 0.1, 55}, Note: "spread 55″, over 10″", Stop: true},
	}}
	traverse = plot.Traverse{
		Places: []plot.Place{{Name: "Weir", E: 0, N: 0}, {Name: "Alder", E: 100, N: 20}, {Name: "Quarry", E: 120, N: 90}, {Name: "Spire", E: 30, N: 110}},
		Closed: true, DE: 0.02, DN: -0.01, Current: 2,
	}
	series = plot.Series{Values: []float64{3, 4, 2, 5, math.NaN(), 3, 9, 12, 3}, Unit: "″", Mean: 4, Limit: 5}
)

// The pictures as text, in each set of signs.
func TestGolden_Pictures(t *testing.T) {
	pictures := []struct {
		name string
		w, h int
		draw func(widget.Area)
	}{
		{"horizon", 46, 17, horizon.Draw}, {"horizon-small", 25, 8, horizon.Draw}, {"residuals", 61, 5, residuals.Draw}, {"residuals-narrow", 31, 5, residuals.Draw},
		{"traverse", 46, 14, traverse.Draw}, {"series", 46, 8, series.Draw},
	}
	for _, p := range pictures {
		for suffix, signs := range map[string]look.Signs{"": look.Full, "-blocks": look.Blocks, "-ascii": look.ASCII} {
			f := widget.NewFrame(look.Plain().With(signs), p.w, p.h)
			p.draw(f.Area())
			golden(t, p.name+suffix, f.Plain())
			for _, r := range f.Plain() {
				if signs == look.ASCII && r >= 0x80 {
					t.Errorf("%s: %q is drawn in ASCII", p.name, r)
				}
			}
		}
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run go test ./tui/plot -update, then look at the picture)", err)
	}
	if string(want) != got {
		t.Errorf("%s differs:\n--- expected\n%s--- got\n%s", path, want, got)
	}
}

// A number a drawing may meet: usual, enormous, none.
func number(t *rapid.T, label string) float64 {
	return rapid.OneOf(rapid.Float64Range(-100, 100), rapid.Float64(), rapid.Just(math.NaN()), rapid.Just(math.Inf(1)), rapid.Just(math.Inf(-1)), rapid.Just(0.0)).Draw(t, label)
}

// Whatever numbers and names come, nothing panics and nothing leaves the window.
func TestDraw_KeepsToItsArea(t *testing.T) {
	name := rapid.SampledFrom([]string{"", "Alder", "字 Chapel of the Hill", "\x1b[2J", "e\u0301", "x"})
	rapid.Check(t, func(t *rapid.T) {
		th := look.Plain().With(rapid.SampledFrom([]look.Signs{look.Full, look.Blocks, look.ASCII}).Draw(t, "signs"))
		w, h := rapid.IntRange(0, 50).Draw(t, "w"), rapid.IntRange(0, 16).Draw(t, "h")
		f := widget.NewFrame(th, w, h)
		n := rapid.IntRange(0, 6).Draw(t, "n")
		switch rapid.IntRange(0, 3).Draw(t, "what") {
		case 0:
			p := plot.Horizon{Note: name.Draw(t, "note"), Up: reduce.Angle(rapid.Int64().Draw(t, "up"))}
			for range n {
				p.Rays = append(p.Rays, plot.Ray{Name: name.Draw(t, "name"), Direction: reduce.Angle(rapid.Int64().Draw(t, "dir")), Current: rapid.Bool().Draw(t, "current")})
			}
			p.Draw(f.Area())
		case 1:
			p := plot.Residuals{Limit: number(t, "limit")}
			for range n {
				p.Rows = append(p.Rows, plot.ResidualRow{Name: name.Draw(t, "name"), Note: name.Draw(t, "note"), Values: []float64{number(t, "v"), number(t, "v")}})
			}
			p.Draw(f.Area())
		case 2:
			p := plot.Traverse{Closed: rapid.Bool().Draw(t, "closed"), DE: number(t, "de"), DN: number(t, "dn"), Current: rapid.IntRange(-1, 6).Draw(t, "at")}
			for range n {
				p.Places = append(p.Places, plot.Place{Name: name.Draw(t, "name"), E: number(t, "e"), N: number(t, "n")})
			}
			p.Draw(f.Area())
		case 3:
			p := plot.Series{Mean: number(t, "mean"), Limit: number(t, "limit"), Unit: "″"}
			for range n {
				p.Values = append(p.Values, number(t, "v"))
			}
			p.Draw(f.Area())
		}
		for _, l := range strings.Split(f.String(), "\n") {
			if got := ansi.StringWidth(l); got > max(w-1, 0) || strings.ContainsRune(l, 0x1b) {
				t.Fatalf("a line of %d cells in a window of %d: %q", got, w, l)
			}
		}
	})
}

// A direction clockwise from what is up lies to the right of it: the plan turns
// as the circle does.
func TestHorizon_Clockwise(t *testing.T) {
	f := widget.NewFrame(look.Plain(), 42, 20)
	plot.Horizon{Up: deg(40), Rays: []plot.Ray{{Name: "N", Direction: deg(40)}, {Name: "E", Direction: deg(130)}, {Name: "S", Direction: deg(220)}, {Name: "W", Direction: deg(310)}}}.Draw(f.Area())
	at := map[string][2]int{}
	for y := range 20 {
		for x := range 41 {
			if s, _ := f.At(x, y); s == "N" || s == "E" || s == "S" || s == "W" {
				at[s] = [2]int{x, y}
			}
		}
	}
	if len(at) != 4 || at["E"][0] <= at["N"][0] || at["W"][0] >= at["N"][0] || at["N"][1] >= at["E"][1] || at["S"][1] <= at["E"][1] {
		t.Errorf("not clockwise: %v\n%s", at, f.Plain())
	}
}

// A residual within the limit stands within the band, one beyond it outside.
func TestResiduals_BandTellsTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-25, 25).Draw(t, "v")
		f := widget.NewFrame(look.Day(), 80, 2)
		plot.Residuals{Limit: 10, Rows: []plot.ResidualRow{{Values: []float64{v}}}}.Draw(f.Area())
		left, right, dot, role := -1, -1, -1, look.Base
		for x := range 79 {
			s, r := f.At(x, 0)
			switch {
			case s == "┊" && left < 0:
				left = x
			case s == "┊":
				right = x
			case s == "1":
				dot, role = x, r
			}
		}
		if over := math.Abs(v) > 10; over != (role == look.Stop) {
			t.Fatalf("%v is painted as %v", v, role)
		}
		if left >= 0 && right >= 0 && (math.Abs(v) < 9.5) != (dot > left && dot < right) && math.Abs(math.Abs(v)-10) > 0.6 {
			t.Fatalf("%v stands at %d, band %d to %d", v, dot, left, right)
		}
	})
}

func BenchmarkHorizon(b *testing.B) {
	f := widget.NewFrame(look.Day(), 50, 20)
	b.ReportAllocs()
	for b.Loop() {
		horizon.Draw(f.Area())
	}
}
