package widget_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

func TestField_Edits(t *testing.T) {
	var f widget.Field
	f.Insert([]rune("Zoe")...)
	f.Insert('\u0308') // combines with the e before the cursor
	f.Insert([]rune(" 字x")...)
	if got := f.Text(); got != "Zoe\u0308 字x" {
		t.Fatalf("text %q", got)
	}
	f.Backspace()
	f.Backspace()
	f.Backspace()
	f.Backspace() // the e with its mark goes in one
	if got := f.Text(); got != "Zo" {
		t.Errorf("after four times Backspace %q", got)
	}
	f.Move(-1)
	f.Insert('r')
	f.Delete()
	f.Move(-9)
	f.Delete()
	if got := f.Text(); got != "r" {
		t.Errorf("text %q, expected r", got)
	}
	for _, r := range "\x1b\n\u202e" {
		if f.Insert(r) {
			t.Errorf("%q was taken", r)
		}
	}
	f.Clear()
	if f.Backspace() || f.Delete() || f.Text() != "" {
		t.Error("an empty field gave something")
	}
}

func TestField_Limit(t *testing.T) {
	f := widget.Field{Limit: 4}
	if !f.Insert([]rune("abcd")...) || f.Insert('e') || f.Text() != "abcd" {
		t.Errorf("text %q", f.Text())
	}
}

// Whatever is done, the text stays valid, a character is deleted whole, and the
// cursor is seen.
func TestField_StaysWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var f widget.Field
		fr := widget.NewFrame(look.Plain(), 12, 1)
		for range rapid.IntRange(0, 20).Draw(t, "steps") {
			switch rapid.IntRange(0, 4).Draw(t, "step") {
			case 0, 1:
				f.Insert([]rune(text(t, "text"))...)
			case 2:
				f.Backspace()
			case 3:
				f.Delete()
			case 4:
				f.Move(rapid.IntRange(-3, 3).Draw(t, "move"))
			}
			if !utf8.ValidString(f.Text()) {
				t.Fatalf("text %q", f.Text())
			}
			fr.Reset(look.Plain(), 12, 1)
			f.Draw(fr.Area(), look.Entry, true)
			if !strings.ContainsAny(fr.Plain(), "_|") {
				t.Fatalf("no cursor in %q", fr.Plain())
			}
			checkView(t, fr)
		}
	})
}

func TestForm_Answers(t *testing.T) {
	f := widget.Form{Fields: []widget.FormField{
		{Label: "Station", Offer: []string{"Alder", "Weir"}},
		{Label: "Unit", Choices: []string{"dms", "gon"}},
		{Label: "Closing", Choices: []string{"yes", "no"}},
	}}
	f.Walk(1)
	f.Walk(1)
	if got := f.Fields[0].Value(); got != "Weir" {
		t.Errorf("offered %q", got)
	}
	f.Walk(1)
	f.Insert([]rune(" 2")...) // now one of the booker's own: left and right move the cursor
	f.Walk(-1)
	f.Insert('x')
	if got := f.Fields[0].Value(); got != "Alder x2" {
		t.Errorf("written %q", got)
	}
	f.Move(1)
	f.Insert('g')
	f.Move(1)
	f.Insert(' ')
	if f.Fields[1].Value() != "gon" || f.Fields[2].Value() != "no" || !f.Last() {
		t.Errorf("chosen %q, %q", f.Fields[1].Value(), f.Fields[2].Value())
	}
	f.Walk(1)
	f.Fields[1].Set("dms")
	if f.Fields[2].Value() != "yes" || f.Fields[1].Value() != "dms" || f.Backspace() || f.Move(1) {
		t.Errorf("walked to %q, set to %q", f.Fields[2].Value(), f.Fields[1].Value())
	}
	empty := widget.Form{}
	empty.Walk(1)
	if empty.Insert('a') || empty.Backspace() || empty.Field() != nil {
		t.Error("an empty form took something")
	}
}

// Whatever a part is given, at any size, nothing leaves the window.
func TestParts_NeverLeaveTheWindow(t *testing.T) {
	f := &widget.Frame{}
	rapid.Check(t, func(t *rapid.T) {
		f.Reset(anyTheme(t), rapid.IntRange(0, 50).Draw(t, "w"), rapid.IntRange(0, 12).Draw(t, "h"))
		cols := []widget.Column{{Title: text(t, "title"), Width: rapid.IntRange(0, 12).Draw(t, "cw")}, {Width: rapid.IntRange(0, 12).Draw(t, "cw"), Align: anyAlign(t)}}
		list := widget.List{Columns: cols, Head: rapid.Bool().Draw(t, "head"), Chosen: rapid.IntRange(0, 3).Draw(t, "chosen")}
		table := widget.Table{Columns: cols, Top: rapid.IntRange(0, 3).Draw(t, "top")}
		form := widget.Form{Chosen: rapid.IntRange(0, 3).Draw(t, "chosen")}
		for range rapid.IntRange(0, 5).Draw(t, "n") {
			list.Rows = append(list.Rows, widget.Row{Mark: text(t, "mark"), Cells: []string{text(t, "a"), text(t, "b")}, Role: anyRole(t)})
			table.Lines = append(table.Lines, widget.TableLine{Heading: rapid.SampledFrom([]string{"", "Round 1"}).Draw(t, "heading"), Figures: []widget.Figure{{Text: text(t, "a"), Struck: true}, {Text: text(t, "b"), Struck: rapid.Bool().Draw(t, "struck")}}})
			form.Fields = append(form.Fields, widget.FormField{Label: text(t, "label"), Hint: text(t, "hint"), Problem: text(t, "problem")})
		}
		switch rapid.IntRange(0, 4).Draw(t, "part") {
		case 0:
			list.Draw(f.Area())
		case 1:
			table.Draw(f.Area())
		case 2:
			form.Draw(f.Area())
		case 3:
			widget.DrawKeypad(f.Area())
		case 4:
			widget.Actions{Bindings: bindings, CellH: rapid.IntRange(0, 4).Draw(t, "cell")}.Draw(f.Area())
			widget.HelpList(f.Area(), bindings)
		}
		checkView(t, f)
	})
}

func TestTable_Scrolls(t *testing.T) {
	table := widget.Table{Columns: []widget.Column{{Title: "n", Width: 4}}}
	for i := range 10 {
		table.Lines = append(table.Lines, widget.TableLine{Figures: []widget.Figure{{Text: string(rune('a' + i))}}})
	}
	seen := func(h int) string {
		f := widget.NewFrame(look.Plain(), 6, h)
		table.Draw(f.Area())
		return strings.Join(strings.Fields(f.Plain()), "")
	}
	if got := seen(4); got != "nabc↓" {
		t.Errorf("at first %q", got)
	}
	table.Show(6, 4)
	if got := seen(4); got != "n↑efg↓" {
		t.Errorf("line 6 %q", got)
	}
	table.Scroll(99, 4)
	if got := seen(4); got != "n↑hij" {
		t.Errorf("at the end %q", got)
	}
	table.Show(0, 4)
	table.Scroll(-1, 4)
	if got := seen(4); got != "nabc↓" {
		t.Errorf("back %q", got)
	}
}
