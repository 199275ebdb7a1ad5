package look

import (
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

// The sequences as a terminal gets them (ECMA-48 SGR; 38;5 and 48;5 of the
// 256-colour extension).
func TestIn_Sequences(t *testing.T) {
	for _, tt := range []struct {
		theme string
		role  Role
		want  string
	}{
		{"day", Ink, "\x1b[38;5;16;48;5;231mx\x1b[0m"},
		{"day", Strong, "\x1b[1;38;5;16;48;5;231mx\x1b[0m"},
		{"day", Struck, "\x1b[38;5;237;48;5;231;9mx\x1b[0m"},
		{"sixteen", Stop, "\x1b[97;41mx\x1b[0m"},
		{"sixteen", Ink, "\x1b[30;107mx\x1b[0m"},
		{"plain", Stop, "x"},
	} {
		if got := named(tt.theme).In(tt.role, "x"); got != tt.want {
			t.Errorf("%s %v: %q, expected %q", tt.theme, tt.role, got, tt.want)
		}
	}
}

// Behind each piece the ground goes on, and no bold runs into it.
func TestOn_LeavesNoHole(t *testing.T) {
	d := named("day")
	got := d.onto(Bar, d.In(BarStrong, "Weir")+"  ")
	want := "\x1b[38;5;16;48;5;254m\x1b[1;38;5;16;48;5;254mWeir\x1b[0;38;5;16;48;5;254m  \x1b[0m"
	if got != want {
		t.Errorf("got %q, expected %q", got, want)
	}
}

// The view has exactly the size of the window, whatever is put into it.
func TestFit_IsTheWindow(t *testing.T) {
	for _, name := range Names() {
		th := named(name)
		lines := strings.Split(th.Fit([]string{th.In(Strong, "much too long for it"), "", th.In(Ink, "字字字"), "four", "five"}, 5, 4), "\n")
		if len(lines) != 4 {
			t.Fatalf("%s: %d lines", name, len(lines))
		}
		for _, l := range lines {
			if w := ansi.StringWidth(l); w != 5 {
				t.Errorf("%s: %q is %d wide", name, l, w)
			}
		}
	}
}

// Nothing of a text acts on the terminal, turns its line or grows into the next
// cell; letters with marks and wide ones stay.
func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"Weir": "Weir", "We\x1b[31mir": "We\uFFFD[31mir", "a\u202eb": "a\uFFFDb", "\x07": "\uFFFD", "塔 north": "塔 north", "cafe\u0301": "cafe\u0301",
		"\u0301x": "\uFFFDx", "a\xffb": "a\uFFFDb", "62°14′05″": "62°14′05″",
	} {
		if got := Clean(in); got != want {
			t.Errorf("%q became %q, expected %q", in, got, want)
		}
	}
}

func TestPick(t *testing.T) {
	env := func(pairs ...string) func(string) string {
		return func(k string) string {
			for i := 0; i < len(pairs); i += 2 {
				if pairs[i] == k {
					return pairs[i+1]
				}
			}
			return ""
		}
	}
	for _, tt := range []struct {
		name  string
		ascii bool
		env   func(string) string
		want  string
		signs Signs
	}{
		{"", false, env("TERM", "xterm-256color"), "day", Full},
		{"night", false, env("TERM", "screen", "COLORTERM", "truecolor"), "night", Full},
		{"night", false, env("TERM", "xterm-256color", "NO_COLOR", "1"), "plain", Full},
		{"day", false, env("TERM", "xterm-256color", "NO_COLOR", ""), "day", Full},
		{"day", false, env("TERM", "linux"), "sixteen", Blocks},
		{"plain", false, env("TERM", "linux"), "plain", Blocks},
		{"day", false, env("TERM", "xterm"), "sixteen", Full},
		{"day", false, env("TERM", "dumb"), "plain", ASCII},
		{"day", false, env("TERM", "vt100"), "plain", ASCII},
		{"day", false, env(), "plain", Full},
		{"day", true, env("TERM", "xterm-256color"), "day", ASCII},
		{"day", false, env("TERM", "xterm-256color", "RUNEWIDTH_EASTASIAN", "1"), "day", ASCII},
		{"no such", false, env("TERM", "xterm-256color"), "day", Full},
	} {
		if got := Pick(tt.name, tt.ascii, tt.env); got.Name != tt.want || got.Signs != tt.signs {
			t.Errorf("Pick(%q, %v) is %s with signs %d, expected %s with %d", tt.name, tt.ascii, got.Name, got.Signs, tt.want, tt.signs)
		}
	}
}

func TestNames_EachIsATheme(t *testing.T) {
	n := Names()[0]
	for range Names() {
		if got, ok := Named(n); !ok || got.Name != n {
			t.Errorf("no theme %q", n)
		}
		n = Next(n)
	}
	if n != Names()[0] {
		t.Errorf("Next does not walk round: %q", n)
	}
}

// In ASCII and on a console every sign of our own is replaced one for one, so
// that no width changes; letters of names stay.
func TestSigns_OneForOne(t *testing.T) {
	for _, tt := range []struct {
		signs    Signs
		in, want string
	}{
		{ASCII, "123°45′06.7″", "123d45'06.7\""}, {ASCII, "✓ −62°14′05″ ┊ ◆", "+ -62d14'05\" : #"}, {ASCII, "Zoë 字 Müller", "Zoë 字 Müller"}, {ASCII, "⣿", "*"},
		{Blocks, "› ✓ −62°14′05″ ┊ ◆ █▀▄─│┌", "> √ -62°14'05\" : ♦ █▀▄─│┌"}, {Full, "62°14′05″", "62°14′05″"},
	} {
		if got := named("plain").With(tt.signs).signs(tt.in); got != tt.want {
			t.Errorf("%q became %q, expected %q", tt.in, got, tt.want)
		}
	}
	for r, a := range asciiSigns {
		if a >= 0x80 || a < 0x20 {
			t.Errorf("%q is replaced by %q", r, a)
		}
	}
}

// The quick count of cells is what x/ansi counts, for any text with colours in it.
func TestWidth_AsXansi(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		for range rapid.IntRange(0, 8).Draw(t, "pieces") {
			b.WriteString(rapid.SampledFrom([]string{"", "\x1b[0m", "\x1b[1;38;5;16;48;5;231m", "\x1b[97;41m", "\x1b[", "\x1b[2J", "\x1b]0;x\x07", "☃", "字", "e\u0301", "\x1b[0;38;5;9m"}).Draw(t, "sequence"))
			b.WriteString(rapid.SampledFrom([]string{"", "Weir", "62°14′05″", "▀▄█ ─│┊", "⣿⠁", "✓ ✗ ● ◆", rapid.String().Draw(t, "any")}).Draw(t, "text"))
		}
		if got, want := Width(b.String()), ansi.StringWidth(b.String()); got != want {
			t.Fatalf("%q takes %d cells, x/ansi says %d", b.String(), got, want)
		}
	})
}

var roleNames = [numRoles]string{"ink", "strong", "quiet", "line", "accent", "badge", "bar", "bar strong", "bar quiet", "call", "band line",
	"good", "warn", "stop", "stop wide", "out", "struck", "chosen", "pad main"}

// String returns the role's name.
func (r Role) String() string {
	if r < numRoles {
		return roleNames[r]
	}
	return "role " + strconv.Itoa(int(r))
}
