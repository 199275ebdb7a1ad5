package main

import (
	"bytes"
	"strings"
	"testing"
)

// Every wrong call says in the words of the trade what was expected, names the
// help to read, prints nothing on standard output and exits 2.
func TestUsage_Sentences(t *testing.T) {
	tests := []struct{ args, want string }{
		{"reduce", "not complete: expected <file>\nreadback: see readback reduce --help"},
		{"reduce a b", `"b" is one word too many`},
		{"reduce a --colour", "--colour is no option"},
		{"reduce a --jsn", `--jsn is no option, did you mean "--json"?`},
		{"reduce a --circle nadir", `--circle must be one of "zenith","horizon" but got "nadir"`},
		{"reduce a --refraction x", `--refraction: "x" is not a coefficient: expected a number such as 0.13`},
		{"reduce a --refraction NaN", `--refraction: "NaN" is not a coefficient`},
		{"reduce a --refraction 1e300", `--refraction: "1e300" is not a coefficient`},
		{"reduce a --least-count -1", `--least-count: expected a value, got "-1"; write one that begins with a minus sign after an equals sign`},
		{"reduce a --least-count=-1", `least count: "-1" is not a number: expected a plain decimal`},
		{"import --booker Tam b", "not complete: expected <file>"},
		{"import b f", "not complete: expected --booker=NAME\nreadback: see readback import --help"},
		{"export b --as xml", "--as must be one of"},
		{"sheet", "not complete: expected <book>"},
		{"sheet b two", `setups: "two" names no setups: expected numbers such as 7 or 1-3,7`},
		{"drill --season many", `--season: "many" is not a whole number`},
		{"drill --noise many", `--noise: "many" is not a number`},
		{"drill --pause long", `--pause: "long" is not a time: expected one such as 2s`},
		{"restore", "not complete: expected <journal>"},
		{"gather", "not complete: expected <out>"},
	}
	for _, tt := range tests {
		var out, errs bytes.Buffer
		code := runAgain(strings.Fields(tt.args), &Context{Out: &out, Err: &errs, Getenv: func(string) string { return "" }})
		if code != exitUsage || out.Len() > 0 || !strings.Contains(errs.String(), tt.want) {
			t.Errorf("readback %s: exit %d, printed %q, said %q, want %q", tt.args, code, out.String(), errs.String(), tt.want)
		}
	}
}
