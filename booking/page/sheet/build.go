package sheet

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
)

// page makes the page of one setup.
func (b Binder) page(s Sheet) page {
	w := &writer{setup: s.Setup, red: s.Setup.Reduce(), zone: b.zone()}
	p := page{
		Number:  s.Setup.Number,
		Station: visible(s.Setup.Spec.Station),
		Margin:  fmt.Sprintf("%d · %s · %s", s.Setup.Number, shortened(visible(s.Setup.Spec.Station)), shortened(visible(s.Name))),
		Drill:   s.Book.Drill,
		State:   w.state(),
		Event:   lastEvent(s),
	}
	if s.Book.Drill {
		p.Sections = append(p.Sections, section{Title: "Drill", Whole: true,
			Lead: []string{"This book is a drill: its readings are made up and were never observed."}})
	}
	add := func(ss ...section) { p.Sections = append(p.Sections, ss...) }
	add(w.headSection(s), w.limitSection())
	add(w.amendSection()...)
	add(w.roundSections()...)
	add(w.directionSections()...)
	add(w.suspectSection()...)
	add(w.planSection()...)
	add(w.dotsSection()...)
	add(w.heightSections()...)
	add(w.verdictSection())
	add(w.remarkSection()...)
	add(w.closingSections()...)
	last := &p.Sections[len(p.Sections)-1]
	last.After = append(last.After, "Last event "+p.Event+".", b.printedWords(s.Book))
	return p
}

// marginName is the longest name in the margin, in columns.
const marginName = 30

// shortened cuts a name that is too long for the margin of a page.
func shortened(name string) string {
	if columns(name) <= marginName {
		return name
	}
	return cut(name, marginName-1) + "…"
}

// state is how the setup stands, for the title.
func (w *writer) state() string {
	word := "Lifted"
	switch l := w.setup.Lift; {
	case w.setup.Void != nil:
		word = "Struck whole"
	case l == nil:
		word = verdictWord(check.JudgeReduction(w.setup, w.red)) + ", not yet lifted"
	case l.Despite != "":
		word = "Lifted on Hold"
	}
	if w.setup.Spec.KeyedAfterwards != nil {
		word += ", keyed afterwards"
	}
	return word
}

// lastEvent names the last event of the setup and its hash, by which the sheet
// is matched to its book.
func lastEvent(s Sheet) string {
	t := fmt.Sprint(s.Setup.LastSeq)
	if s.Hash != "" {
		t += ", hash " + visible(s.Hash)
	}
	return t
}

// printedWords say when and with what the sheet was made.
func (b Binder) printedWords(book booking.Book) string {
	at := b.Printed.In(b.zone())
	t := fmt.Sprintf("Sheet made %s %s by readback %s", at.Format("2006-01-02 15:04"), zoneName(at), visible(b.Program))
	if book.Program != "" && book.Program != b.Program {
		t += ", book begun with readback " + visible(book.Program)
	}
	return strings.TrimSpace(t) + "."
}
