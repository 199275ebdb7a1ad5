package widget_test

import (
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/readback/tui/look"
	"example.org/readback/tui/widget"
)

// nasty are texts that have broken screens: escapes, wide letters, combining
// marks, joiners, text that turns the line around, bytes that are no UTF-8.
var nasty = []string{
	"\x1b[31mred", "\x1b]0;title\a", "a\nb\tc\rd", "\x7f\x00\x9b31m", "字字字", "e\u0301\u0302", "\u0301", "👩\u200d👩\u200d👧", "a\u200d", "\u200d",
	"🇩", "🇩🇪", "🇪", "👍🏽", "⚠\ufe0f", "\u202eabc", "\u2066x", "\xff\xfe", "\xc2", "각", "\u1100", "\u1161", "नि", "\u0600", "\u0e33", "\ufeff", "\U000e0041", "123°45′06″", "─│┌",
}

func text(t *rapid.T, label string) string {
	var b strings.Builder
	for _, s := range rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(nasty), rapid.String(), rapid.StringMatching(`[a-zA-Z ]{0,9}`)), 0, 4).Draw(t, label) {
		b.WriteString(s)
	}
	return b.String()
}

// checkView holds a view to what the renderer and the terminal need: exactly h
// lines, none wider than the window less its last column, no control character
// but line ends and the theme's own sequences.
func checkView(t *rapid.T, f *widget.Frame) {
	w, h := f.Size()
	view := f.String()
	lines := strings.Split(view, "\n")
	if h > 0 && len(lines) != h {
		t.Fatalf("%d lines in a window of %d: %q", len(lines), h, view)
	}
	for _, l := range lines {
		if got := ansi.StringWidth(l); got > max(w-1, 0) {
			t.Fatalf("a line of %d cells in a window of %d: %q", got, w, l)
		}
	}
	for _, r := range look.Roles() {
		if on := f.Theme().On(r); on != "" {
			view = strings.ReplaceAll(view, on, "")
		}
	}
	for _, r := range view {
		if r != '\n' && (unicode.IsControl(r) || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069) {
			t.Fatalf("%q reached the terminal in %q", r, view)
		}
	}
}

func anyTheme(t *rapid.T) *look.Theme {
	th, _ := look.Named(rapid.SampledFrom(look.Names()).Draw(t, "theme"))
	return th.With(rapid.SampledFrom([]look.Signs{look.Full, look.Blocks, look.ASCII}).Draw(t, "signs"))
}

func anyRole(t *rapid.T) look.Role {
	return rapid.SampledFrom(append(look.Roles(), 200)).Draw(t, "role")
}

func anyAlign(t *rapid.T) widget.Align {
	return rapid.SampledFrom([]widget.Align{widget.Left, widget.Middle, widget.Right}).Draw(t, "align")
}

// Whatever is drawn wherever, the view keeps to its window.
func TestFrame_NeverLeavesTheWindow(t *testing.T) {
	f := &widget.Frame{}
	rapid.Check(t, func(t *rapid.T) {
		f.Reset(anyTheme(t), rapid.IntRange(0, 40).Draw(t, "w"), rapid.IntRange(0, 12).Draw(t, "h"))
		for range rapid.IntRange(0, 8).Draw(t, "draws") {
			at := rapid.IntRange(-5, 45)
			a := f.Area().Sub(at.Draw(t, "x"), at.Draw(t, "y"), at.Draw(t, "w"), at.Draw(t, "h"))
			s := text(t, "text")
			switch rapid.IntRange(0, 6).Draw(t, "what") {
			case 0:
				a.Text(at.Draw(t, "x"), at.Draw(t, "y"), anyRole(t), s)
			case 1:
				a.Fit(at.Draw(t, "x"), at.Draw(t, "y"), at.Draw(t, "w"), anyRole(t), s, anyAlign(t))
			case 2:
				a.Paragraph(anyRole(t), s)
			case 3:
				a.Box(anyRole(t), s).Line(anyRole(t), s)
			case 4:
				a.Fill(anyRole(t), rapid.SampledFrom([]rune("·█─ x")).Draw(t, "sign"))
			case 5:
				a.Tall(anyRole(t), rapid.SampledFrom([]widget.Height{widget.Line, widget.Tall, widget.Huge}).Draw(t, "height"), s)
			case 6:
				a.HRule(at.Draw(t, "y"), anyRole(t))
			}
		}
		checkView(t, f)
	})
}

// The cells that a text takes in a frame are the cells that the renderer counts,
// so columns stay aligned whatever stands before them.
func TestFrame_ColumnsStayAligned(t *testing.T) {
	f := &widget.Frame{}
	rapid.Check(t, func(t *rapid.T) {
		f.Reset(look.Plain(), 61, 1)
		w := rapid.IntRange(1, 30).Draw(t, "w")
		f.Area().Fit(0, 0, w, look.Base, text(t, "name"), anyAlign(t))
		f.Area().Fit(w, 0, 20, look.Base, text(t, "neighbour"), widget.Left)
		f.Area().Text(w+20, 0, look.Base, "|")
		line := strings.Split(f.String(), "\n")[0]
		if got := ansi.StringWidth(line) - 20; got != w+1 {
			t.Fatalf("the column stands at %d, expected %d: %q", got-1, w, line)
		}
	})
}

func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"Weir":            "Weir",
		"\x1b[31mred":     "␛[31mred",
		"a\nb\tc":         "a␊b␉c",
		"\x7f":            "␡",
		"\xff":            "\uFFFD",
		"\u009b31m":       "\uFFFD31m",
		"\u202eabc":       "\uFFFDabc",
		"Zoe\u0308 字":     "Zoe\u0308 字",
		"\u0301a":         " \u0301a",
		"e\u0301\x1b[0me": "e\u0301␛[0me",
	} {
		if got := widget.Clean(in); got != want {
			t.Errorf("%q became %q, expected %q", in, got, want)
		}
	}
}

func TestWidthCutPadWrap(t *testing.T) {
	if got := widget.Width("字e\u0301👩\u200d👩\u200d👧x"); got != 6 {
		t.Errorf("width %d, expected 6", got)
	}
	for _, tt := range []struct {
		s    string
		w    int
		want string
	}{{"Chapel", 6, "Chapel"}, {"Chapel", 5, "Chap…"}, {"字字字", 5, "字字…"}, {"字字字", 4, "字…"}, {"Chapel", 0, ""}, {"Chapel", 1, "…"}} {
		if got := widget.Cut(tt.s, tt.w); got != tt.want {
			t.Errorf("Cut(%q, %d) is %q, expected %q", tt.s, tt.w, got, tt.want)
		}
	}
	for align, want := range map[widget.Align]string{widget.Left: "字   ", widget.Middle: " 字  ", widget.Right: "   字"} {
		if got := widget.Pad("字", 5, align); got != want {
			t.Errorf("Pad %d is %q, expected %q", align, got, want)
		}
	}
	for _, tt := range []struct {
		s    string
		w    int
		want string
	}{
		{"Sight Alder, then transit.", 12, "Sight Alder,|then|transit."},
		{"Sight Alder", 11, "Sight Alder"}, {"abcdefgh", 3, "abc|def|gh"}, {"字字字 字", 5, "字字|字 字"}, {"", 5, ""}, {"a b c d", 3, "a b|c d"},
	} {
		if got := strings.Join(widget.Wrap(tt.s, tt.w), "|"); got != tt.want {
			t.Errorf("Wrap(%q, %d) is %q, expected %q", tt.s, tt.w, got, tt.want)
		}
	}
}

// No wrapped line is too wide and no word is lost.
func TestWrap_KeepsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, w := text(t, "text"), rapid.IntRange(2, 20).Draw(t, "w")
		var joined strings.Builder
		for _, l := range widget.Wrap(s, w) {
			if got := widget.Width(l); got > w {
				t.Fatalf("a line of %d cells of %d: %q", got, w, l)
			}
			joined.WriteString(strings.ReplaceAll(l, " ", ""))
		}
		if want := strings.ReplaceAll(widget.Clean(s), " ", ""); joined.String() != want {
			t.Fatalf("%q became %q", want, joined.String())
		}
	})
}

// Every character that is taken for simple is one cell wide and joins no other.
func TestSimple(t *testing.T) {
	for r := rune(0x20); r < 0x3000; r++ {
		if !widget.Simple(r) {
			continue
		}
		if w := ansi.StringWidth(string(r)); w != 1 {
			t.Errorf("%q (%U) is %d cells wide", r, r, w)
		}
		if w := ansi.StringWidth("x" + string(r) + "x"); w != 3 {
			t.Errorf("%q (%U) joins a letter", r, r)
		}
	}
}

// A half-overwritten wide character leaves no half behind.
func TestFrame_WideOverwritten(t *testing.T) {
	f := widget.NewFrame(look.Plain(), 8, 2)
	a := f.Area()
	a.Text(0, 0, look.Base, "字字")
	a.Text(1, 0, look.Base, "x")
	a.Text(0, 1, look.Base, "字字")
	a.Text(0, 1, look.Base, "x")
	if got, want := f.Plain(), " x字\nx 字\n"; got != want {
		t.Errorf("got %q, expected %q", got, want)
	}
}
