package usage

// Nearest returns the name that a mistyped word may have meant: one or two letters
// away, and less than half of the word; empty where none is.
func Nearest(word string, names []string) string {
	best, least := "", min(2, (len(word)-1)/2)+1
	for _, n := range names {
		if d := distance(word, n); d < least {
			best, least = n, d
		}
	}
	return best
}

// distance counts the letters to change, to add, to take away or to swap with the
// next one: Damerau's count, after Levenshtein.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	d := make([][]int, len(x)+1)
	for i := range d {
		d[i] = make([]int, len(y)+1)
		d[i][0] = i
	}
	for j := range y {
		d[0][j+1] = j + 1
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(x)][len(y)]
}
