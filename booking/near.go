package booking

import (
	"strings"
	"unicode"
)

// Near returns the known name that another was likely meant to be: the same but
// for case, or one or two letters off. Names that differ in a digit are two
// points, not one misspelt. ok is false where the name is known, or near to none.
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
// Short names must be nearer: one letter in four.
func lettersApart(a, b string) int {
	if figures(a) != figures(b) {
		return 3
	}
	x, y := []rune(strings.ToLower(a)), []rune(strings.ToLower(b))
	n := min(len(x), len(y))
	d := distance(x, y)
	if d > 2 || d > 0 && n < 4 || d > 1 && n < 6 {
		return 3
	}
	return d
}

// figures are the digits of a name.
func figures(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return r
		}
		return -1
	}, s)
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
