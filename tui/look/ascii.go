package look

import "strings"

// words are the signs that take more than one character in ASCII.
var words = map[rune]string{
	'±': "+-", '√': "sqrt ", '≤': "<=", '≥': ">=", '≠': "!=", '→': "->", '←': "<-", '½': "1/2", '°': " deg",
}

// signs are our own characters with what stands for them in ASCII, one cell for
// one cell.
var signs = map[rune]rune{
	'′': '\'', '″': '"', '−': '-', '–': '-', '—': '-', '×': 'x', '·': '.', '•': '*', '…': '.', '±': '+',
	'σ': 's', 'Δ': 'D', 'α': 'a', '√': 'V', '²': '2', '½': '/', '≤': '<', '≥': '>', '≠': '#', '→': '>', '←': '<', '↑': '^', '↓': 'v',
	'✓': '+', '✗': 'x', '●': '@', '○': 'o', '▲': 'A', '△': 'o', '▼': 'v', '◆': '#', '□': 'o', '▸': '>', '›': '>', '‹': '<', '▶': '>', '◀': '<',
	'─': '-', '━': '=', '═': '=', '│': '|', '┃': '|', '┆': ':', '┊': ':', '┌': '+', '┐': '+', '└': '+', '┘': '+', '├': '+', '┤': '+', '┬': '+', '┴': '+', '┼': '+',
	'╭': '+', '╮': '+', '╰': '+', '╯': '+', '█': '#', '▀': '"', '▄': '_', '▌': '|', '▐': '|', '░': '.', '▒': ':', '▓': '%', '⌫': '<', '␣': '_', '°': 'd', '’': '\'', '“': '"', '”': '"',
	'₀': '0', '₁': '1', '₂': '2', '⏎': '<',
}

// consoleSigns are our own characters that the fonts of text consoles lack, with
// what stands for them there: they have the characters of code page 437 (from
// memory).
var consoleSigns = map[rune]rune{
	'′': '\'', '″': '"', '−': '-', '–': '-', '—': '-', '×': 'x', '•': '*', '…': '.', '‹': '<', '›': '>', '▸': '►', '▶': '►', '◀': '◄', '✓': '√', '✗': 'x',
	'●': '•', '◆': '♦', '△': '∩', '┊': ':', '┆': ':', 'Δ': 'D', '≠': '#', '’': '\'', '“': '"', '”': '"', '₀': '0', '₁': '1', '₂': '2', '⌫': '◄', '␣': '_', '⏎': '◄',
}

// Rewrite returns text as the theme's signs allow: unchanged, with what a console
// font lacks replaced one for one, or with our own signs in ASCII. A sexagesimal angle becomes 123-45-06.7. The width may change,
// so rewrite before measuring. Letters of names are left as they are.
func (t *Theme) Rewrite(text string) string {
	if t.Signs == Full || isASCII(text) {
		return text
	}
	if t.Signs == Blocks {
		return strings.Map(t.Sign, text)
	}
	return t.ascii([]rune(text))
}

func (t *Theme) ascii(rs []rune) string {
	var b strings.Builder
	inAngle := false
	for i, r := range rs {
		digitNext := i+1 < len(rs) && (rs[i+1] >= '0' && rs[i+1] <= '9' || rs[i+1] == '_')
		switch {
		case r == '°' && digitNext:
			inAngle = true
			b.WriteByte('-')
		case r == '′' && inAngle && digitNext:
			b.WriteByte('-')
		case r == '″' && inAngle:
			inAngle = false
		default:
			if r == ' ' {
				inAngle = false
			}
			if w, ok := words[r]; ok {
				b.WriteString(w)
			} else {
				b.WriteRune(t.Sign(r))
			}
		}
	}
	return b.String()
}

// Sign returns one of our own signs as the theme's signs allow.
func (t *Theme) Sign(r rune) rune {
	if t.Signs == Full || r < 0x80 {
		return r
	}
	if t.Signs == Blocks {
		if c, ok := consoleSigns[r]; ok {
			return c
		}
		return r
	}
	if a, ok := signs[r]; ok {
		return a
	}
	if r >= 0x2800 && r < 0x2900 {
		return '*'
	}
	return r
}

func isASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}
