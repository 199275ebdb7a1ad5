// Package decimal holds what every number of the house keeps to, exact or not: the one
// rule of rounding, half away from zero; the comma that may stand for the full stop; the
// true minus.
package decimal

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Div returns n/d rounded half away from zero, over the whole range. d must not be 0.
func Div(n, d int64) int64 {
	q, r := n/d, n%d
	if r < 0 {
		r = -r
	}
	size := d
	if size < 0 {
		size = -size
	}
	switch {
	case r < size-r:
		return q
	case (n < 0) != (d < 0):
		return q - 1
	}
	return q + 1
}

// Round rounds half away from zero; what no int64 holds becomes the nearest that one
// holds, and what is no number becomes 0.
func Round(x float64) int64 {
	switch {
	case math.IsNaN(x):
		return 0
	case x >= math.MaxInt64:
		return math.MaxInt64
	case x <= math.MinInt64:
		return math.MinInt64
	}
	return int64(math.Round(x))
}

// Parse reads a number that need not be exact, a temperature, a factor, as it is keyed:
// a comma or a full stop before the decimals, a hyphen or a minus before everything,
// spaces around it. How large it may be, and that it is a number at all, is the rule of
// what it is read for.
func Parse(s string) (float64, error) {
	x, err := strconv.ParseFloat(keyed(strings.TrimSpace(s)), 64)
	if err != nil {
		return 0, fmt.Errorf("%q is no plain decimal: %w", s, err)
	}
	return x, nil
}

// keyed makes of a keyed number what the standard library reads.
func keyed(s string) string {
	return strings.ReplaceAll(strings.ReplaceAll(s, ",", "."), "−", "-")
}

// Sprintf is fmt.Sprintf for a number, with its true minus: −3.86.
func Sprintf(format string, args ...any) string {
	return strings.Replace(fmt.Sprintf(format, args...), "-", "−", 1)
}
