// Package look holds every colour of the screens: four themes, each a lipgloss
// style for what a text is for (its role), and the lines that are painted with
// them.
//
//	day      near-black on white, every pair at least 10:1: for sunlight
//	night    brown and orange strokes on black, nothing bright: spares the eyes
//	sixteen  the terminal's own sixteen colours, nothing bold
//	plain    no sequence at all
//
// A theme never carries meaning alone: what a colour says is also said by a word
// or a mark, so the plain theme loses nothing. Each theme has a renderer of its
// own with a fixed profile, so nothing ever asks the terminal.
package look

import (
	"io"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// A Role is what a piece of text is for.
type Role uint8

// The roles. Ink is the ground of the screen: blanks and running text.
const (
	Ink       Role = iota
	Strong         // titles, figures, what to do next
	Quiet          // labels, heads, notes, the words of keys
	Line           // section lines, frames, open places: no text
	Accent         // the pointing that is called, the key to press, what a plot shows
	Badge          // the face, the only strong ground beside a flag
	Bar            // the line at the head; flags without judgement; cells to touch
	BarStrong      // the station in it
	BarQuiet       // the second text of it; the ground within a limit
	BarCall        // the observer's call; plot marks within a limit
	BandLine       // lines within a limit
	Good           // ready, closes, Lift
	Warn           // marked
	Stop           // a flag: out of limit, apart, cannot be
	StopWide       // Hold, the question, not saved: large areas
	Out            // a digit or a plot mark that is out
	Struck         // a struck figure: legible, with a stroke through it
	Chosen         // the row the arrows stand on
	PadMain        // Enter and Yes of the keypad
	numRoles
)

// Roles that share the paint of another.
const (
	Idle      = Bar
	Cell      = Bar
	Band      = BarQuiet
	BandPoint = BarCall
)

// A Paint is how a role looks: two colours and attributes.
type paintOf struct {
	Front, Back  colour
	Bold, Stroke bool
}

type paints [numRoles]paintOf

// Signs says which characters a terminal draws well.
type Signs uint8

// The sets of signs.
const (
	Full   Signs = iota // ° ′ ″, lines, blocks and braille
	Blocks              // as Full without braille: a console font
	ASCII               // nothing beyond ASCII of our own
)

// A Theme paints text. It is made once and not changed afterwards.
type Theme struct {
	Name   string
	Signs  Signs
	colour bool
	paint  paints
	style  [numRoles]lipgloss.Style
	on     [numRoles]string // what opens a style: rendering each piece anew costs 3 µs and 16 allocations
	off    [numRoles]string // what returns to a ground behind a piece painted on it
}

// newTheme makes the styles with a renderer of their own.
func newTheme(name string, profile termenv.Profile, ps paints) *Theme {
	r := lipgloss.NewRenderer(io.Discard, termenv.WithProfile(profile))
	r.SetColorProfile(profile)
	r.SetHasDarkBackground(name == "night")
	t := &Theme{Name: name, colour: profile != termenv.Ascii, paint: ps}
	for i, p := range ps {
		s := r.NewStyle().Inline(true)
		if t.colour {
			s = s.Foreground(p.Front.lipgloss()).Background(p.Back.lipgloss()).Bold(p.Bold).Strikethrough(p.Stroke)
		}
		t.style[i] = s
		t.on[i], _, _ = strings.Cut(s.Render("x"), "x")
		t.off[i] = strings.Replace(t.on[i], "\x1b[", "\x1b[0;", 1)
	}
	return t
}

// With returns the theme drawing with the given signs.
func (t *Theme) With(s Signs) *Theme {
	u := *t
	u.Signs = s
	return &u
}

// Coloured tells whether the theme writes colours at all.
func (t *Theme) Coloured() bool { return t.colour }

// Style returns the style of a role, for the parts that take one.
func (t *Theme) Style(r Role) lipgloss.Style { return t.style[r] }

// In returns text painted as r. Characters that would act on the terminal are
// shown by a sign.
func (t *Theme) In(r Role, text string) string {
	text = Clean(text)
	if !t.colour || text == "" {
		return text
	}
	return t.on[r] + text + reset
}

const reset = "\x1b[0m"

// onto lays painted text on the ground of a role: what stands between and behind
// its pieces gets that ground. Each piece ends in a reset, which would leave a
// hole, and a bare ground would let a bold run on.
func (t *Theme) onto(r Role, painted string) string {
	if !t.colour {
		return painted
	}
	return t.on[r] + strings.ReplaceAll(painted, reset, t.off[r]) + reset
}
