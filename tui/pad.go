package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// touchRoom tells whether a window has room for cells to touch.
func touchRoom(w, h int) bool { return w >= 60 && h >= 20 }

// cells are bindings as cells two rows tall, cols of them beside each other, a
// blank row between.
func cells(f *frame, ks []key.Binding, w, cols int) block {
	t := f.theme
	var b block
	if len(ks) == 0 {
		return b
	}
	cw := (w-f.edge()-f.margin()+1)/cols - 1
	for i := 0; i < len(ks); i += cols {
		if i > 0 {
			b.add("")
		}
		upper, lower := t.Row().To(f.edge()), t.Row().To(f.edge())
		for _, k := range ks[i:min(i+cols, len(ks))] {
			x := upper.Width()
			role := look.Cell
			if k.Help().Key == "Y" {
				role = look.PadMain
			}
			sign, first, second := cellWords(t, k, cw)
			head := role
			if role == look.Cell {
				head = look.BarCall
			}
			upper.Put(head, sign).Left(role, first, cw-look.Width(sign))
			lower.Left(role, second, cw)
			upper.To(x + cw + 1)
			lower.To(x + cw + 1)
			b.touch(x, len(b.lines), cw, 2, pressOf(k))
		}
		b.add(upper.String(), lower.String())
	}
	return b
}

// cellWords are what stands in a cell: its key above its word, or where the word
// is longer than the cell its key and the word on both rows.
func cellWords(t *look.Theme, k key.Binding, w int) (sign, first, second string) {
	at := " "
	if !t.Coloured() {
		at = "│"
	}
	sign, word := at+k.Help().Key, k.Help().Desc
	if look.Width(word) < w {
		return sign, "", at + word
	}
	room := w - look.Width(sign) - 1
	first, second, _ = strings.Cut(word, " ")
	for first != "" && second != "" {
		next, rest, _ := strings.Cut(second, " ")
		if look.Width(first+" "+next) > room {
			break
		}
		first, second = first+" "+next, rest
	}
	if look.Width(first) > room || second == "" { // one long word takes the whole row
		return sign, "", word
	}
	if look.Width(at+second) > w {
		return sign, " " + first, second
	}
	return sign, " " + first, at + second
}

// pictureH is the least height of the pictures that stand above the keypad.
const pictureH = 12

// padBlock draws the keypad at the bottom of h rows, in a tall window pictures above it.
func (a *app) padBlock(pad widget.Keypad, h int) block {
	asking := a.desk.asking != nil || a.modal != nil
	ready := a.desk.judged.state == entryFits || a.desk.judged.state == entryWarned
	now := padState{a.v.theme, pad, asking, ready}
	if now != a.padOf || a.padLines == nil {
		a.padOf, a.padLines = now, pad.Draw(a.v.theme, asking, ready)
	}
	b := block{}
	if above := h - pad.H; above >= pictureH && a.w >= wideW {
		b.add(a.desk.pictures(&a.v, pad.W-a.v.margin(), above).lines...)
		for i, l := range b.lines {
			b.lines[i] = look.FitLine(l, pad.W)
		}
	}
	for len(b.lines) < h-pad.H {
		b.add(strings.Repeat(" ", pad.W))
	}
	for _, c := range pad.Cells(asking) {
		b.touch(c.X, len(b.lines)+c.Y, c.W, c.H, padPress(c.Rune))
	}
	b.add(a.padLines...)
	return b
}

// padState is all that the picture of the keypad follows from.
type padState struct {
	theme         *look.Theme
	pad           widget.Keypad
	asking, ready bool
}

// padPress is the press of a keypad key.
func padPress(r rune) press {
	switch r {
	case widget.PadBack:
		return named("backspace")
	case widget.PadEnter:
		return named("enter")
	}
	return char(r)
}

// letterPad is a keyboard for names where touches are wanted.
func letterPad(f *frame, w, h int) block {
	t := f.theme
	var b block
	kw := (w - f.edge() - f.margin()) / 10
	x0 := (w - 10*kw) / 2
	for _, keys := range []string{"1234567890", "QWERTYUIOP", "ASDFGHJKL'", "ZXCVBNM,.-"} {
		upper, lower := t.Row().To(x0), t.Row().To(x0)
		for _, r := range keys {
			b.touch(upper.Width(), len(b.lines), kw-1, 2, char(r))
			padKey(t, upper, lower, string(r), kw)
		}
		b.add(upper.String(), lower.String())
	}
	upper, lower := t.Row().To(x0), t.Row().To(x0)
	for _, k := range []struct {
		word string
		w    int
		p    press
	}{{"Esc", 2, named("esc")}, {"space", 3, char(' ')}, {"⌫", 1, named("backspace")}, {"↑", 1, named("up")}, {"↓", 1, named("down")}, {"Enter", 2, named("enter")}} {
		b.touch(upper.Width(), len(b.lines), k.w*kw-1, 2, k.p)
		padKey(t, upper, lower, k.word, k.w*kw)
	}
	b.add(upper.String(), lower.String())
	return b
}

func padKey(t *look.Theme, upper, lower *look.Row, word string, w int) {
	if !t.Coloured() {
		upper.Left(look.Cell, "│"+look.Middle(word, w-2), w-1).To(upper.Width() + 1)
		lower.Left(look.Cell, "│"+strings.Repeat("▁", w-2), w-1).To(lower.Width() + 1)
		return
	}
	upper.Left(look.Cell, look.Middle(word, w-1), w-1).To(upper.Width() + 1)
	lower.Fill(look.BandLine, "▁", w-1).To(lower.Width() + 1)
}
