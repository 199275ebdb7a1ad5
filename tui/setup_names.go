package tui

import (
	"strings"

	"example.org/readback/booking/spec"
)

// forget ends a completion.
func (s *setupScreen) forget() {
	s.at, s.stem, s.offered, s.alike = -1, "", nil, false
	if !isName(s.form.Chosen) {
		return
	}
	text := s.form.field().Text.Text()
	s.word = 0
	if s.form.Chosen == fTargets {
		s.word = strings.LastIndexByte(text, ',') + 1
		for s.word < len(text) && text[s.word] == ' ' {
			s.word++
		}
	}
	s.stem = text[s.word:]
	if s.form.field().Offered {
		s.word, s.stem = 0, ""
	}
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
	if len(out) == 0 && !used[s.stem] {
		out = s.alikeNames(used)
	}
	return out
}

// alikeNames are the known names that the word may be a slip of.
func (s *setupScreen) alikeNames(used map[string]bool) (out []string) {
	if n, ok := spec.Near(s.stem, s.names); ok && !used[n] {
		out = append(out, n)
	}
	s.alike = len(out) > 0
	return out
}

// complete writes the next name on offer in place of the word.
func (s *setupScreen) complete(n int) bool {
	k := len(s.offered)
	if k == 0 {
		return false
	}
	s.at = ((s.at+n)%k + k) % k
	f := s.form.field()
	f.Text.Set(f.Text.Text()[:s.word] + s.offered[s.at])
	f.Offered = false
	return true
}

// takeOffer writes a touched name; behind a target the next one may follow.
func (s *setupScreen) takeOffer(name string) {
	f := s.form.field()
	f.Offered = false
	text := f.Text.Text()[:s.word] + name
	if s.form.Chosen == fTargets {
		f.Text.Set(text + ", ")
		s.forget()
		return
	}
	f.Text.Set(text)
	s.next()
}
