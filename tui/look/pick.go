package look

import (
	"strconv"
	"strings"
)

// Pick returns the theme for a terminal: the one remembered by name if the
// terminal can show it, else the best it can. getenv reads the environment
// (os.Getenv).
//
// NO_COLOR set to anything, and a terminal without colours, give plain whatever
// was remembered; a terminal of sixteen colours gives sixteen for day and night.
// A console font has no braille. Where characters of ambiguous width are drawn
// two cells wide the signs are ASCII.
func Pick(name string, ascii bool, getenv func(string) string) *Theme {
	t, ok := Named(name)
	if !ok {
		t, _ = Named("day")
	}
	depth := colours(getenv)
	switch {
	case depth == 0:
		t, _ = Named("plain")
	case depth == 16 && (t.Name == "day" || t.Name == "night"):
		t, _ = Named("sixteen")
	}
	wide, _ := strconv.ParseBool(getenv("RUNEWIDTH_EASTASIAN"))
	term := getenv("TERM")
	switch {
	case ascii || wide || term == "dumb" || strings.HasPrefix(term, "vt1"):
		return t.With(ASCII)
	case term == "linux":
		return t.With(Blocks)
	}
	return t
}

// colours is how many colours the environment promises: 0, 16 or 256.
func colours(getenv func(string) string) int {
	term := getenv("TERM")
	switch {
	case getenv("NO_COLOR") != "":
		return 0
	case getenv("COLORTERM") != "" || strings.Contains(term, "256color") || strings.Contains(term, "direct"):
		return 256
	case getenv("WT_SESSION") != "" || getenv("OS") == "Windows_NT" && term == "":
		return 256
	case term == "" || term == "dumb" || strings.HasPrefix(term, "vt"):
		return 0
	}
	for _, p := range []string{"alacritty", "xterm-kitty", "wezterm", "foot", "xterm-ghostty"} {
		if strings.HasPrefix(term, p) {
			return 256
		}
	}
	return 16
}
