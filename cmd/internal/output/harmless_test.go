package output

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What a terminal would take for a command is shown, everything else is left alone,
// wherever a write ends: told by a plain walk over the characters.
func TestHarmless(t *testing.T) {
	show := func(s string) string {
		var out strings.Builder
		for _, r := range s {
			switch {
			case r == 0x7f:
				out.WriteRune(0x2421)
			case r >= 0x80 && r < 0xa0:
				out.WriteRune(0xfffd)
			case r < ' ' && !strings.ContainsRune("\n\r\t", r):
				out.WriteRune(0x2400 + r)
			default:
				out.WriteRune(r)
			}
		}
		return out.String()
	}
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOf(rapid.SampledFrom([]string{"12°30′05″", "\x1b[2J", "\u009b", "\u0085", "\x7f", "\x00", "Weir\n", "\t", "ö", "Â", "£"})).Draw(t, "parts")
		all := strings.Join(parts, "")
		var got bytes.Buffer
		h := NewHarmless(&got)
		for rest := []byte(all); len(rest) > 0; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "n")
			if m, err := h.Write(rest[:n]); m != n || err != nil {
				t.Fatal(m, err)
			}
			rest = rest[n:]
		}
		if want := show(all); got.String() != want {
			t.Fatalf("%q: %q, expected %q", all, got.String(), want)
		}
	})
}
