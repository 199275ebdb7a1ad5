package look

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Fit is the last step of every view: each line cut or filled to w cells, the
// whole to h lines, the ground of the screen under all of it, and the signs as
// the terminal draws them. It cuts below.
func (t *Theme) Fit(lines []string, w, h int) string {
	var b strings.Builder
	b.Grow(w * h * 2)
	for y := range h {
		if y > 0 {
			b.WriteByte('\n')
		}
		line := ""
		if y < len(lines) {
			line = FitLine(lines[y], w)
		} else {
			line = blanks(w)
		}
		b.WriteString(t.onto(Ink, t.signs(line)))
	}
	return b.String()
}

// FitLine returns a painted line in exactly w cells. A wide character that does
// not fit at the end leaves a blank.
func FitLine(painted string, w int) string {
	n := Width(painted)
	if n > w {
		painted = ansi.Truncate(painted, w, "")
		n = Width(painted)
	}
	return painted + blanks(w-n)
}

// signs replaces our own signs one for one as the theme's signs allow. Letters of
// names are left as they are.
func (t *Theme) signs(s string) string {
	if t.Signs == Full {
		return s
	}
	return strings.Map(t.sign, s)
}

// sign returns one of our own signs as the theme's signs allow.
func (t *Theme) sign(r rune) rune {
	if t.Signs == Full || r < 0x80 {
		return r
	}
	if t.Signs == Blocks {
		if c, ok := consoleSigns[r]; ok {
			return c
		}
		return r
	}
	if a, ok := asciiSigns[r]; ok {
		return a
	}
	if r >= 0x2800 && r < 0x2900 {
		return '*'
	}
	return r
}

// asciiSigns are our own characters with what stands for them in ASCII, one cell
// for one cell, so that no width changes.
var asciiSigns = map[rune]rune{
	'°': 'd', '′': '\'', '″': '"', '−': '-', '–': '-', '—': '-', '×': 'x', '·': '.', '•': '*', '…': '.', '±': '~', '²': '2', '½': '/', '’': '\'', '“': '"', '”': '"',
	'σ': 's', 'Δ': 'D', 'α': 'a', '√': 'V', '₀': '0', '₁': '1', '₂': '2', '≤': '<', '≥': '>', '≠': '#', '→': '>', '←': '<', '↑': '^', '↓': 'v',
	'✓': '+', '✗': 'x', '●': '@', '◆': '#', '○': 'o', '▪': 'o', '▲': 'A', '△': 'o', '▼': 'v', '□': 'o', '▸': '>', '◂': '<', '›': '>', '‹': '<', '⌫': '<',
	'─': '-', '│': '|', '┊': ':', '┌': '+', '┐': '+', '└': '+', '┘': '+', '├': '+', '┤': '+', '┬': '+', '┴': '+', '┼': '+',
	'╭': '+', '╮': '+', '╰': '+', '╯': '+', '╱': '/', '█': '#', '▀': '"', '▄': '_', '▁': '_', '▔': '^', '▌': '|', '▐': '|', '\uFFFD': '?',
}

// consoleSigns are our own characters that the fonts of text consoles lack, with
// what stands for them there: such fonts hold the characters of code page 437
// (the set as the console of the build machine lists it was not read; from memory).
var consoleSigns = map[rune]rune{
	'′': '\'', '″': '"', '−': '-', '–': '-', '—': '-', '×': 'x', '…': '.', '‹': '<', '›': '>', '▸': '►', '◂': '◄', '✓': '√', '✗': 'x', '▪': '■', '□': 'o',
	'●': '•', '◆': '♦', '△': '∩', '┊': ':', 'Δ': 'D', '≠': '#', '’': '\'', '“': '"', '”': '"', '₀': '0', '₁': '1', '₂': '2', '⌫': '◄',
	'╭': '┌', '╮': '┐', '╰': '└', '╯': '┘', '╱': '/', '▁': '_', '▔': '-', '\uFFFD': '?',
}
