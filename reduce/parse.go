package reduce

import (
	"errors"
	"fmt"
	"strings"
)

// The ways a text is not an angle. ParseError.Err is one of them.
var (
	errSyntax     = errors.New("not a reading in this notation")
	ErrIncomplete = errors.New("too short for a reading")
	errRange      = errors.New("out of range")
	ErrPrecision  = errors.New("finer than the instrument's least count")
)

// A ParseError says what is wrong with a text that should be an angle and where.
type ParseError struct {
	Input  string // the whole text
	Offset int    // byte offset in Input of the first thing that is wrong
	What   string // one sentence: what is wrong
	Form   bool   // What says what was expected, too
	Err    error  // errSyntax, ErrIncomplete, errRange or ErrPrecision
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

// badForm is bad for a sentence that says what was expected.
func badForm(input string, off int, kind error, format string, args ...any) error {
	return &ParseError{Input: input, Offset: off, Err: kind, Form: true, What: fmt.Sprintf(format, args...)}
}

// ParseKeyed reads an entry as a booker keys it. Spaces before and after do not
// count.
//
//	dms = digits [ "." digits ]             filled from the right: 1234512 = 123°45′12″, 5 to 7 digits
//	    | deg sep min sep sec [ "." dec ]   sep = one full stop, or spaces; deg has 1 to 3 digits, min and sec 1 or 2
//	gon, deg, mil = digits [ "." digits ]   a plain decimal
//
// Before decimals a comma may stand for the full stop, and nowhere else: 1,234 is
// one and 234 thousandths, 1,234.5 is refused.
//
// The result is in [0, full circle). ErrIncomplete is returned for what more
// digits could make complete; errRange for minutes or seconds of 60 and more and
// for a full circle and more; ErrPrecision for what is no multiple of leastCount,
// and for decimals of a second where it has none (a leastCount of 0 asks for
// nothing). What is ill-formed is refused, never guessed
// at: a full stop at either end or beside another one.
func ParseKeyed(s string, u Unit, leastCount Angle) (Angle, error) {
	var a Angle
	var err error
	if u.Decimal() {
		a, err = parseDecimal(s, u)
	} else {
		a, err = parseKeyedDMS(s, leastCount <= 0 || Places(DMS, leastCount) > 0)
	}
	if err != nil {
		return 0, err
	}
	if leastCount > 0 && a%leastCount != 0 {
		return 0, bad(s, lastDigit(s), ErrPrecision, "no multiple of the least count of the instrument, %s", leastCountText(u, leastCount))
	}
	return a, nil
}

func leastCountText(u Unit, lc Angle) string {
	if u.Decimal() {
		return lc.Format(u, Places(u, lc)) + u.Mark()
	}
	return strings.TrimPrefix(lc.FormatSeconds(Places(u, lc)), "+")
}

// lastDigit returns where the last digit of s stands.
func lastDigit(s string) int { return max(0, strings.LastIndexAny(s, "0123456789")) }

// A group is a run of digits and where it stands in the text.
type group struct {
	digits string
	at     int
}

// groups splits a keyed text at its separators. seps[i] stands after group i.
func groups(s string) (gs []group, seps []string, err error) {
	end := len(strings.TrimRight(s, " "))
	i := len(s[:end]) - len(strings.TrimLeft(s[:end], " "))
	for i < end {
		j := i
		for j < end && isDigit(s[j]) {
			j++
		}
		if j == i {
			if !isPoint(s[i]) && s[i] != ' ' {
				return nil, nil, bad(s, i, errSyntax, "only digits, spaces and full stops stand in a reading")
			}
			return nil, nil, badForm(s, i, errSyntax, "a digit is expected before the full stop")
		}
		gs = append(gs, group{s[i:j], i})
		for i = j; i < end && s[i] == ' '; i++ {
		}
		if i == j && i < end && isPoint(s[i]) {
			i++
		}
		if i == j && i < end {
			return nil, nil, bad(s, i, errSyntax, "only digits, spaces and full stops stand in a reading")
		}
		if j < end {
			seps = append(seps, s[j:i])
		}
	}
	return gs, seps, nil
}

// isPoint tells whether the character parts decimals from what is before them.
func isPoint(c byte) bool { return c == '.' || c == ',' }

// strayComma returns where a comma stands that parts no decimals, -1 for none: a
// comma is a decimal sign and nothing else, so it stands once, last, and in
// degrees, minutes and seconds behind the seconds.
func strayComma(s string, seps []string, decimals bool) int {
	comma := strings.IndexByte(s, ',')
	if comma < 0 || decimals && len(seps) > 0 && seps[len(seps)-1] == "," && comma == strings.LastIndexByte(s, ',') {
		return -1
	}
	return comma
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// parseKeyedDMS reads the dms notation; decimals tells whether the seconds may
// have some.
func parseKeyedDMS(s string, decimals bool) (Angle, error) {
	gs, seps, err := groups(s)
	if err != nil {
		return 0, err
	}
	last := "" // what stands before the last group
	if len(gs) > 1 {
		last = strings.Replace(seps[len(gs)-2], ",", ".", 1)
	}
	if i := strayComma(s, seps, len(gs) == 4 || len(gs) == 2 && len(gs[0].digits) >= 5 || len(seps) == len(gs)); i >= 0 {
		return 0, bad(s, i, errSyntax, "a comma stands only before decimals of a second")
	}
	switch {
	case len(gs) == 0:
		return 0, bad(s, 0, ErrIncomplete, "no digits yet")
	case len(seps) == len(gs):
		return 0, badForm(s, len(s), ErrIncomplete, "digits are expected after the full stop")
	case !decimals && last == "." && (len(gs) == 4 || len(gs) == 2 && len(gs[0].digits) >= 5):
		return 0, bad(s, gs[len(gs)-1].at, ErrPrecision, "the instrument reads whole seconds")
	case len(gs) == 1, len(gs) == 2 && last == "." && len(gs[0].digits) >= 5:
		return runDMS(s, gs)
	case len(gs) == 2:
		return 0, bad(s, len(s), ErrIncomplete, "degrees, minutes and seconds are three parts")
	case len(gs) == 3, len(gs) == 4 && last == ".":
		return partsDMS(s, gs)
	}
	return 0, bad(s, gs[3].at, errSyntax, "more than degrees, minutes and seconds")
}

// runDMS splits one run of digits from the right.
func runDMS(s string, gs []group) (Angle, error) {
	run, at := gs[0].digits, gs[0].at
	n := len(run)
	switch {
	case n < 5 && len(gs) == 1:
		return 0, bad(s, at+n, ErrIncomplete, "too short: minutes and seconds take two digits each, the degrees at least one")
	case n > 7:
		return 0, bad(s, at+7, errRange, "too long: three digits of degrees, two of minutes, two of seconds")
	}
	parts := []group{{run[:n-4], at}, {run[n-4 : n-2], at + n - 4}, {run[n-2:], at + n - 2}}
	return partsDMS(s, append(parts, gs[1:]...))
}

// partsDMS puts degrees, minutes, seconds and an optional decimal part together.
func partsDMS(s string, p []group) (Angle, error) {
	deg, min, sec := number(p[0].digits), number(p[1].digits), number(p[2].digits)
	switch {
	case len(p[0].digits) > 3 || deg >= 360:
		return 0, bad(s, p[0].at, errRange, "%s degrees is a full circle or more", p[0].digits)
	case len(p[1].digits) > 2 || min >= 60:
		return 0, bad(s, p[1].at, errRange, "%s minutes: minutes go to 59", p[1].digits)
	case len(p[2].digits) > 2 || sec >= 60:
		return 0, bad(s, p[2].at, errRange, "%s seconds: seconds go to 59", p[2].digits)
	}
	a := Angle(deg)*Degree + Angle(min)*Arcminute + Angle(sec)*Arcsecond
	if len(p) < 4 {
		return a, nil
	}
	frac, ok := fraction(p[3].digits, Arcsecond)
	if !ok {
		return 0, bad(s, p[3].at, ErrPrecision, "more than six decimals of a second")
	}
	return a + frac, nil
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

// plainDecimal reads digits with at most one full stop, or one comma, inside them and returns
// the digits before it and, where there is one, behind it. expected is what the
// error says should stand there.
func plainDecimal(s, expected string) ([]group, error) {
	gs, seps, err := groups(s)
	if err != nil {
		return nil, err
	}
	switch {
	case len(gs) == 0:
		return nil, bad(s, 0, ErrIncomplete, "no digits yet")
	case strings.HasPrefix(first(seps), " "), len(gs) > 2, strayComma(s, seps, true) >= 0, len(gs) == 2 && len(seps) == 2:
		return nil, badForm(s, gs[0].at+len(gs[0].digits), errSyntax, "expected %s", expected)
	case len(seps) == len(gs):
		return nil, badForm(s, len(s), ErrIncomplete, "digits are expected after the full stop")
	}
	return gs, nil
}

// ParseMillionths reads a plain decimal that is no angle, such as a length: not negative,
// under 1,000,000, with up to six decimals behind a full stop or a comma. It returns
// millionths.
func ParseMillionths(s string) (int64, error) {
	gs, err := plainDecimal(s, "one plain decimal, such as 12.345")
	if err != nil {
		return 0, err
	}
	n := number(gs[0].digits)
	if n >= 1_000_000 {
		return 0, bad(s, gs[0].at, errRange, "longer than a line of sight can be")
	}
	n *= 1_000_000
	if len(gs) == 2 {
		dec := strings.TrimRight(gs[1].digits, "0")
		if len(dec) > 6 {
			return 0, bad(s, lastDigit(s), ErrPrecision, "more than six decimals")
		}
		n += number((dec + "000000")[:6])
	}
	return n, nil
}

// ParseWritten reads the written form of a file: ParseDMS, or a plain decimal of the
// unit u, 0 to under the full circle, behind a full stop or a comma, with as many
// decimals as an Angle holds. Spaces before and after do not count.
func ParseWritten(s string, u Unit) (Angle, error) {
	if u.Decimal() {
		return parseDecimal(s, u)
	}
	return ParseDMS(s)
}

// parseDecimal reads a plain decimal of a unit.
func parseDecimal(s string, u Unit) (Angle, error) {
	gs, err := plainDecimal(s, "one plain decimal of "+u.WholeName()+", such as "+u.Example())
	if err != nil {
		return 0, err
	}
	if w := number(gs[0].digits); len(gs[0].digits) > u.Digits() || w >= int64(Turn/u.Whole()) {
		return 0, bad(s, gs[0].at, errRange, "%s %s is a full circle or more", gs[0].digits, u.WholeName())
	}
	a := Angle(number(gs[0].digits)) * u.Whole()
	if len(gs) == 2 {
		frac, ok := fraction(gs[1].digits, u.Whole())
		if !ok {
			return 0, bad(s, lastDigit(s), ErrPrecision, "more than %s decimals of a %s", [...]string{5: "five", 7: "seven", 8: "eight"}[of(u).most], strings.TrimSuffix(u.WholeName(), "s"))
		}
		a += frac
	}
	return a, nil
}

// first returns the first of texts, empty where there is none.
func first(seps []string) string {
	if len(seps) == 0 {
		return ""
	}
	return seps[0]
}
