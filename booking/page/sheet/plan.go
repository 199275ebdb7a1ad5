package sheet

import (
	"math"

	"example.org/readback/booking/page"
)

// Heights on paper in millimetres, measured on prints. What a line of text holds
// is counted for a wide face, so that one page planned is one page printed.
const (
	paperMM      = 249 - 4 // the lower of A4 and Letter, less what is kept in hand
	titleMM      = 9.5
	titleLetter  = 25 // letters of a station's name in one line
	factMM       = 7.2
	bannerMM     = 4.2 // and so much for each line
	bannerLine   = 3.1
	bannerLetter = 105
	mostBanner   = bannerMM + 2*bannerLine
	headMM       = 4.0
	captionMM    = 4.6
	noteMM       = 3.05
	noteLetters  = 40
	underMM      = 3.7
	underLetters = 150
	pointMM      = 4.1
	lineMM       = 3.4
	pointLetter  = 102
	pointsMM     = 2.2
	signMM       = 16.0
	nameLetters  = 13 // letters of a name in one line of nameMM
)

// factLetters is what a line of each of the four columns of facts holds.
var factLetters = [4]int{44, 25, 24, 36}

// A plan sets the blocks of a setup on leaves.
type plan struct {
	w       *writer
	density page.Density
	leaves  []page.Leaf
	left    float64 // room on the last leaf
}

// begin begins a leaf.
func (p *plan) begin() {
	l := p.w.leaf()
	l.Density = p.density
	p.leaves = append(p.leaves, l)
	p.left = paperMM - titleMM*lines(page.Width(l.Title), titleLetter)
	p.left -= banner(l)
}

// banner is the height of what stands under the title of a leaf that is no record of
// the field.
func banner(l page.Leaf) float64 {
	if l.Banner == "" {
		return 0
	}
	return bannerMM + bannerLine*lines(page.Width(l.Banner), bannerLetter)
}

// put puts a block on the last leaf.
func (p *plan) put(b page.Block, height float64) {
	l := &p.leaves[len(p.leaves)-1]
	l.Blocks = append(l.Blocks, b)
	p.left -= height
}

// one tries everything on one leaf; two leaves tell that it has no room.
func (p *plan) one(facts page.Facts, rounds page.Table, directions []page.Table, heights page.Table, points page.Points) {
	p.begin()
	p.put(facts, p.facts(facts))
	if len(rounds.Groups) > 0 {
		p.put(rounds, p.table(rounds))
	}
	for _, t := range append(directions, heights) {
		if len(t.Groups) > 0 {
			p.put(t, p.table(t))
		}
	}
	p.end(points)
	if p.left < 0 {
		p.begin()
	}
}

// many plans as many leaves as it takes: title, facts and rounds, whole rounds to
// a leaf where they fit; then the results with the signatures.
func (p *plan) many(facts page.Facts, rounds page.Table, directions []page.Table, heights page.Table, points page.Points) {
	p.begin()
	p.put(facts, p.facts(facts))
	for _, g := range rounds.Groups {
		p.group(rounds, g)
	}
	results := append(directions, heights)
	p.begin()
	for _, t := range results {
		for _, g := range t.Groups {
			p.group(t, g)
		}
	}
	for fresh := paperMM - titleMM*lines(page.Width(p.w.setup.Spec.Station), titleLetter) - mostBanner - signMM; p.points(points) > fresh && len(points.Items) > 1; {
		part := points
		for part.Items = part.Items[:len(part.Items)-1]; p.points(part) > fresh && len(part.Items) > 1; {
			part.Items = part.Items[:len(part.Items)-1]
		}
		p.begin()
		p.put(part, p.points(part))
		points.Items = points.Items[len(part.Items):]
		p.left = 0
	}
	if p.left < p.points(points)+signMM {
		p.takeAlong(p.points(points) + signMM)
	}
	p.end(points)
}

// group puts a group of a table on the last leaf, under the same head as the
// groups before it; what has no room goes to leaves of its own.
func (p *plan) group(t page.Table, g page.Group) {
	for {
		part := t
		part.Groups = []page.Group{g}
		into := p.same(t)
		need := p.table(part)
		if into != nil {
			need = p.groupMM(t, g)
		}
		if need <= p.left {
			if into != nil {
				into.Groups = append(into.Groups, g)
				p.replace(*into)
				p.left -= need
				return
			}
			p.put(part, need)
			return
		}
		n := p.fits(t, g, into != nil)
		fresh := len(p.leaves[len(p.leaves)-1].Blocks) == 0
		whole := t.Class == "rounds" && p.groupMM(t, g) < 0.8*paperMM
		if !fresh && (whole || n < 2) {
			p.begin()
			continue
		}
		if n = max(n, 1); n >= len(g.Rows) { // it is no taller than its notes
			p.put(part, need)
			return
		}
		first := part
		first.Under = nil
		first.Groups = []page.Group{{Head: g.Head, Words: g.Words, Rows: g.Rows[:n], Beside: g.Beside}}
		p.put(first, p.table(first))
		g = page.Group{Head: g.Head, Words: g.Words, Rows: g.Rows[n:]}
		p.begin()
	}
}

// same is the table of the same kind that ends the last leaf; nil where another
// block does.
func (p *plan) same(t page.Table) *page.Table {
	bs := p.leaves[len(p.leaves)-1].Blocks
	if len(bs) == 0 {
		return nil
	}
	last, ok := bs[len(bs)-1].(page.Table)
	if !ok || last.Class != t.Class || last.Caption != t.Caption {
		return nil
	}
	return &last
}

// replace puts a table in place of the last block.
func (p *plan) replace(t page.Table) {
	bs := p.leaves[len(p.leaves)-1].Blocks
	bs[len(bs)-1] = t
}

// fits is how many rows of a group have room on the last leaf.
func (p *plan) fits(t page.Table, g page.Group, headed bool) int {
	left := p.left - 2
	if !headed {
		left -= groupHead(t) + p.gap()
	}
	n := 0
	for _, r := range g.Rows {
		if left -= p.rowMM(t, r); left < 0 {
			break
		}
		n++
	}
	return n
}

// takeAlong begins the last leaf with the last rows of the table before it: the
// verdict never stands without a result.
func (p *plan) takeAlong(need float64) {
	from := &p.leaves[len(p.leaves)-1]
	n := len(from.Blocks)
	last, ok := page.Table{}, false
	if n > 0 {
		last, ok = from.Blocks[n-1].(page.Table)
	}
	if !ok || last.Class == "rounds" || len(last.Groups) == 0 {
		p.begin()
		return
	}
	rows := last.Groups[0].Rows
	if n > 1 && p.table(last)+need < paperMM-titleMM-mostBanner {
		from.Blocks = from.Blocks[:n-1]
		p.begin()
		p.put(last, p.table(last))
		return
	}
	keep := len(rows) - min(len(rows)/2, 4)
	first, second := last, last
	first.Groups, second.Groups = []page.Group{{Rows: rows[:keep]}}, []page.Group{{Rows: rows[keep:]}}
	first.Under = nil
	from.Blocks[n-1] = first
	p.begin()
	p.put(second, p.table(second))
}

// end puts verdict and signatures on the last leaf.
func (p *plan) end(points page.Points) {
	p.put(points, p.points(points))
	l := &p.leaves[len(p.leaves)-1]
	if p.w.sheet.Book.Drill {
		l.NoSign = "A drill is not signed."
		return
	}
	l.Signed = p.w.signatures()
	p.left -= signMM
}

// gap is the room between two blocks.
func (p *plan) gap() float64 { return [...]float64{5, 4, 3.2}[p.density] }

// facts is the height of the facts, four abreast.
func (p *plan) facts(fs page.Facts) float64 {
	h := 2.0
	for i := 0; i < len(fs); i += 4 {
		most := 1.0
		for k, f := range fs[i:min(i+4, len(fs))] {
			most = max(most, lines(page.Width(f.Value), factLetters[k]))
		}
		h += factMM + (most-1)*lineMM
	}
	return h
}

// table is the height of a table with the room above it.
func (p *plan) table(t page.Table) float64 {
	h := p.gap() + groupHead(t) + 0.5
	if t.Class == "rounds" { // it follows the facts without a gap
		h -= p.gap()
	}
	for _, g := range t.Groups {
		h += p.groupMM(t, g)
	}
	for _, n := range t.Under {
		h += underMM * lines(page.Width(n.Text), underLetters)
	}
	return h
}

// groupHead is the height of caption and head.
func groupHead(t page.Table) float64 {
	if t.Hidden {
		return headMM
	}
	return captionMM + headMM
}

// groupMM is the height of a group: its rows, or its notes where they are taller.
func (p *plan) groupMM(t page.Table, g page.Group) float64 {
	notes := 0.6
	for _, n := range g.Beside {
		letters := float64(noteLetters)
		if p.w.nameWidth() > nameMM {
			letters -= 7
		}
		notes += (noteMM + 0.3*float64(2-p.density)/2) * lines(page.Width(n.Lead)+page.Width(n.Text)+4, int(letters))
	}
	return max(p.rowsMM(t, g.Rows), notes) + 0.3
}

func (p *plan) rowsMM(t page.Table, rows []page.Row) float64 {
	h := 0.0
	for _, r := range rows {
		h += p.rowMM(t, r)
	}
	return h
}

// rowMM is the height of a row: as many lines as its cells have figures, or its
// name has lines.
func (p *plan) rowMM(t page.Table, r page.Row) float64 {
	most := 1.0
	for i := range max(len(r.Cells), len(r.Texts)) {
		c := r.At(i)
		most = max(most, float64(len(c)))
		if i < len(t.Columns) && t.Columns[i].Part == page.Name && len(c) > 0 {
			mm := t.Columns[i].MM
			if mm == 0 {
				mm = 2 * nameMM
			}
			most = max(most, lines(page.Width(c[0].Text)+page.Width(c[0].Small), int(mm*nameLetters/nameMM)))
		}
	}
	return most * p.density.Row()
}

// points is the height of the verdict.
func (p *plan) points(v page.Points) float64 {
	h := p.gap() + pointsMM
	for _, i := range v.Items {
		h += pointMM + lineMM*(lines(page.Width(i.Lead)+page.Width(i.Text)+2, pointLetter)-1)
	}
	return h
}

// lines is how many lines of so many letters a text takes, one at least.
func lines(letters, per int) float64 {
	return max(1, math.Ceil(float64(letters)/float64(per)))
}
