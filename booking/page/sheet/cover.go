package sheet

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking/check"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
)

// A Cover is what stands before the setups of a day or a book: its stations, the
// figures they make, the state of the instruments, all by the setups of the
// binder.
type Cover struct {
	LastSeq uint64 // number of the book's last event, 0: not said
	Hash    string // of that event, in hexadecimal
	Files   []File // handed over with it
}

// A File is a file that is handed over.
type File struct {
	Name, Holds string
	Bytes       int64
	SHA256      string // in hexadecimal
}

// reports work the figures of every book in the binder.
func (b Binder) reports() []network.Report {
	var ins []network.Input
	var names []string
	for _, s := range b.Sheets {
		if s.Setup.Void != nil {
			continue
		}
		i := slices.Index(names, s.Name)
		if i < 0 {
			i, names = len(names), append(names, s.Name)
			in := network.Input{Known: s.Book.Known, Centres: s.Book.Centres, Levels: s.Book.Levels, Settings: network.DefaultSettings()}
			if set, err := in.Settings.Recorded(s.Book.Figures); err == nil { // a name of a later edition leaves them as the program takes them
				in.Settings = set
			}
			for _, k := range s.Book.Bearings {
				in.Bearings = append(in.Bearings, network.KnownBearing(k))
			}
			ins = append(ins, in)
		}
		ins[i].Setups = append(ins[i].Setups, check.Summarize(s.Setup))
	}
	var out []network.Report
	for _, in := range ins {
		out = append(out, network.Work(in))
	}
	return out
}

// instruments follow the instruments over the setups of the binder.
func (b Binder) instruments() []instrument.Instrument {
	var samples []instrument.Sample
	for _, s := range b.Sheets {
		if s.Setup.Void == nil {
			samples = append(samples, instrument.SampleOf(s.Setup))
		}
	}
	return instrument.Work(samples, instrument.DefaultSettings())
}

// cover sets the leaves of the cover: one where there is room, in lower rows if
// need be.
func (b Binder) cover() []page.Leaf {
	leaves := b.coverAt(page.Mid)
	if len(leaves) > 1 {
		if lower := b.coverAt(page.Dense); len(lower) < len(leaves) {
			return lower
		}
	}
	return leaves
}

// coverAt sets the leaves of the cover: the stations first, then the figures, as
// many to a leaf as have room, and the signatures on the last.
func (b Binder) coverAt(density page.Density) []page.Leaf {
	ws := make([]*writer, len(b.Sheets))
	for i, s := range b.Sheets {
		ws[i] = b.writer(s)
	}
	c := coverPlan{binder: b, ws: ws, density: density}
	c.begin()
	facts := b.coverFacts(ws)
	c.put(facts, (&plan{}).facts(facts))
	c.table(c.stations())
	for _, r := range b.reports() {
		for _, f := range r.Figures {
			c.figure(f)
		}
		c.open(r)
	}
	c.state(b.instruments())
	c.table(c.files())
	return c.end()
}

// A coverPlan sets blocks on the leaves of the cover.
type coverPlan struct {
	binder  Binder
	density page.Density
	ws      []*writer
	leaves  []page.Leaf
	left    float64
}

func (c *coverPlan) begin() {
	title, kind := c.days()
	l := page.Leaf{Kicker: kind, Title: title, Aside: "book", Strong: c.binder.Title(), Density: c.density, Word: c.counted()}
	for _, w := range c.ws {
		if w.sheet.Book.Drill {
			l.Mark, l.Banner = drillMark, "A simulated observer called these readings. Not a record of any observation."
		}
	}
	c.leaves = append(c.leaves, l)
	c.left = paperMM - titleMM*lines(page.Width(l.Title), titleLetter)
	c.left -= banner(l)
}

func (c *coverPlan) put(b page.Block, height float64) {
	if c.left < height && len(c.leaves[len(c.leaves)-1].Blocks) > 0 {
		c.begin()
	}
	l := &c.leaves[len(c.leaves)-1]
	l.Blocks = append(l.Blocks, b)
	c.left -= height
}

// table puts a table, over as many leaves as it takes.
func (c *coverPlan) table(t page.Table) {
	p := plan{w: &writer{}, density: c.density}
	for len(t.Groups) > 0 && len(t.Groups[0].Rows) > 0 {
		if h := p.table(t); h <= c.left {
			c.put(t, h)
			return
		}
		p.left = c.left
		rows := t.Groups[0].Rows
		n := p.fits(t, t.Groups[0], false)
		if n < 2 {
			if len(c.leaves[len(c.leaves)-1].Blocks) > 0 {
				c.begin()
				continue
			}
			n = 2
		}
		n = min(n, len(rows))
		first := t
		first.Under, first.Groups = nil, []page.Group{{Rows: rows[:n]}}
		c.put(first, p.table(first))
		t.Groups = []page.Group{{Rows: rows[n:]}}
	}
}

// end numbers the leaves and puts the signatures on the last.
func (c *coverPlan) end() []page.Leaf {
	if c.left < signMM-3 { // a cover prints lower than it is planned: see the test
		c.begin()
	}
	foot := page.Foot{Below: c.binder.Cover.Hash}
	parts := []string{page.Visible(c.binder.Name)}
	if c.binder.Cover.LastSeq > 0 {
		parts = append(parts, fmt.Sprintf("last event %d", c.binder.Cover.LastSeq))
	}
	if len(foot.Below) >= 8 {
		parts = append(parts, "hash "+foot.Below[:8])
	}
	foot.Left = strings.Join(parts, " · ")
	foot.Below = strings.TrimPrefix(foot.Below+" · made "+c.binder.Printed.In(c.binder.zone()).Format("2006-01-02 15:04")+" by readback "+c.binder.Program, " · ")
	for i := range c.leaves {
		l := &c.leaves[i]
		l.ID, l.Foot = fmt.Sprintf("cover-%d", i+1), foot
		l.Foot.Right = fmt.Sprintf("page %d of %d of this cover", i+1, len(c.leaves))
		l.Name = fmt.Sprintf("Cover, page %d of %d", i+1, len(c.leaves))
	}
	last := &c.leaves[len(c.leaves)-1]
	if last.Mark != "" {
		last.NoSign = "A drill is not signed."
		return c.leaves
	}
	observers, bookers := c.names()
	last.Signed = page.Signatures{{Who: "Observer", Name: strings.Join(observers, ", ")}, {Who: "Booker", Name: strings.Join(bookers, ", ")}, {Who: "Checked by"}}
	return c.leaves
}

// span is when the first reading of the setups was observed and when the last, and
// whether on one day.
func (c *coverPlan) span() (from, to time.Time, oneDay bool) {
	for _, w := range c.ws {
		a, z, ok := w.setup.Observed()
		if !ok {
			continue
		}
		a, z = a.In(w.zone), z.In(w.zone)
		if from.IsZero() || a.Before(from) {
			from = a
		}
		if z.After(to) {
			to = z
		}
	}
	return from, to, from.Format(time.DateOnly) == to.Format(time.DateOnly)
}

// days names the day of the setups, or the first and the last.
func (c *coverPlan) days() (title, kind string) {
	from, to, one := c.span()
	switch {
	case from.IsZero():
		return "no times known", "Cover"
	case one:
		return from.Format("2 January 2006"), "Day sheet"
	case from.Year() == to.Year():
		return from.Format("2 Jan") + " – " + to.Format("2 Jan 2006"), "Book sheet"
	}
	return from.Format("2 Jan 2006") + " – " + to.Format("2 Jan 2006"), "Book sheet"
}

// counted counts the verdicts.
func (c *coverPlan) counted() page.Word {
	counts := map[string]int{}
	for _, w := range c.ws {
		counts[w.standing()]++
	}
	var parts []string
	for _, word := range []string{"LIFT", "HOLD", "STRUCK"} {
		if counts[word] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", counts[word], word))
		}
	}
	return page.Word{Text: strings.Join(parts, "  ")}
}

// standing is the word of a setup on the cover.
func (w *writer) standing() string {
	if w.setup.Void != nil {
		return "STRUCK"
	}
	return w.word().Text
}

func (b Binder) coverFacts(ws []*writer) page.Facts {
	var instruments, weather, clients, places []string
	for _, w := range ws {
		instruments, weather = once(instruments, w.instrument()), once(weather, w.setup.Spec.Weather)
		clients, places = once(clients, w.sheet.Book.Client), once(places, w.sheet.Book.Place)
	}
	c := coverPlan{ws: ws}
	observers, bookers := c.names()
	fs := page.Facts{{Label: "Job", Value: b.Title()}, {Label: "Client", Value: few(clients, "; ", 50)}, {Label: "Place", Value: few(places, "; ", 50)}, {Label: "Setups", Value: fmt.Sprint(len(ws))},
		{Label: "Instrument", Value: few(instruments, "; ", 110)}, {Label: "Observer", Value: few(observers, ", ", 60)},
		{Label: "Booker", Value: few(bookers, ", ", 60)}, {Label: "Weather", Value: few(weather, "; ", 90)}}
	return append(fs, dayFacts(ws)...)
}

// few lists names as long as they have room in so many cells, the first one in any case,
// and counts the others: no name is cut.
func few(names []string, between string, room int) string {
	text := ""
	for i, n := range names {
		longer := strings.TrimPrefix(text+between+n, between)
		if i > 0 && page.Width(longer) > room {
			return fmt.Sprintf("%s and %d more", text, len(names)-i)
		}
		text = longer
	}
	return text
}

// dayFacts are the checks before work and the notes to the next crew, where the
// book has any.
func dayFacts(ws []*writer) (fs page.Facts) {
	var checks, notes []string
	for _, w := range ws {
		for _, c := range w.sheet.Book.Checks {
			checks = once(checks, c.At.In(w.zone).Format("2 Jan 15:04")+" "+strings.TrimSpace(c.Instrument.Name+" "+c.Instrument.Serial)+": "+c.Words())
		}
		for _, n := range w.sheet.Book.Notes {
			notes = once(notes, n.At.In(w.zone).Format("2 Jan 15:04")+", "+n.By+": "+n.Text)
		}
	}
	if len(checks) > 0 {
		fs = append(fs, page.Fact{Label: "Checked before work", Value: strings.Join(checks, "; ")})
	}
	if len(notes) > 0 {
		fs = append(fs, page.Fact{Label: "To the next crew", Value: strings.Join(notes, "; ")})
	}
	return fs
}

// names are the observers and the bookers, each once.
func (c *coverPlan) names() (observers, bookers []string) {
	for _, w := range c.ws {
		observers, bookers = once(observers, w.setup.Spec.Observer), once(bookers, w.setup.Spec.Booker)
	}
	return observers, bookers
}

// once adds what is not there yet, and nothing that is empty.
func once(list []string, s string) []string {
	if s == "" || slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}
