package reduce

import (
	"errors"
	"fmt"
	"strings"
)

// The ways a text is not an angle. ParseError.Err is one of them.
var (
	ErrSyntax     = errors.New("not a reading in this notation")
	ErrIncomplete = errors.New("too short for a reading")
	ErrRange      = errors.New("out of range")
	ErrPrecision  = errors.New("finer than the instrument's least count")
)

// A ParseError says what is wrong with a text that should be an angle and where.
type ParseError struct {
	Input  string // the whole text
	Offset int    // byte offset in Input of the first thing that is wrong
	What   string // one sentence: what is wrong and what was expected
	Err    error  // ErrSyntax, ErrIncomplete, ErrRange or ErrPrecision
}

// Error quotes the input and says what is wrong at which character.
func (e *ParseError) Error() string {
	return fmt.Sprintf("%q: %s (character %d)", e.Input, e.What, e.Offset+1)
}

// Unwrap returns the kind of the error.
func (e *ParseError) Unwrap() error { return e.Err }

func bad(input string, off int, kind error, format string, args ...any) error {
	return &ParseError{Input: input, Offset: off, Err: kind, What: fmt.Sprintf(format, args...)}
}

// ParseKeyed reads an entry as a booker keys it.
//
//	dms = digits                          filled from the right: 1234512, at least 5
//	    | digits "." digits               the same with decimals of the second
//	    | deg sep min sep sec [ "." dec ] sep = space or full stop
//	gon = digits [ "." digits ]           a plain decimal
//
// The result is in [0, full circle). ErrIncomplete is returned for what more
// digits could make complete; ErrRange for minutes or seconds of 60 and more and
// for a full circle and more; ErrPrecision for what is no multiple of leastCount.
func ParseKeyed(s string, u Unit, leastCount Angle) (Angle, error) {
	var a Angle
	var err error
	if u == GonUnit {
		a, err = ParseGon(s)
	} else {
		a, err = parseKeyedDMS(s, leastCount)
	}
	if err != nil {
		return 0, err
	}
	if leastCount > 0 && a%leastCount != 0 {
		return 0, bad(s, len(s)-1, ErrPrecision, "finer than the least count of the instrument, %s", leastCountText(u, leastCount))
	}
	return a, nil
}

func leastCountText(u Unit, lc Angle) string {
	if u == GonUnit {
		return lc.Format(GonUnit, Places(u, lc)) + " gon"
	}
	return strings.TrimPrefix(lc.FormatSeconds(Places(u, lc)), "+")
}

func parseKeyedDMS(s string, leastCount Angle) (Angle, error) {
	t := strings.TrimSpace(s)
	for i := 0; i < len(s); i++ {
		if c := s[i]; c != ' ' && c != '.' && (c < '0' || c > '9') {
			return 0, bad(s, i, ErrSyntax, "only digits, spaces and full stops stand in a reading")
		}
	}
	fields := strings.FieldsFunc(t, func(r rune) bool { return r == ' ' || r == '.' })
	seps := len(fields) - 1
	spaced := strings.Contains(t, " ")
	switch {
	case t == "" || len(fields) == 0:
		return 0, bad(s, 0, ErrIncomplete, "no digits yet")
	case seps == 0, seps == 1 && !spaced && Places(DMS, leastCount) > 0 && len(fields[0]) >= 5:
		return runDMS(s, fields)
	case seps == 1:
		return 0, bad(s, len(s), ErrIncomplete, "degrees, minutes and seconds are three parts")
	case seps == 2, seps == 3 && decimalStop(t):
		return partsDMS(s, fields)
	}
	return 0, bad(s, len(s)-1, ErrSyntax, "more than degrees, minutes and seconds")
}

// decimalStop tells whether the last separator of t is a full stop.
func decimalStop(t string) bool {
	i := strings.LastIndexAny(t, " .")
	return i > 0 && t[i] == '.' && t[i-1] != ' ' && t[i-1] != '.'
}

func runDMS(s string, fields []string) (Angle, error) {
	run := fields[0]
	if len(run) < 5 {
		return 0, bad(s, len(s), ErrIncomplete, "too short: minutes and seconds take two digits each, the degrees at least one")
	}
	if len(run) > 7 {
		return 0, bad(s, 7, ErrRange, "too long: three digits of degrees, two of minutes, two of seconds")
	}
	n := len(run)
	parts := []string{run[:n-4], run[n-4 : n-2], run[n-2:]}
	return partsDMS(s, append(parts, fields[1:]...))
}

// partsDMS puts degrees, minutes, seconds and an optional decimal part together.
func partsDMS(s string, p []string) (Angle, error) {
	deg, min, sec := number(p[0]), number(p[1]), number(p[2])
	switch {
	case deg >= 360:
		return 0, bad(s, strings.Index(s, p[0]), ErrRange, "%s degrees is a full circle or more", p[0])
	case len(p[1]) > 2 || min >= 60:
		return 0, bad(s, offset(s, p, 1), ErrRange, "%s minutes: minutes go to 59", p[1])
	case len(p[2]) > 2 || sec >= 60:
		return 0, bad(s, offset(s, p, 2), ErrRange, "%s seconds: seconds go to 59", p[2])
	}
	a := Angle(deg)*Degree + Angle(min)*Arcminute + Angle(sec)*Arcsecond
	if len(p) < 4 {
		return a, nil
	}
	frac, ok := fraction(p[3], Arcsecond)
	if !ok {
		return 0, bad(s, offset(s, p, 3), ErrPrecision, "more than six decimals of a second")
	}
	return a + frac, nil
}

// offset finds where part i of p stands in s.
func offset(s string, p []string, i int) int {
	at := 0
	for k := 0; k <= i; k++ {
		j := strings.Index(s[at:], p[k])
		if j < 0 {
			return len(s)
		}
		at += j
		if k < i {
			at += len(p[k])
		}
	}
	return at
}

// number reads a run of digits; a run too long to matter reads as a very large one.
func number(digits string) int64 {
	if len(digits) > 9 {
		return 1 << 40
	}
	var n int64
	for i := 0; i < len(digits); i++ {
		n = n*10 + int64(digits[i]-'0')
	}
	return n
}

// fraction reads decimals of unit; ok is false where they are finer than one
// micro-arcsecond can hold.
func fraction(digits string, unit Angle) (Angle, bool) {
	digits = strings.TrimRight(digits, "0")
	var a Angle
	for i := 0; i < len(digits); i++ {
		if unit%10 != 0 {
			return 0, false
		}
		unit /= 10
		a += Angle(digits[i]-'0') * unit
	}
	return a, true
}

// ParseGon reads a plain decimal of gon, 0 to under 400.
func ParseGon(s string) (Angle, error) {
	t := strings.TrimSpace(s)
	whole, dec, _ := strings.Cut(t, ".")
	for i := 0; i < len(s); i++ {
		if c := s[i]; c != ' ' && c != '.' && (c < '0' || c > '9') {
			return 0, bad(s, i, ErrSyntax, "gon is a plain decimal, such as 123.4567")
		}
	}
	switch {
	case whole == "" && dec == "":
		return 0, bad(s, 0, ErrIncomplete, "no digits yet")
	case strings.ContainsAny(whole, " ") || strings.ContainsAny(dec, " ."):
		return 0, bad(s, len(whole), ErrSyntax, "gon is one plain decimal, such as 123.4567")
	case number(whole) >= 400:
		return 0, bad(s, 0, ErrRange, "%s gon is a full circle or more", whole)
	}
	frac, ok := fraction(dec, Gon)
	if !ok {
		return 0, bad(s, len(s)-1, ErrPrecision, "more than seven decimals of a gon")
	}
	return Angle(number(whole))*Gon + frac, nil
}

// ParseDMS reads the written form of a file: three groups separated by spaces,
// or marked with ° ′ ″, with d m s, or with ° ' ". The last group may have
// decimals. The result is in [0°, 360°).
func ParseDMS(s string) (Angle, error) {
	var p []string
	i, dot := 0, false
	for i < len(s) {
		c := s[i]
		switch {
		case c >= '0' && c <= '9':
			j := i
			for j < len(s) && s[j] >= '0' && s[j] <= '9' {
				j++
			}
			if len(p) == 4 || (len(p) == 3 && !dot) {
				return 0, bad(s, i, ErrSyntax, "more than three groups: expected degrees, minutes and seconds")
			}
			p, i = append(p, s[i:j]), j
		case c == '.' && len(p) == 3 && !dot && i+1 < len(s):
			dot = true
			i++
		default:
			n := markAt(s[i:], len(p))
			if n == 0 {
				return 0, bad(s, i, ErrSyntax, "expected degrees, minutes and seconds as three groups, such as 123 45 06")
			}
			i += n
		}
	}
	if len(p) < 3 {
		return 0, bad(s, len(s), ErrIncomplete, "expected degrees, minutes and seconds as three groups, such as 123 45 06")
	}
	return partsDMS(s, p)
}

// markAt returns the length of the separator at the head of s that may stand
// after the n-th group, or 0.
func markAt(s string, n int) int {
	marks := [][]string{{" "}, {" ", "°", "d"}, {" ", "′", "'", "m"}, {" ", "″", "\"", "s"}, {" ", "″", "\"", "s"}}
	for _, m := range marks[min(n, 4)] {
		if strings.HasPrefix(s, m) {
			return len(m)
		}
	}
	return 0
}
