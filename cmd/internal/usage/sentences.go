// Package usage words what the command line says: what is wrong with a call, which
// command was meant, completions for shells, the manual page.
package usage

import (
	"errors"
	"regexp"

	"github.com/alecthomas/kong"
)

// The parser's sentences that a booker cannot be expected to understand, and what
// is said instead.
var plainUsage = []struct {
	from *regexp.Regexp
	to   string
}{
	{regexp.MustCompile(`^expected "(<.*)"$`), `not complete: expected $1`},
	{regexp.MustCompile(`^expected one of .*$`), `expected a command`},
	{regexp.MustCompile(`^missing flags: (.*)$`), `not complete: expected $1`},
	{regexp.MustCompile(`^unexpected argument (.*)$`), `"$1" is one word too many`},
	{regexp.MustCompile(`^unknown flag ([^,]*)`), `$1 is no option`},
	{regexp.MustCompile(`expected a valid \d+ bit u?int but got ("[^"]*")( \(.*\))?`), `$1 is not a whole number`},
	{regexp.MustCompile(`expected a float but got ("[^"]*")( \(.*\))?`), `$1 is not a number`},
	{regexp.MustCompile(`expected duration but got ("[^"]*").*`), `$1 is not a time: expected one such as 2s`},
	{regexp.MustCompile(`expected string value but got ("[^"]*") \(.*\); perhaps try .*`), `expected a value, got $1; write one that begins with a minus sign after an equals sign`},
	{regexp.MustCompile(`expected string value but got "EOL".*`), `expected a value, got nothing`},
	{regexp.MustCompile(`,"" but got`), ` but got`},
	{regexp.MustCompile(`^\[<(\w+)> \.\.\.\]: `), `$1: `},
}

// Sentences says what is wrong with a call and which help to read.
func Sentences(err error) (what, see string) {
	what, see = err.Error(), "readback"
	for _, p := range plainUsage {
		what = p.from.ReplaceAllString(what, p.to)
	}
	var p *kong.ParseError
	if errors.As(err, &p) && p.Context != nil && p.Context.Selected() != nil {
		see += " " + p.Context.Selected().Name
	}
	return what, "see " + see + " --help"
}
