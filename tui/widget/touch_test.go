package widget_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// Every key of the keypad answers in the middle of where its word is drawn, at
// any size, and every cell of the keypad is some key's.
func TestKeypad_TouchedWhereDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(widget.PadMinWidth, 80).Draw(t, "w"), rapid.IntRange(widget.PadMinHeight, 40).Draw(t, "h")
		f := widget.NewFrame(look.Plain(), w+1, h)
		widget.DrawKeypad(f.Area())
		lines := strings.Split(f.Plain(), "\n")
		for _, word := range []string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "Back", "Space", "Enter", "."} {
			found := 0
			for y, l := range lines {
				i := strings.Index(l, word)
				if i < 0 {
					continue
				}
				found++
				x := len([]rune(l[:i]))
				k, ok := widget.KeypadAt(w, h, x, y)
				if !ok || k.Word != word {
					t.Fatalf("%s is drawn at %d, %d where %q answers\n%s", word, x, y, k.Word, f.Plain())
				}
			}
			if found != 1 {
				t.Fatalf("%s is drawn %d times\n%s", word, found, f.Plain())
			}
		}
		x, y := rapid.IntRange(0, w-1).Draw(t, "x"), rapid.IntRange(0, h-1).Draw(t, "y")
		if _, ok := widget.KeypadAt(w, h, x, y); !ok {
			t.Fatalf("nothing answers at %d, %d", x, y)
		}
	})
	for _, p := range [][2]int{{-1, 0}, {0, -1}, {30, 0}, {0, 12}} {
		if k, ok := widget.KeypadAt(30, 12, p[0], p[1]); ok {
			t.Errorf("%q answers outside, at %v", k.Word, p)
		}
	}
}

// Cells at the least size are at least 6 × 3.
func TestKeypad_CellsLargeEnough(t *testing.T) {
	size := map[string][2]int{}
	for y := range widget.PadMinHeight {
		for x := range widget.PadMinWidth {
			k, _ := widget.KeypadAt(widget.PadMinWidth, widget.PadMinHeight, x, y)
			s := size[k.Word]
			if y == 0 || y == 3 || y == 6 || y == 9 {
				s[0]++
			}
			if x%7 == 0 {
				s[1]++
			}
			size[k.Word] = s
		}
	}
	for word, s := range size {
		if s[0] < 6 || s[1] < 3 {
			t.Errorf("%s is %d × %d", word, s[0], s[1])
		}
	}
}

// Each action answers where its word is drawn, and no other.
func TestActions_TouchedWhereDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.IntRange(18, 120).Draw(t, "w")
		bar := widget.Actions{Bindings: bindings, CellH: rapid.SampledFrom([]int{1, 3}).Draw(t, "cell")}
		h := bar.Height(w)
		f := widget.NewFrame(look.Plain(), w+1, h)
		bar.Draw(f.Area())
		for y, l := range strings.Split(f.Plain(), "\n") {
			for _, b := range bindings {
				word := b.Help().Desc
				if i := strings.Index(l, "] "+word); i >= 0 {
					x := len([]rune(l[:i])) + 2
					got, ok := bar.At(w, x, y)
					if !ok || got.Help().Desc != word {
						t.Fatalf("%s is drawn at %d, %d where %q answers\n%s", word, x, y, got.Help().Desc, f.Plain())
					}
				}
			}
		}
		for _, b := range bindings {
			if !strings.Contains(f.Plain(), b.Help().Desc) {
				t.Fatalf("%s is missing at width %d\n%s", b.Help().Desc, w, f.Plain())
			}
		}
	})
}

// A binding that is switched off or has no help has no cell.
func TestActions_OnlyWhatCanBeDone(t *testing.T) {
	off := bind("x", "lift")
	off.SetEnabled(false)
	bar := widget.Actions{Bindings: append(bindings[:1:1], off)}
	f := widget.NewFrame(look.Plain(), 60, 1)
	bar.Draw(f.Area())
	if s := f.Plain(); strings.Contains(s, "lift") || !strings.Contains(s, "remark") {
		t.Errorf("drawn: %q", s)
	}
}

// The row that is touched is the row that is drawn there, scrolled or not.
func TestList_TouchedWhereDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, h := rapid.IntRange(1, 30).Draw(t, "rows"), rapid.IntRange(2, 12).Draw(t, "h")
		l := widget.List{Columns: []widget.Column{{Title: "name"}}, Head: rapid.Bool().Draw(t, "head")}
		for i := range n {
			l.Rows = append(l.Rows, widget.Row{Cells: []string{fmt.Sprintf("row%d.", i)}})
		}
		f := widget.NewFrame(look.Plain(), 30, h)
		for range rapid.IntRange(0, 4).Draw(t, "moves") {
			l.Move(rapid.IntRange(-9, 9).Draw(t, "move"))
			f.Reset(look.Plain(), 30, h)
			l.Draw(f.Area())
		}
		f.Reset(look.Plain(), 30, h)
		l.Draw(f.Area())
		for y, line := range strings.Split(strings.TrimRight(f.Plain(), "\n"), "\n") {
			i, ok := l.At(h, y)
			if drawn := strings.Contains(line, "row"); ok != drawn || ok && !strings.Contains(line, fmt.Sprintf("row%d.", i)) {
				t.Fatalf("row %d (%v) answers for line %q", i, ok, line)
			}
		}
		if !strings.Contains(f.Plain(), fmt.Sprintf("› row%d.", l.Chosen)) {
			t.Fatalf("the chosen row %d is not seen\n%s", l.Chosen, f.Plain())
		}
	})
}

// The field that is touched is the field that is drawn there, and the chosen one
// is always seen.
func TestForm_TouchedWhereDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, h := rapid.IntRange(1, 12).Draw(t, "fields"), rapid.IntRange(2, 10).Draw(t, "h")
		var form widget.Form
		for i := range n {
			form.Fields = append(form.Fields, widget.FormField{Label: fmt.Sprintf("field%d.", i), Hint: rapid.SampledFrom([]string{"", "a hint"}).Draw(t, "hint"), Problem: rapid.SampledFrom([]string{"", "a problem"}).Draw(t, "problem")})
		}
		f := widget.NewFrame(look.Plain(), 50, h)
		for range rapid.IntRange(1, 5).Draw(t, "moves") {
			form.Move(rapid.IntRange(-5, 5).Draw(t, "move"))
			f.Reset(look.Plain(), 50, h)
			form.Draw(f.Area())
		}
		for y, line := range strings.Split(strings.TrimRight(f.Plain(), "\n"), "\n") {
			if i, ok := form.At(h, y); strings.Contains(line, "field") && (!ok || !strings.Contains(line, fmt.Sprintf("field%d.", i))) {
				t.Fatalf("field %d (%v) answers for line %q", i, ok, line)
			}
		}
		if !strings.Contains(f.Plain(), fmt.Sprintf("› field%d.", form.Chosen)) {
			t.Fatalf("the chosen field %d is not seen\n%s", form.Chosen, f.Plain())
		}
	})
}
