package look

import (
	"strings"
	"testing"
)

// The sequences as a terminal gets them (ECMA-48 SGR; 38;5 and 48;5 of the
// 256-colour extension).
func TestOn_Sequences(t *testing.T) {
	for _, tt := range []struct {
		theme *Theme
		role  Role
		want  string
	}{
		{Day(), Base, "\x1b[0;38;5;16;48;5;231m"},
		{Day(), Struck, "\x1b[0;9;38;5;16;48;5;231m"},
		{Day(), Title, "\x1b[0;1;4;38;5;17;48;5;231m"},
		{Sixteen(), Stop, "\x1b[0;1;97;41m"},
		{Sixteen(), Base, "\x1b[0;30;107m"},
		{Plain(), Stop, ""},
	} {
		if got := tt.theme.On(tt.role); got != tt.want {
			t.Errorf("%s %v: %q, expected %q", tt.theme.Name, tt.role, got, tt.want)
		}
	}
}

func TestText_ReturnsToBase(t *testing.T) {
	d := Day()
	if got, want := d.Text(Warn, "look"), d.On(Warn)+"look"+d.On(Base); got != want {
		t.Errorf("got %q, expected %q", got, want)
	}
	if got := Plain().Text(Stop, "Hold"); got != "Hold" {
		t.Errorf("plain painted %q", got)
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

func TestRewrite_ASCII(t *testing.T) {
	a := Day().With(ASCII)
	for in, want := range map[string]string{
		"123°45′06.7″":                 "123-45-06.7",
		"Alder 123°45′06″, 2c +12.5″":  "Alder 123-45-06, 2c +12.5\"",
		"−0°00′12″":                    "-0-00-12",
		"  _°_1′23″":                   "  _-_1-23",
		"between 0° and 1°":            "between 0 deg and 1 deg",
		"limit 2 × 5″ × √n, ±10″, ≤ 4": "limit 2 x 5\" x sqrt n, +-10\", <= 4",
		"σ 2″ → Lift":                  "s 2\" -> Lift",
		"5′":                           "5'",
		"Zoë 字 Müller":                 "Zoë 字 Müller",
		"plain":                        "plain",
	} {
		if got := a.Rewrite(in); got != want {
			t.Errorf("%q became %q, expected %q", in, got, want)
		}
		if got := Day().Rewrite(in); got != in {
			t.Errorf("with full signs %q became %q", in, got)
		}
	}
	if got := a.Sign(0x28ff); got != '*' {
		t.Errorf("braille became %q", got)
	}
}

// On a console only characters of its font are drawn, each one cell for one.
func TestRewrite_Console(t *testing.T) {
	c := Sixteen().With(Blocks)
	if got, want := c.Rewrite("› ✓ −62°14′05″ ┊ ◆ █▀▄─│┌"), "> √ -62°14'05\" : ♦ █▀▄─│┌"; got != want {
		t.Errorf("got %q, expected %q", got, want)
	}
}

// What stands for a sign is ASCII.
func TestSigns_AllASCII(t *testing.T) {
	for r, a := range signs {
		if a >= 0x80 || a < 0x20 {
			t.Errorf("%q is replaced by %q", r, a)
		}
	}
	for r, w := range words {
		if !isASCII(w) || strings.TrimSpace(w) == "" {
			t.Errorf("%q is replaced by %q", r, w)
		}
	}
}
