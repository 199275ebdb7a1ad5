package tui

import (
	"example.org/readback/booking"
	"example.org/readback/reduce"
	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// Sizes of the booking screen, in cells.
const (
	padW      = 28  // width of the keypad
	padH      = 12  // and its least height
	besideW   = 110 // from here on pictures stand beside the page
	pointingH = 3
)

func (s *bookingScreen) draw(v *view, a widget.Area) {
	top, rest, figures := s.split(v, a)
	if v.prefs.Keypad && v.asks && a.W >= padW+30 && a.H >= padH {
		var pad widget.Area
		top, pad = top.Right(padW)
		top = top.Sub(0, 0, top.W-1, top.H)
		drawPad(pad, v.zones)
	}
	s.drawTop(v, top, figures)
	if rest.H < 2 {
		return
	}
	rest.HRule(0, look.Rule)
	_, rest = rest.Top(1)
	if rest.W >= besideW && rest.H >= 12 {
		var side widget.Area
		rest, side = rest.Left(min(rest.W*62/100, 96))
		drawPictures(v, side.Sub(2, 0, side.W-2, side.H))
	}
	s.drawPage(v, rest)
}

// split gives the pointing and the entry what they need and the page the rest.
func (s *bookingScreen) split(v *view, a widget.Area) (top, rest widget.Area, figures int) {
	figures = int(widget.Tall)
	if !v.asks {
		top, rest = a.Top(min(pointingH+1+2*len(v.holds()), a.H))
		return top, rest, figures
	}
	gaps := 0
	switch {
	case a.H >= 34:
		figures, gaps = int(widget.Huge), 2
	case a.H >= 18:
		gaps = 1
	}
	pad := v.prefs.Keypad && a.W >= padW+30 && a.H >= padH
	w := a.W
	if pad {
		w -= padW + 1
	}
	h := pointingH + gaps + figures + max(3, s.checkRows(v, w))
	if v.drill {
		h++
	}
	if pad {
		h = max(h, padH)
		if a.H >= 26 {
			h = max(h, 16)
		}
	}
	top, rest = a.Top(min(h, a.H))
	return top, rest, figures
}

// checkRows is how many rows the check line needs.
func (s *bookingScreen) checkRows(v *view, w int) int {
	if s.asking != nil {
		return 1 + len(widget.Wrap(v.theme.Rewrite(s.askingText()), w-2))
	}
	_, word, _ := s.judged.state.mark()
	return len(widget.Wrap(v.theme.Rewrite(s.judged.text), w-widget.Width(word)-7))
}

// askingText is why the entry is marked.
func (s *bookingScreen) askingText() string {
	text := ""
	for _, f := range s.asking {
		if f.Severity == booking.Stop {
			text += f.Text + " "
		}
	}
	return text
}

// drawTop draws the pointing, the entry in tall figures, and the check line.
func (s *bookingScreen) drawTop(v *view, a widget.Area, figures int) {
	head, a := a.Top(pointingH)
	if !v.asks {
		s.drawDone(v, head, a)
		return
	}
	drawPointing(v, head)
	if v.drill {
		var strip widget.Area
		strip, a = a.Top(1)
		x := strip.Text(1, 0, look.Strong, "The observer calls: ")
		strip.Text(x, 0, look.Strong, v.called)
	}
	need := max(3, s.checkRows(v, a.W))
	if a.H > figures+need {
		_, a = a.Top(1)
	}
	f := s.entry.Formatted()
	t := widget.TallestFor(v.theme.Rewrite(f), a.W-2, figures)
	if v.theme.Signs == look.ASCII {
		t = widget.TallestFor(f, a.W-2, figures)
	}
	a.Sub(1, 0, a.W-2, int(t)).Tall(look.Entry, t, f)
	_, a = a.Top(figures)
	if a.H > need && s.asking == nil {
		_, a = a.Top(1)
	}
	s.drawCheck(v, a)
}

// drawCheck draws the state of the entry in a mark, a word and a sentence, and
// under it how readings are keyed where the sentence leaves room.
func (s *bookingScreen) drawCheck(v *view, a widget.Area) {
	if s.asking != nil {
		s.drawAsking(v, a)
		return
	}
	sign, word, role := s.judged.state.mark()
	x := a.Text(1, 0, role, " "+sign+" "+word+" ")
	rows := a.Sub(x+1, 0, a.W-x-1, a.H).Paragraph(look.Base, s.judged.text)
	if rows < a.H {
		a.Sub(1, a.H-1, a.W-1, 1).Text(0, 0, look.Aside, widget.Cut(v.theme.Rewrite(notationText(v.setup.Spec, v.slot)), a.W-1))
	}
}

// drawAsking asks whether a marked entry has been read again.
func (s *bookingScreen) drawAsking(v *view, a widget.Area) {
	a.Fill(look.Stop, ' ')
	x := a.Text(1, 0, look.Stop, "! Has the observer read it again? ")
	x = drawKey(a, x, 0, "Y")
	x = a.Text(x, 0, look.Stop, " yes  ")
	x = drawKey(a, x, 0, "N")
	a.Text(x, 0, look.Stop, " no")
	a.Sub(1, 1, a.W-2, a.H-1).Paragraph(look.Stop, s.askingText())
}

// drawDone says that nothing is called.
func (s *bookingScreen) drawDone(v *view, head, a widget.Area) {
	role, word := look.Stop, "Hold"
	if v.mayLift() {
		role, word = look.Good, "Lift"
	}
	head.Fill(role, ' ')
	x := bigWord(head, role, word)
	head.Sub(x, 0, head.W-x-1, 3).Paragraph(role, "Everything that was called is booked. The verdict is "+word+". Enter shows the checks.")
	y := 1
	for _, r := range v.holds() {
		y += a.Sub(1, y, a.W-2, a.H-y).Paragraph(look.Base, "! "+r)
	}
	v.zones.add(head, named("enter"))
}

// drawPage draws the booked page, scrolled to the pointing that is next.
func (s *bookingScreen) drawPage(v *view, a widget.Area) {
	if s.page == nil || s.pageVersion != v.version || s.pageW != a.W {
		s.page, s.pageVersion, s.pageW = pageOf(v, a.W, true), v.version, a.W
	}
	if s.page.now < 0 {
		s.page.scroll(len(s.page.lines), a.H)
	}
	s.page.show(a.H)
	at := s.page.top
	s.page.scroll(s.off, a.H)
	s.off = s.page.top - at
	s.page.draw(a, nil)
	v.zones.add(a, char('p'))
}

// drawPointing draws face, target and what the observer does: the largest words
// of the screen.
func drawPointing(v *view, a widget.Area) {
	a.Fill(look.Current, ' ')
	x := 1
	f := v.slot.Face.String()
	if f != "" && a.W >= 44 {
		x += a.Sub(x, 0, a.W-x, 3).Tall(look.Current, widget.Tall, f) + 3
	}
	name := v.slot.Target
	if v.slot.Quantity == booking.InstrumentHeight {
		name = v.setup.Spec.Station
	}
	before, sight := v.doing()
	w := wordWidth(name)
	rows := len(widget.Wrap(v.theme.Rewrite(sight), max(a.W-x-w-4, 1)))
	if before != "" {
		rows += len(widget.Wrap(v.theme.Rewrite(before), max(a.W-x-w-4, 1)))
	}
	if w > 0 && v.theme.Signs != look.ASCII && x+w+24 < a.W && rows <= 3 {
		drawWord(a.Sub(x, 0, w, 3), look.Current, name)
		x += w + 3
		y := 0
		if before != "" {
			y = a.Sub(x, 0, a.W-x-1, 3).Paragraph(look.Current, before)
		}
		a.Sub(x, y, a.W-x-1, 3-y).Paragraph(look.Current, sight)
		return
	}
	if f != "" && a.W < 44 {
		name = f + " " + name
	}
	a.Text(x, 0, look.Current, widget.Cut(name, a.W-x))
	text := sight
	if before != "" {
		text = before + " " + sight
	}
	a.Sub(x, 1, a.W-x-1, 2).Paragraph(look.Current, text)
}

// notationText states how the reading is keyed, with an example that has nothing
// to do with the pointing.
func notationText(spec booking.Spec, k booking.Slot) string {
	if !k.Quantity.Angular() {
		return "Plain decimal in " + spec.LengthUnit.String() + ": 12.345"
	}
	if notationOf(spec, k).Unit == reduce.GonUnit {
		return "Plain decimal in gon: 123.456"
	}
	if spec.Instrument.Places() > 0 {
		return "Digits fill from the right: 1234512.5 is 123°45′12.5″. Or 123 45 12.5"
	}
	return "Digits fill from the right: 1234515 is 123°45′15″. Or 123 45 15"
}

// drawPad draws the keypad and makes its keys places to touch.
func drawPad(a widget.Area, z *zones) {
	widget.DrawKeypad(a)
	for y := 0; y < a.H; y++ {
		for x := 0; x < a.W; x++ {
			k, ok := widget.KeypadAt(a.W, a.H, x, y)
			if !ok {
				continue
			}
			z.addRun(a.X+x, a.Y+y, padPress(k))
		}
	}
}

// padPress is the press of a keypad key.
func padPress(k widget.PadKey) press {
	switch k.Rune {
	case widget.PadBack:
		return named("backspace")
	case widget.PadEnter:
		return named("enter")
	}
	return char(k.Rune)
}
