package fault

import (
	"errors"
	"strings"
	"testing"
)

// Advice that names a file is quoted as the shell of the system reads it.
func TestQuoted(t *testing.T) {
	for _, c := range []struct{ system, path, want string }{
		{"linux", "dam.readback", "dam.readback"},
		{"linux", "dam 2.readback", "'dam 2.readback'"},
		{"linux", "Ines' dam", `'Ines'\'' dam'`},
		{"linux", "dam\n2's\x1b", `$'dam\n2\'s\x1b'`},
		{"windows", `C:\dam.readback`, `C:\dam.readback`},
		{"windows", `C:\Field books\dam.readback`, `"C:\Field books\dam.readback"`},
		{"windows", `C:\Ines' dam`, `"C:\Ines' dam"`},
		{"windows", "dam(1)", `"dam(1)"`},
	} {
		if got := quotedFor(c.system, c.path); got != c.want {
			t.Errorf("%s on %s: %s, want %s", c.path, c.system, got, c.want)
		}
	}
}

// A line feed in a name breaks no sentence.
func TestError_IsOneLine(t *testing.T) {
	e := &Error{Path: "dam\nreadback: all saved", What: ErrNoBook, Detail: "a\r\nb", Do: "Open c\nd"}
	if got := e.Error(); strings.ContainsAny(got, "\r\n") || !errors.Is(e, ErrNoBook) {
		t.Errorf("%q", got)
	}
}
