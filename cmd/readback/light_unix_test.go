//go:build unix

package main

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// sgr finds every sequence that sets colours or strokes, with its numbers.
var sgr = regexp.MustCompile(`\x1b\[([0-9;]*)m`)

// struckFigure is how the struck 90°05′10″ is told by shape, whatever the signs.
var struckFigure = regexp.MustCompile(`~90.05.10.?~`)

// colours lists what a run of the program used: "none", "sixteen", "more".
func colours(written string) map[string]bool {
	used := map[string]bool{}
	for _, m := range sgr.FindAllStringSubmatch(written, -1) {
		codes := strings.Split(m[1], ";")
		for i := 0; i < len(codes); i++ {
			var n int
			fmt.Sscan(codes[i], &n)
			switch {
			case n == 38 || n == 48:
				used["more"] = true
				i = len(codes)
			case n >= 30 && n <= 37 || n >= 40 && n <= 47 || n >= 90 && n <= 107:
				used["sixteen"] = true
			}
		}
	}
	return used
}

// Every theme brings the screens up, and every state of an entry and of a station
// is told in words, so that it is read without colour too.
func TestLight_EveryTheme(t *testing.T) {
	for n, c := range []struct {
		name      string
		env, args []string
		ascii     bool
		uses      string // colours that must be used; empty: none may be
		never     string
	}{
		{name: "day", args: []string{"--theme", "day"}, uses: "more"},
		{name: "night", args: []string{"--theme", "night"}, uses: "more"},
		{name: "sixteen", args: []string{"--theme", "sixteen"}, uses: "sixteen", never: "more"},
		{name: "sixteen by TERM", env: []string{"TERM=xterm"}, uses: "sixteen", never: "more"},
		{name: "a console", env: []string{"TERM=linux"}, uses: "sixteen", never: "more"},
		{name: "vt100", env: []string{"TERM=vt100"}, ascii: true},
		{name: "plain", args: []string{"--theme", "plain"}},
		{name: "NO_COLOR", env: []string{"NO_COLOR=1"}},
		{name: "ascii", args: []string{"--ascii"}, ascii: true, uses: "more"},
		{name: "plain ascii", args: []string{"--ascii", "--theme", "plain"}, ascii: true},
	} {
		if !testdata.OneOf(5, n) {
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			args := append([]string{"book", filepath.Join(t.TempDir(), "weir.book")}, c.args...)
			b := bookerAt(openEnv(t, 100, 30, c.env, args...))
			b.walksTheStates()
			used := colours(b.written())
			if c.uses == "" && len(used) > 0 || c.uses != "" && !used[c.uses] || used[c.never] {
				t.Errorf("colours used: %v", used)
			}
			if i := strings.IndexFunc(b.written(), func(r rune) bool { return r > 126 }); c.ascii && i >= 0 {
				t.Errorf("a sign beyond ASCII: %q", b.written()[max(i-20, 0):i+4])
			}
		})
	}
}

// walksTheStates goes through the states that a booker must tell apart and
// demands that each is told in words.
func (b *booker) walksTheStates() {
	b.t.Helper()
	b.sees("New setup").writes("Weir", "Spire", "Alder, Quarry, Mast", "1.475", "Ines Holm", "Tam Okoro", "T-5", "4471")
	b.presses(pageDown, "o").sees("Weir setup 1", "Sight Spire", "empty", "saved")
	station := append(append(append([]string{}, round1...), round2...), verticals...)
	b.key("00").sees("keying", "More digits come.").key(erase + erase).sees("empty")
	b.key("1234575").sees("cannot").key(strings.Repeat(erase, 7)).sees("empty")
	for i, r := range station {
		b.key(r).sees("ready").key(enter).sees("empty", "saved")
		if i == 8 {
			break
		}
	}
	b.marked("1361025").sees("Has the observer read it again?").key("n").sees("empty")
	b.presses("s").sees("Strike a reading").presses("1", enter).sees("Strike").presses("2").sees("struck: keyed wrongly")
	if t := b.screen(); !struckFigure.MatchString(t) {
		b.t.Errorf("a struck figure is not told by shape:\n%s", t)
	}
	b.presses("l").sees("The tripod stays.", "missing").presses("b").sees("empty")
	b.presses("g").sees("Pointings").presses("b").sees("empty")
	b.presses("o").sees("Options").presses("b").sees("empty")
	b.presses("w").sees("Work list", "open").quits()
}

// A theme book.Chosen on the screen is there again at the next start.
func TestLight_ChoiceIsRemembered(t *testing.T) {
	file, home := filepath.Join(t.TempDir(), "weir.book"), t.TempDir()
	b := bookerAt(attach(t, command(t, home, nil, "book", file), 100, 30)).firstSetup()
	b.presses("o").sees("Theme day").presses("t").sees("Theme night").presses("m").sees("Touch and mouse no").presses("b").sees("○ empty").quits()
	again := bookerAt(attach(t, command(t, home, nil, "book", file), 100, 30)).sees("Weir setup 1")
	if strings.Contains(again.written(), "\x1b[?1000h") {
		t.Error("touches are listened to again")
	}
	again.presses("o").sees("Theme night", "Touch and mouse no").presses("m").sees("Touch and mouse yes")
	again.until("touches listened to", func(string) bool { return strings.Contains(again.written(), "\x1b[?1000h") })
}
