package tui

import (
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/tui/look"
	tea "github.com/charmbracelet/bubbletea"
)

// seek starts the search for the reading at fault once for a setup whose
// readings do not fit each other. It may take longer than a key.
func (a *app) seek() tea.Cmd {
	v := &a.v
	if !v.open || !v.misfit() || v.sought == v.setup.LastSeq {
		return nil
	}
	v.sought = v.setup.LastSeq
	s := v.setup
	return brings(func() culprit.Finding { return check.Culprits(s) }, func(a *app, found culprit.Finding) tea.Cmd {
		if s.Number == a.v.setup.Number && s.LastSeq == a.v.setup.LastSeq { // else it has gone on
			a.v.culprits = found
			a.v.version++
		}
		return nil
	})
}

// misfit tells whether readings of the setup break a limit that they should keep
// among themselves.
func (w *work) misfit() bool {
	for _, c := range w.verdict.Checks {
		switch c.Name {
		case "agreement", "misclosure", "repetition", "2c", "index", "graduation":
			if !c.Met {
				return true
			}
		}
	}
	return false
}

// explain sets what explains the misfit and what settles it; where told, the suspects
// stand among the checks already.
func (l *leaf) explain(v *view, told bool) {
	if told || len(v.culprits.Suspects) == 0 || !v.misfit() {
		return
	}
	title := "What explains it"
	if v.culprits.Suspects[0].Alike {
		title = "What may explain it: these fit equally well"
	}
	l.section(title, "")
	for _, s := range v.culprits.Suspects {
		l.marked("?", look.Accent, look.Ink, 0, s.Text)
	}
	if t := v.culprits.Remedy.Text; t != "" {
		l.marked("▸", look.Accent, look.Strong, 0, t)
	}
	l.blank()
}

// beforeVerticals says what is suspect when the rounds are done and nothing behind
// them is booked yet: a round more is easier now than after the verticals.
func (v *view) beforeVerticals() string {
	if !v.asks || v.chosen || v.prompt.Phase != programme.InVerticals && v.prompt.Phase != programme.InDistances {
		return ""
	}
	for _, r := range v.setup.Readings {
		if r.Stands() && r.Slot.Quantity != spec.Horizontal && r.Slot.Quantity != spec.InstrumentHeight {
			return ""
		}
	}
	f := v.verdict.Culprits
	if len(f.Suspects) == 0 {
		return ""
	}
	text := f.Suspects[0].Text
	if f.Suspects[0].Alike {
		text = "Several readings are suspect alike: L names them."
	}
	return text + " A calls another round before the rest."
}
