package widget_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
	"unicode"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/reduce"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

var update = flag.Bool("update", false, "write the golden frames anew; look at each before committing")

// golden compares a frame with testdata/name.txt.
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
		t.Fatalf("%v (run go test ./tui/widget -update, then look at the frame)", err)
	}
	if string(want) != got {
		t.Errorf("%s differs:\n--- expected\n%s--- got\n%s", path, want, got)
	}
}

// inBoth draws with full signs and in ASCII.
func inBoth(t *testing.T, name string, w, h int, draw func(widget.Area)) {
	t.Helper()
	for suffix, signs := range map[string]look.Signs{"": look.Full, "-ascii": look.ASCII} {
		f := widget.NewFrame(look.Plain().With(signs), w, h)
		draw(f.Area())
		golden(t, name+suffix, f.Plain())
		for _, r := range f.Plain() {
			if signs == look.ASCII && r >= 0x80 && !unicode.IsLetter(r) {
				t.Errorf("%s: %q is drawn in ASCII", name, r)
			}
		}
	}
}

func bind(k, word string) key.Binding { return key.NewBinding(key.WithKeys(k), key.WithHelp(k, word)) }

var bindings = []key.Binding{
	bind("r", "remark"), bind("s", "strike"), bind("k", "skip"), bind("v", "void round"), bind("p", "page"), bind("o", "plan"), bind("?", "help"),
}

func TestGolden_Figures(t *testing.T) {
	for _, h := range []widget.Height{widget.Tall, widget.Huge} {
		name := map[widget.Height]string{widget.Tall: "figures-tall", widget.Huge: "figures-huge"}[h]
		inBoth(t, name, 104, 24, func(a widget.Area) {
			for i, s := range []string{"0123456789", "FL 123°45′06.7″", "FR   _°_1′23″", "−287.0455 gon"} {
				a.Sub(0, i*6, a.W, 5).Tall(look.Entry, h, s)
			}
		})
	}
}

func TestGolden_Keypad(t *testing.T) {
	inBoth(t, "keypad-least", widget.PadMinWidth+1, widget.PadMinHeight, widget.DrawKeypad)
	inBoth(t, "keypad-large", 42, 18, widget.DrawKeypad)
}

func TestGolden_Actions(t *testing.T) {
	inBoth(t, "actions", 61, 10, func(a widget.Area) {
		top, rest := a.Top(2)
		widget.Actions{Bindings: bindings}.Draw(top)
		mid, rest := rest.Top(6)
		widget.Actions{Bindings: bindings, CellH: 3}.Draw(mid)
		widget.Help(rest, bindings)
	})
	inBoth(t, "help", 41, 4, func(a widget.Area) { widget.HelpList(a, bindings) })
}

func TestGolden_List(t *testing.T) {
	inBoth(t, "pointings", 50, 8, func(a widget.Area) {
		l := widget.List{
			Head:    true,
			Columns: []widget.Column{{Title: "target", Width: 12}, {Title: "face", Width: 4}, {Title: "reading", Width: 13, Align: widget.Right}, {Title: "", Width: 0}},
			Rows: []widget.Row{
				{Mark: "✓", Cells: []string{"Alder (RO)", "FL", "0°00′25″", "saved"}},
				{Mark: "!", Cells: []string{"Quarry", "FL", "62°14′05″", "confirmed"}},
				{Mark: "▸", Cells: []string{"Spire", "FL", "", "next"}, Role: look.Current},
				{Cells: []string{"字 Chapel of the Hill", "FL", "", ""}},
				{Cells: []string{"Mast", "FL", "", "skipped"}},
				{Cells: []string{"Alder (RO)", "FL", "", "closing"}},
				{Cells: []string{"Alder (RO)", "FR", "", ""}},
			},
			Chosen: 3,
		}
		l.Draw(a.Sub(0, 0, 49, 6))
	})
}

func TestGolden_Page(t *testing.T) {
	inBoth(t, "page", 76, 9, func(a widget.Area) {
		fig := func(s ...string) []widget.Figure {
			out := make([]widget.Figure, len(s))
			for i := range s {
				out[i] = widget.Figure{Text: s[i]}
			}
			return out
		}
		struck := fig("Quarry", "", "62°14′05″", "242°14′11″", "", "", "")
		struck[3].Struck = true
		p := widget.Table{
			Columns: []widget.Column{{Title: "target", Width: 10}, {Title: "", Width: 2}, {Title: "FL", Width: 14, Align: widget.Right}, {Title: "FR", Width: 14, Align: widget.Right}, {Title: "2c", Width: 5, Align: widget.Right}, {Title: "mean", Width: 10, Align: widget.Right}, {Title: "reduced", Width: 11, Align: widget.Right}},
			Lines: []widget.TableLine{
				{Heading: "Round 1   circle near 0°"},
				{Figures: fig("Alder RO", "", "0°00′25″", "180°00′31″", "−6″", "0°00′28″", "0°00′00″")},
				{Figures: struck},
				{Figures: fig("", "", "", "242°14′10″", "−5″", "62°14′08″", "62°13′40″")},
				{Figures: fig("Spire", "!", "131°02′50″", "311°02′54″", "−4″", "131°02′52″", "131°02′24″")},
				{Rule: true},
				{Heading: "Round 2   circle near 90°"},
				{Figures: fig("Alder RO", "", "90°10′05″", "", "", "", "")},
				{Figures: fig("Quarry", "▸", "", "", "", "", "")},
			},
		}
		p.Draw(a)
	})
}

func TestGolden_Form(t *testing.T) {
	inBoth(t, "form", 62, 9, func(a widget.Area) {
		f := widget.Form{Fields: []widget.FormField{
			{Label: "Station"}, {Label: "Reference object", Problem: "give the reference object a name"},
			{Label: "Unit", Choices: []string{"dms", "gon"}, Hint: "How the circle is read."}, {Label: "Observer"},
		}, Chosen: 2}
		f.Fields[0].Text.Set("Weir")
		f.Fields[3].Text.Set("Ines Holm")
		f.Draw(a)
		g := widget.Form{Fields: f.Fields[3:], LabelWidth: 16}
		g.Draw(a.Sub(0, 7, a.W, 1))
	})
}

func TestGolden_Entry(t *testing.T) {
	inBoth(t, "entry", 40, 9, func(a widget.Area) {
		e := widget.Entry{Notation: widget.Notation{Unit: reduce.DMS, LeastCount: 5 * reduce.Arcsecond}}
		for i, r := range "1234512" {
			e.Insert(r)
			a.Text(0, i, look.Entry, e.Formatted())
		}
	})
}
