package widget_test

import (
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.org/readback/reduce"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// screen lays a full window as the booking screen does: a bar, the call, the
// entry in tall figures, the page, the list of pointings, the action bar.
func screen(f *widget.Frame, e *widget.Entry, page *widget.Table, list *widget.List) string {
	f.Reset(f.Theme(), 100, 30)
	a := f.Area()
	bar, a := a.Top(1)
	bar.Line(look.Bar, " Weir   round 2 of 2   face left   T-5 4471")
	a, actions := a.Bottom(3)
	widget.Actions{Bindings: bindings, CellH: 3}.Draw(actions)
	head, a := a.Top(8)
	head.Text(2, 1, look.Strong, "FL  Spire  swing clockwise, sight, read the circle")
	s := e.Formatted()
	head.Sub(2, 3, 96, 3).Tall(look.Entry, widget.Tall, s)
	head.Text(2, 7, look.Good, "✓ agrees with round 1: +3″ of 10″")
	left, right := a.Left(68)
	page.Draw(left)
	list.Draw(right.Box(look.Rule, "Round 2, face left"))
	return f.String()
}

func screenParts() (*widget.Entry, *widget.Table, *widget.List) {
	e := &widget.Entry{Notation: widget.Notation{Unit: reduce.DMS, LeastCount: reduce.Arcsecond}}
	e.Set("1310250")
	page := &widget.Table{Columns: []widget.Column{{Title: "target", Width: 10}, {Title: "FL", Width: 12, Align: widget.Right}, {Title: "FR", Width: 12, Align: widget.Right}, {Title: "2c", Width: 5, Align: widget.Right}, {Title: "mean", Width: 11, Align: widget.Right}, {Title: "reduced", Width: 11, Align: widget.Right}}}
	for range 16 {
		page.Lines = append(page.Lines, widget.TableLine{Figures: []widget.Figure{{Text: "Quarry"}, {Text: "62°14′05″"}, {Text: "242°14′11″", Struck: true}, {Text: "−6″", Role: look.Good}, {Text: "62°14′08″"}, {Text: "62°13′40″"}}})
	}
	list := &widget.List{Columns: []widget.Column{{Width: 12}, {Width: 11, Align: widget.Right}}, Chosen: 3}
	for range 10 {
		list.Rows = append(list.Rows, widget.Row{Mark: "✓", Cells: []string{"Chapel", "62°14′05″"}})
	}
	return e, page, list
}

// One view of a full window of 100 × 30, laid by hand.
func BenchmarkView_ByHand(b *testing.B) {
	f := widget.NewFrame(look.Day(), 100, 30)
	e, page, list := screenParts()
	b.ReportAllocs()
	for b.Loop() {
		screen(f, e, page, list)
	}
}

// The same window laid by lipgloss: boxes, joins, a style for each cell.
func BenchmarkView_Lipgloss(b *testing.B) {
	lipgloss.SetColorProfile(termenv.ANSI256)
	lipgloss.SetHasDarkBackground(true)
	base := lipgloss.NewStyle().Foreground(lipgloss.Color("16")).Background(lipgloss.Color("231"))
	cell := base.Width(12).Align(lipgloss.Right)
	strong, struck, good, bar := base.Bold(true), cell.Strikethrough(true), base.Background(lipgloss.Color("157")), base.Reverse(true).Width(99)
	box := base.Border(lipgloss.NormalBorder()).Width(29)
	b.ReportAllocs()
	for b.Loop() {
		var rows, list []string
		for range 16 {
			rows = append(rows, lipgloss.JoinHorizontal(lipgloss.Top, cell.Render("Quarry"), cell.Render("62°14′05″"), struck.Render("242°14′11″"), cell.Render("−6″"), cell.Render("62°14′08″")))
		}
		for range 10 {
			list = append(list, base.Render("✓ Chapel   ")+base.Render("62°14′05″"))
		}
		head := lipgloss.JoinVertical(lipgloss.Left, "", strong.Render("FL  Spire  swing clockwise, sight, read the circle"), "", strong.Render("131°02′50″"), strong.Render("131°02′50″"), strong.Render("131°02′50″"), "", good.Render("✓ agrees with round 1: +3″ of 10″"))
		var cells []string
		for _, k := range bindings {
			cells = append(cells, box.Width(10).Render(strong.Render(k.Help().Key)+" "+k.Help().Desc))
		}
		v := lipgloss.JoinVertical(lipgloss.Left, bar.Render(" Weir   round 2 of 2"), head,
			lipgloss.JoinHorizontal(lipgloss.Top, lipgloss.JoinVertical(lipgloss.Left, rows...), box.Render(strings.Join(list, "\n"))),
			lipgloss.JoinHorizontal(lipgloss.Top, cells...))
		if len(v) < 1000 {
			b.Fatal("nothing drawn")
		}
	}
}
