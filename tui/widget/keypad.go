package widget

import "example.org/readback/tui/look"

// A PadKey is one key of the keypad.
type PadKey struct {
	Rune rune   // '0'-'9', '.', ' ', or one of the two below
	Word string // what stands on it
}

// The keys of the keypad that are no characters of a reading.
const (
	PadBack  rune = '\b'
	PadEnter rune = '\r'
)

// padKeys is the keypad row by row, laid as the number block of a keyboard is.
// The last key is two rows high.
var padKeys = [4][4]PadKey{
	{{'7', "7"}, {'8', "8"}, {'9', "9"}, {PadBack, "Back"}},
	{{'4', "4"}, {'5', "5"}, {'6', "6"}, {' ', "Space"}},
	{{'1', "1"}, {'2', "2"}, {'3', "3"}, {PadEnter, "Enter"}},
	{{'0', "0"}, {'0', "0"}, {'.', "."}, {PadEnter, "Enter"}},
}

// The least size of the keypad: cells of 7 × 3, so that a gloved finger finds
// them and the longest word stands in its key.
const (
	PadMinWidth  = 4 * 7
	PadMinHeight = 4 * 3
)

// DrawKeypad draws the number keys into a: four columns, four rows, each key as
// large as the area allows.
func DrawKeypad(a Area) {
	seen := [4][4]bool{}
	for row := range padKeys {
		for col, k := range padKeys[row] {
			if seen[row][col] {
				continue
			}
			w, h := 1, 1
			if col+1 < 4 && padKeys[row][col+1].Rune == k.Rune {
				w = 2
				seen[row][col+1] = true
			}
			if row+1 < 4 && padKeys[row+1][col].Rune == k.Rune {
				h = 2
				seen[row+1][col] = true
			}
			x0, x1 := col*a.W/4, (col+w)*a.W/4
			y0, y1 := row*a.H/4, (row+h)*a.H/4
			drawButton(a.Sub(x0, y0, x1-x0, y1-y0), look.Strong, k.Word)
		}
	}
}

// drawButton draws a framed key with its word in the middle.
func drawButton(a Area, role look.Role, word string) {
	in := a
	if a.H >= 3 && a.W >= 4 {
		in = a.Box(look.Rule, "")
	}
	in.Fit(0, in.H/2, in.W, role, word, Middle)
}

// KeypadAt returns the key at column x, row y of a keypad drawn in w × h cells.
func KeypadAt(w, h, x, y int) (PadKey, bool) {
	if x < 0 || y < 0 || x >= w || y >= h {
		return PadKey{}, false
	}
	at := func(v, size int) int {
		for i := 0; i < 4; i++ {
			if v < (i+1)*size/4 {
				return i
			}
		}
		return 3
	}
	return padKeys[at(y, h)][at(x, w)], true
}
