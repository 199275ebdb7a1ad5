package tui

import (
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// cellH is the height of a cell to be touched with a glove.
const cellH = 3

// a cell of a list as it is drawn where touches are wanted: two lines of words.
type touchCell struct {
	mark, upper, lower string
	role               look.Role // of the mark
}

// touchGrid draws rows of a list as cells large enough for a gloved finger, as
// many as fit, so that the chosen one is seen; each is a touch on its row.
func touchGrid(v *view, a widget.Area, n, chosen int, cell func(i int) touchCell) {
	cols := max(a.W/36, 1)
	rows := a.H / cellH
	if rows == 0 || n == 0 {
		return
	}
	top := max(min(chosen/cols-rows/2, (n+cols-1)/cols-rows), 0)
	for i := top * cols; i < n && i/cols-top < rows; i++ {
		x0, x1 := i%cols*a.W/cols, (i%cols+1)*a.W/cols
		box := a.Sub(x0, (i/cols-top)*cellH, x1-x0, cellH)
		v.zones.add(box, rowPress(i))
		c := cell(i)
		role := look.Base
		if i == chosen {
			role = look.Chosen
			box.Sub(0, 0, box.W-1, box.H).Fill(role, ' ')
			box.Text(0, 0, role, "›")
		}
		x := 2
		if c.mark != "" {
			mark := c.role
			if i == chosen {
				mark = role
			}
			x = box.Text(x, 0, mark, c.mark) + 1
		}
		box.Text(x, 0, strongOr(role), widget.Cut(v.theme.Rewrite(c.upper), box.W-x-1))
		box.Text(2, 1, role, widget.Cut(v.theme.Rewrite(c.lower), box.W-3))
		for x := 0; x < box.W-1; x++ {
			box.Rune(x, 2, look.Rule, '─')
		}
	}
	if top > 0 {
		a.Rune(a.W-1, 0, look.Mark, '↑')
	}
	if (top+rows)*cols < n {
		a.Rune(a.W-1, a.H-1, look.Mark, '↓')
	}
}

func strongOr(r look.Role) look.Role {
	if r == look.Base {
		return look.Strong
	}
	return r
}

// drawKey prints a key as the bar does: on a ground of its own, or in brackets
// where there are no colours. It returns the column behind it.
func drawKey(a widget.Area, x, y int, k string) int {
	if a.Theme().Coloured() {
		return a.Text(x, y, look.Key, " "+k+" ")
	}
	return a.Text(x, y, look.Key, "["+k+"]")
}
