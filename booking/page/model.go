package page

import "html/template"

// A Page is what is printed of one thing: a setup, a figure, an instrument.
type Page struct {
	Blocks []Block
}

// A Block is one part of a page, from top to bottom.
type Block interface{ block() }

// Add appends blocks.
func (p *Page) Add(bs ...Block) { p.Blocks = append(p.Blocks, bs...) }

// Say appends sentences that stand behind a lead.
func (p *Page) Say(lead string, texts ...string) {
	for _, t := range texts {
		p.Add(Para{Lead: lead, Text: t})
	}
}

// A Gap is an empty line.
type Gap struct{}

// A Para is a sentence or more, broken into lines. The lead stands before the
// first line, the others begin under the text: "  ! ", "[3] ".
type Para struct {
	Lead string
	Text string
	Role Role
	// Whole keeps it on one line, whatever its width.
	Whole bool
}

// Facts are labelled values. On paper one without a value leaves room to write it.
type Facts []Fact

// A Fact is one of them: a text, or figures of which some may be struck.
type Fact struct {
	Label, Value string
	Figures      Cell
}

// Points are statements under one word, each begun by a few words of its own.
type Points struct {
	ID    string // for links, in HTML
	Word  Word
	Items []Point
}

// A Point is one statement.
type Point struct{ Lead, Text string }

// A Word is how something stands, in capitals; a framed one must not be missed.
type Word struct {
	Text   string
	Framed bool
}

// A Plot is a drawing. Alt tells all that it shows, with the values.
type Plot struct {
	Caption, Explain string
	Alt              string
	SVG              template.HTML // what stands inside the svg element
	Width, Height    float64       // millimetres on paper, and the units of the drawing
	Wide             bool          // too wide for a small screen: it scrolls in a box of its own
}

// Beside sets two parts next to each other where there is room.
type Beside struct{ Left, Right []Block }

// Signatures are lines to sign on, and who signs there.
type Signatures []Signature

// A Signature is one of them; Name is printed under the line where it is known.
type Signature struct{ Who, Name string }

func (Gap) block()        {}
func (Para) block()       {}
func (Facts) block()      {}
func (Points) block()     {}
func (Plot) block()       {}
func (Beside) block()     {}
func (Signatures) block() {}
func (Table) block()      {}
