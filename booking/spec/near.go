package spec

import (
	"slices"
	"strings"
	"unicode"
)

// Near returns the known name that another was likely meant to be: the same but
// for case, or one or two letters off. Names that differ in a digit, or in the
// letter that tells one of a row from the next (Peg A, Peg B), are two points, not
// one misspelt. ok is false where the name is known, or near to none.
func Near(name string, known []string) (meant string, ok bool) {
	best := 3
	for _, k := range known {
		if k == name {
			return "", false
		}
		if d := lettersApart(name, k); d < best {
			meant, best = k, d
		}
	}
	return meant, best < 3
}

// lettersApart counts the letters to change, add, drop or exchange between two
// names: 0 for a difference of case alone, 3 for names that are simply others.
// Short names must be nearer. One letter is a slip from four letters on, where
// the first letter of the four stands or none was changed to another; two are from
// six letters on, or from four where first and last stand and letters were only
// dropped, added or exchanged (Qary, Quarry).
func lettersApart(a, b string) int {
	x, y := []rune(strings.ToLower(a)), []rune(strings.ToLower(b))
	n, d := min(len(x), len(y)), distance(x, y)
	switch {
	case d == 0:
		return 0
	case n < 4 || !slices.Equal(tells(a), tells(b)):
		return 3
	case d == 1 && (n > 4 || x[0] == y[0] || within(x, y)):
		return 1
	case d == 2 && (n > 5 || x[0] == y[0] && x[len(x)-1] == y[len(y)-1] && within(x, y)):
		return 2
	}
	return 3
}

// tells are the parts of a name that tell one point of a row from the next: its
// digits, and its words of one letter or of the Roman figures i, v and x. A word
// begins behind what is no letter, and at a capital behind a small letter.
func tells(name string) (out []string) {
	var word []rune
	end := func() {
		w := strings.ToLower(string(word))
		if len(word) == 1 || w != "" && strings.Trim(w, "ivx") == "" {
			out = append(out, w)
		}
		word = word[:0]
	}
	for _, r := range name {
		switch {
		case unicode.IsDigit(r):
			end()
			out = append(out, string(r))
		case !unicode.IsLetter(r):
			end()
		default:
			if k := len(word); k > 0 && unicode.IsUpper(r) && unicode.IsLower(word[k-1]) {
				end()
			}
			word = append(word, r)
		}
	}
	end()
	return out
}

// within tells whether every letter of the shorter of two names is one of the
// longer.
func within(x, y []rune) bool {
	if len(x) > len(y) {
		x, y = y, x
	}
	left := slices.Clone(y)
	for _, r := range x {
		i := slices.Index(left, r)
		if i < 0 {
			return false
		}
		left = slices.Delete(left, i, i+1)
	}
	return true
}

// distance is the number of single changes, neighbours exchanged being one.
func distance(x, y []rune) int {
	if len(x)-len(y) > 2 || len(y)-len(x) > 2 {
		return 3
	}
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(x)][len(y)]
}
