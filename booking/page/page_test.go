package page

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What cannot be seen, or moves its neighbours, is written out: controls, changes
// of direction (Unicode Standard Annex 9: U+202A to U+202E, U+2066 to U+2069) and
// characters without width (U+200B, U+200D, U+FEFF); letters stay, wide and
// combining ones too.
func TestVisible(t *testing.T) {
	for in, want := range map[string]string{
		"Weir": "Weir", "Brünn 字 é": "Brünn 字 é", "a\nb\x1b[2J": "a␊b␛[2J", "x\x7f": "x␡", "a\u00a0b": "a b",
		"a\u202eb": "a⟨U+202E⟩b", "a\u2066b": "a⟨U+2066⟩b", "a\u200bb": "a⟨U+200B⟩b", "a\u200db": "a⟨U+200D⟩b", "\ufeffa": "⟨U+FEFF⟩a",
		"a\u3164b": "a⟨U+3164⟩b", "\u2028": "⟨U+2028⟩", "\xff": "⟨U+FFFD⟩", "a\u0085b": "a⟨U+0085⟩b",
	} {
		if got := Visible(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		} else if again := Visible(got); again != got {
			t.Errorf("%q is changed again: %q", got, again)
		}
	}
}

// No line is wider than it may be, and nothing is lost but blanks.
func TestWrap_KeepsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Visible(rapid.StringOf(rapid.RuneFrom([]rune("ab-字é ″°.12"))).Draw(t, "text"))
		width := rapid.IntRange(2, 30).Draw(t, "width")
		lines := Wrap(s, width)
		for _, l := range lines {
			if Width(l) > width {
				t.Fatalf("%q is %d cells, may be %d", l, Width(l), width)
			}
		}
		if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.Join(strings.Fields(s), ""); got != want {
			t.Fatalf("%q, want %q", got, want)
		}
	})
}

func ring() Page {
	var p Page
	p.Say("  ! ", "The half closes with more than the limit: observe the round of 2026-05-04 again.")
	p.Add(Gap{}, Table{Indent: 2, Columns: []Column{{Head: "Target", Cols: 8}, {Head: "FL", Right: true}, {}, {Right: true}, {Head: "both", Span: 2, Right: true}},
		Groups: []Group{{Rows: []Row{
			{Cells: append(Cells("Brackenfold"), Cell{{Text: "45°10′20″", Struck: true, Mark: 3}, {Text: "45°10′25″"}})},
			{Cells: Cells("字字\u202e", "0°05′10″", "", "1.5", "−20.5")},
		}}}})
	return p
}

func TestText_StruckAndWide(t *testing.T) {
	want := `  ! The half closes with more
    than the limit: observe
    the round of 2026-05-04
    again.

  Target                FL        both
  Brackenf  ~45°10′20″~[3]
  old            45°10′25″
  字字⟨U+2
  02E⟩            0°05′10″  1.5  −20.5
`
	if got := ring().String(30); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// A screen is never written beyond its edge, and every word is on it.
func TestScreen_FitsAnyWidth(t *testing.T) {
	for width := 12; width < 60; width++ {
		words := ""
		for _, l := range Screen(ring(), width) {
			if l.width() > width {
				t.Errorf("%d: %q", width, l)
			}
			words += strings.ReplaceAll(l.String(), " ", "")
		}
		for _, want := range []string{"~45°10′20″~[3]", "0°05′10″", "−20.5"} {
			if !strings.Contains(words, want) {
				t.Errorf("%d: %s is not on the screen: %s", width, want, words)
			}
		}
	}
}

// A struck figure is a run of its own, so that a screen can strike it through.
func TestScreen_RolesOfRuns(t *testing.T) {
	for _, l := range Screen(ring(), 60) {
		for _, r := range l {
			if r.Role == Struck {
				if r.Text != "45°10′20″" {
					t.Errorf("%q", r.Text)
				}
				return
			}
		}
	}
	t.Error("no run is struck")
}

// A table that has no room is split and keeps its columns: what stands under a head on
// a wide screen stands under it on a narrow one, beside the first column.
func TestScreen_SplitsATable(t *testing.T) {
	var p Page
	p.Add(Table{Columns: []Column{{Head: "Leg"}, {Head: "Departure", Right: true}, {Head: "Latitude", Right: true}, {Head: "Length", Right: true}},
		Groups: []Group{{Rows: []Row{{Cells: Cells("Weir–Alder", "0.000", "120.416", "120.416")}, {Cells: Cells("Alder–Quarry", "−98.825", "18.269", "100.499")}}}}})
	var got []string
	for _, l := range Screen(p, 36) {
		got = append(got, strings.TrimRight(l.String(), " "))
	}
	want := []string{"Leg           Departure  Latitude", "Weir–Alder        0.000   120.416", "Alder–Quarry    −98.825    18.269", "", "Leg            Length", "Weir–Alder    120.416", "Alder–Quarry  100.499"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}
