package tui

import (
	"strings"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// forget ends a completion.
func (s *setupScreen) forget() {
	s.at, s.stem, s.offered = -1, "", nil
	if !isName(s.form.Chosen) {
		return
	}
	text := s.form.Field().Text.Text()
	s.word = 0
	if s.form.Chosen == fTargets {
		s.word = strings.LastIndexByte(text, ',') + 1
		for s.word < len(text) && text[s.word] == ' ' {
			s.word++
		}
	}
	s.stem = text[s.word:]
	s.offered = s.candidates()
}

// candidates are the known names that begin as the word does and are not used
// yet.
func (s *setupScreen) candidates() []string {
	used := map[string]bool{}
	for _, i := range []int{fStation, fRO, fTargets} {
		text := s.form.Fields[i].Text.Text()
		if i == s.form.Chosen {
			text = text[:s.word]
		}
		for _, n := range splitNames(text) {
			used[n] = true
		}
	}
	var out []string
	for _, n := range s.names {
		if !used[n] && strings.HasPrefix(strings.ToLower(n), strings.ToLower(s.stem)) && n != s.stem {
			out = append(out, n)
		}
	}
	return out
}

// complete writes the next name on offer in place of the word.
func (s *setupScreen) complete(n int) bool {
	k := len(s.offered)
	if k == 0 {
		return false
	}
	s.at = ((s.at+n)%k + k) % k
	f := s.form.Field()
	f.Text.Set(f.Text.Text()[:s.word] + s.offered[s.at])
	return true
}

// takeOffer writes a touched name; behind a target the next one may follow.
func (s *setupScreen) takeOffer(i int) {
	if i >= len(s.offered) {
		return
	}
	f := s.form.Field()
	text := f.Text.Text()[:s.word] + s.offered[i]
	if s.form.Chosen == fTargets {
		f.Text.Set(text + ", ")
		s.forget()
		return
	}
	f.Text.Set(text)
	s.move(1)
}

// offerRows is the height of the names on offer: taller where they are touched.
func (s *setupScreen) offerRows(v *view, body widget.Area) int {
	if v.prefs.Keypad {
		return min(2*cellH, body.H/2)
	}
	return min(3, body.H/3)
}

// drawOffers draws the known names as cells to touch.
func (s *setupScreen) drawOffers(v *view, a widget.Area) {
	x := a.Text(0, 0, look.Aside, "Known: ")
	y, h, pad := 0, 1, 2
	if v.prefs.Keypad {
		h, pad = cellH, 6
	}
	for i, n := range s.offered {
		w := widget.Width(n) + pad
		if x+w > a.W {
			x, y = 7, y+h
		}
		if y+h > a.H {
			return
		}
		role := look.Key
		if i == s.at {
			role = look.Chosen
		}
		cell := a.Sub(x, y, w, h)
		v.zones.add(cell, rowPress(offerRow+i))
		if h == cellH {
			cell = cell.Box(look.Rule, "")
			role = look.Strong
		}
		cell.Fit(0, 0, cell.W, role, n, widget.Middle)
		x += w + 1
	}
}
