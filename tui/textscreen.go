package tui

import (
	"strings"

	"example.org/readback/booking/page"
	"example.org/readback/tui/look"
)

// the textScreen shows a text that is worked out from the whole book: the
// figures, the health of the instruments.
type textScreen struct {
	keptLeaf
	picture bool // shown instead of the text where both have no room
}

func (s *textScreen) enter(*view) { s.keptLeaf, s.picture = keptLeaf{}, false }

func (s *textScreen) actions(v *view) []action {
	figure, health := v.text.which == figureText, v.text.which == healthText
	home := func() []ask { return asks(goTo{onBooking}) }
	as := []action{
		does(keys.Home, home),
		does(keys.Picture, func() []ask { s.picture = !s.picture; return nil }).when(figure || health, ""),
		gives(keys.Figure, showText{figureText}).when(!figure, ""), gives(keys.Health, showText{healthText}).when(!health, ""),
		gives(keys.Work, goTo{onWork}),
		does(keys.Limits, func() []ask { return limitsForm(v) }).when(!health, ""),
		gives(keys.Foresee, showText{foreseenText}).when(figure, ""), gives(keys.Laid, showText{laidText}).when(figure, ""),
		does(keys.PageDown, nil), does(keys.PageUp, nil), does(keys.Up, nil), does(keys.Down, nil),
	}
	return append(as, too(home, keys.Enter)...)
}

func (s *textScreen) draw(v *view, w, h int) block {
	b := titled(v, textTitles[v.text.which], "", w)
	h -= len(b.lines)
	say := func(role look.Role, t string) block {
		b.words(&v.frame, role, t, w)
		return b
	}
	switch {
	case v.text.loading:
		return say(look.Ink, "Working it out.")
	case v.text.err != nil:
		return say(look.Strong, sentence(v.text.err))
	}
	room := w - v.edge() - v.margin()
	pictured := v.text.which == figureText || v.text.which == healthText
	switch {
	case pictured && s.picture:
		lines := s.drawPicture(v, room, h)
		if lines == nil {
			return say(look.Ink, "There is nothing to draw yet: a figure with distances, or two setups with one instrument.")
		}
		for _, l := range lines {
			b.add(v.theme.Row().To(v.edge()).Add(l, room).String())
		}
		return b
	case pictured && w >= besideW:
		text := s.drawText(v, textW+v.edge()+v.margin(), h)
		text.beside(textW+v.edge()+v.margin(), block{lines: s.drawPicture(v, room-textW-4, h)})
		b.put(text)
		return b
	}
	b.put(s.drawText(v, w, h))
	return b
}

// textTitles are the titles of the texts.
var textTitles = map[textKind]string{figureText: "The figure of this book", healthText: "The instruments of this book",
	foreseenText: "What the plan of this book brings", laidText: "The network laid onto its known stations"}

// From besideW columns on the picture stands beside the text, which has textW.
const (
	besideW = 110
	textW   = 76
)

// drawText sets the page for the width and draws what of it is seen.
func (s *textScreen) drawText(v *view, w, h int) (b block) {
	s.keptLeaf.draw(v, &b, w, h, 0, func(v *view, w int) { s.leaf.page(*v.text.page) })
	return b
}

// drawPicture draws what belongs to the text, nothing where there is none.
func (s *textScreen) drawPicture(v *view, w, h int) []string {
	if v.text.which == healthText {
		return drawHistory(v, v.text.instruments, w, h)
	}
	return drawPlan(v, v.text.report, w, h)
}

// pageRoles says how a screen paints what a page says.
var pageRoles = map[page.Role]look.Role{page.Strong: look.Strong, page.Title: look.Quiet, page.Aside: look.Quiet, page.Stop: look.Out, page.Warn: look.Warn, page.Struck: look.Struck, page.Current: look.Accent}

// table appends the rows of a table of the page model.
func (l *leaf) table(cols []page.Column, rows ...page.Row) {
	l.page(page.Page{Blocks: []page.Block{page.Table{Columns: cols, Groups: []page.Group{{Rows: rows}}}}})
}

// page appends the lines of a page.
func (l *leaf) page(p page.Page) {
	for _, runs := range page.Screen(p, l.room()) {
		var inks []ink
		x := 0
		for _, r := range runs {
			n := page.Width(r.Text)
			if strings.TrimSpace(r.Text) != "" {
				inks = append(inks, ink{x: x, w: n, text: r.Text, role: pageRoles[r.Role]})
			}
			x += n
		}
		l.add(inks...)
	}
}
