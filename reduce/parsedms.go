package reduce

import "strings"

// signs returns the signs that may stand after degrees (0), minutes or seconds.
func signs(n int) [3]string {
	switch n {
	case 0:
		return [3]string{"°", "d", "d"}
	case 1:
		return [3]string{"′", "'", "m"}
	}
	return [3]string{"″", "\"", "s"}
}

// ParseDMS reads the written form of a file: degrees, minutes and seconds as
// three groups, each followed by its sign (° ′ ″, or d m s, or ° ' "), by spaces,
// or by both; the last sign may be left out, and the seconds may have decimals.
// The result is in [0°, 360°).
func ParseDMS(s string) (Angle, error) {
	var room [4]group
	p := room[:0]
	i := skipSpaces(s, 0)
	for n := range 3 {
		j := i
		for j < len(s) && isDigit(s[j]) {
			j++
		}
		if j == i {
			return 0, notThree(s, i)
		}
		p, i = append(p, group{s[i:j], i}), j
		if n == 2 && i < len(s) && isPoint(s[i]) {
			for j = i + 1; j < len(s) && isDigit(s[j]); j++ {
			}
			if j == i+1 {
				return 0, badForm(s, j, incompleteAt(s, j), "digits are expected after the full stop")
			}
			p, i = append(p, group{s[i+1 : j], i + 1}), j
		}
		end := skipMark(s, i, n)
		if end == i && n < 2 {
			return 0, notThree(s, i)
		}
		i = end
	}
	if i < len(s) {
		return 0, badForm(s, i, errSyntax, "more than three groups: expected degrees, minutes and seconds")
	}
	return partsDMS(s, p)
}

func notThree(s string, i int) error {
	return badForm(s, i, incompleteAt(s, i), "expected degrees, minutes and seconds as three groups, such as 123 45 06")
}

// incompleteAt is ErrIncomplete at the end of the text, errSyntax within it.
func incompleteAt(s string, i int) error {
	if i >= len(s) {
		return ErrIncomplete
	}
	return errSyntax
}

func skipSpaces(s string, i int) int {
	for i < len(s) && s[i] == ' ' {
		i++
	}
	return i
}

// skipMark passes the spaces and the one sign that may stand after group n.
func skipMark(s string, i, n int) int {
	i = skipSpaces(s, i)
	for _, m := range signs(n) {
		if strings.HasPrefix(s[i:], m) {
			return skipSpaces(s, i+len(m))
		}
	}
	return i
}
