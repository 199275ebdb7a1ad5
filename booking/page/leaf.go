package page

import "iter"

// A Document is leaves to print, one after the other.
type Document struct {
	Title string
	// Leaves walks the leaves, and ends with an error where one cannot be made. HTML walks
	// twice, so that no more than one leaf has to be in memory.
	Leaves iter.Seq2[Leaf, error]
}

// A Leaf is one planned sheet of paper: a title, blocks, and what is signed at
// its foot.
type Leaf struct {
	ID      string // for links: letters, digits and -
	Name    string // for who cannot see the leaf
	Kicker  string // small, before the title: "Setup 4"
	Title   string
	Aside   string // small, behind the title, its last words strong
	Strong  string
	Word    Word   // how it stands, in the outer corner
	Mark    string // stands in the margin of the leaf: "DRILL"
	Banner  string // says at its head what it is not
	Density Density
	Blocks  []Block
	Signed  Signatures // at the foot of the leaf
	NoSign  string     // why nobody signs
	Foot    Foot
}

// A Foot stands in the margin below: what the leaf is, and which of how many.
type Foot struct {
	Left, Below string
	Right       string
}

// A Density is how close the rows of a leaf stand.
type Density int

// Densities.
const (
	Roomy Density = iota
	Mid
	Dense
)

// Row returns the height of a row in millimetres.
func (d Density) Row() float64 { return [...]float64{5.4, 4.3, 3.5}[d] }

// Class names the look.
func (d Density) Class() string { return [...]string{"roomy", "mid", "dense"}[d] }
