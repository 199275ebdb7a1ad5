package look

import (
	"math"
	"testing"
)

// hex reads rrggbb.
func hex(n int) rgb { return rgb{uint8(n >> 16), uint8(n >> 8), uint8(n)} }

// luminance is the relative luminance of WCAG 2.1, 0 for black to 1 for white.
func luminance(c rgb) float64 {
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.03928 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// ratio is the contrast ratio of WCAG 2.1, 1 to 21, of two colours in either
// order.
func ratio(a, b rgb) float64 {
	la, lb := luminance(a), luminance(b)
	if la < lb {
		la, lb = lb, la
	}
	return (la + 0.05) / (lb + 0.05)
}

// roles returns every role.
func roles() []Role {
	rs := make([]Role, numRoles)
	for i := range rs {
		rs[i] = Role(i)
	}
	return rs
}

// The contrast formula against values that WCAG 2.1 and its readers print. The
// named ratios are from the tables of published check values for WCAG 2.1
// (21:1 black on white is the standard's own); each is rounded to two decimals,
// so the tolerance is half a hundredth.
func TestContrast_PublishedValues(t *testing.T) {
	const w, k = 0xffffff, 0x000000
	tests := []struct {
		a, b int
		want float64
	}{
		{k, w, 21}, {0x0000ff, w, 8.59}, {0x0000ff, 0xff0000, 2.15}, {0x767676, w, 4.54}, {0x595959, w, 7.00}, {0x777777, w, 4.48},
		{0xffff00, k, 19.56}, {0xffff00, w, 1.07}, {0xff0000, w, 4.00}, {0x800000, w, 10.95}, {0x008000, w, 5.14}, {0x000080, w, 16.01},
		{0xc0c0c0, k, 11.54}, {0x808080, w, 3.95},
	}
	for _, tt := range tests {
		for _, got := range []float64{ratio(hex(tt.a), hex(tt.b)), ratio(hex(tt.b), hex(tt.a))} {
			if math.Abs(got-tt.want) > 0.005 {
				t.Errorf("contrast of %06x and %06x is %.4f, published %.2f", tt.a, tt.b, got, tt.want)
			}
		}
	}
}

// The 256-colour table: the corners of the cube and the ends of the greys, as
// xterm documents them (from memory).
func TestColour_Table(t *testing.T) {
	for c, want := range map[colour]int{16: 0x000000, 17: 0x00005f, 21: 0x0000ff, 88: 0x870000, 157: 0xafffaf, 196: 0xff0000, 231: 0xffffff, 232: 0x080808, 255: 0xeeeeee} {
		if got := c.rgb(&xterm); got != hex(want) {
			t.Errorf("colour %d is %v, expected %06x", c, got, want)
		}
	}
}

// contrast of a role on a terminal with the given first sixteen colours. A bold
// one of the first eight is taken as the bright one that many terminals draw.
func contrast(p paintOf, table *[16]rgb) float64 {
	if p.Bold && p.Front < 8 {
		p.Front += 8
	}
	return ratio(p.Front.rgb(table), p.Back.rgb(table))
}

// least is the contrast a role needs where text needs text: a line, which is no
// text, needs 3:1 (WCAG 2.1, 1.4.11).
func least(r Role, text float64) float64 {
	if r == Line || r == BandLine {
		return 2.95 // 3:1 to the decimal that is told
	}
	return text
}

func named(name string) *Theme {
	t, _ := Named(name)
	return t
}

// Every text of the day theme has at least 10:1: what NUREG-0700 rev. 3 prefers,
// and the most that full sun leaves readable.
func TestDay_EveryTextTenToOne(t *testing.T) {
	for _, r := range roles() {
		p := named("day").paint[r]
		if c := contrast(p, &xterm); c < least(r, 10) {
			t.Errorf("day: %v has a contrast of %.2f", r, c)
		}
		if p.Front < 16 || p.Back < 16 {
			t.Errorf("day: %v uses a colour that terminals change", r)
		}
	}
}

// The night theme stays readable (WCAG 2.1: 4.5 for text) and holds nothing
// bright, its large areas nothing but dark.
func TestNight_ReadableAndDim(t *testing.T) {
	for _, r := range roles() {
		p := named("night").paint[r]
		if c := contrast(p, &xterm); c < least(r, 4.5) {
			t.Errorf("night: %v has a contrast of %.2f", r, c)
		}
		f, b := p.Front.rgb(&xterm), p.Back.rgb(&xterm)
		if l := max(luminance(f), luminance(b)); l > 0.4 {
			t.Errorf("night: %v has a luminance of %.2f", r, l)
		}
		if l := luminance(b); l > 0.06 && r != Warn && r != Stop {
			t.Errorf("night: the ground of %v is lit: %.2f", r, l)
		}
	}
}

// The theme of sixteen colours is readable with both common tables of them, and
// nothing in it is bold: a bold black is drawn grey on many terminals.
func TestSixteen_BothTables(t *testing.T) {
	for name, table := range map[string]*[16]rgb{"VGA": &vga, "xterm": &xterm} {
		for _, r := range roles() {
			p := named("sixteen").paint[r]
			if c := contrast(p, table); c < least(r, 4.5) {
				t.Errorf("sixteen, %s: %v has a contrast of %.2f", name, r, c)
			}
			if p.Front > 15 || p.Back > 15 || p.Bold {
				t.Errorf("sixteen: %v is bold or uses more than sixteen colours", r)
			}
		}
	}
}

// An rgb is a colour on a screen, 8 bits a channel, srgb.
type rgb struct{ R, G, B uint8 }

// The sixteen colours as the two most common tables have them. Terminals let
// their users change them, so a theme of sixteen colours is checked with both.
var (
	vga = [16]rgb{
		{0, 0, 0}, {170, 0, 0}, {0, 170, 0}, {170, 85, 0}, {0, 0, 170}, {170, 0, 170}, {0, 170, 170}, {170, 170, 170},
		{85, 85, 85}, {255, 85, 85}, {85, 255, 85}, {255, 255, 85}, {85, 85, 255}, {255, 85, 255}, {85, 255, 255}, {255, 255, 255},
	}
	xterm = [16]rgb{
		{0, 0, 0}, {205, 0, 0}, {0, 205, 0}, {205, 205, 0}, {0, 0, 238}, {205, 0, 205}, {0, 205, 205}, {229, 229, 229},
		{127, 127, 127}, {255, 0, 0}, {0, 255, 0}, {255, 255, 0}, {92, 92, 255}, {255, 0, 255}, {0, 255, 255}, {255, 255, 255},
	}
)

// rgb returns the colour, the first sixteen taken from table.
func (c colour) rgb(table *[16]rgb) rgb {
	switch {
	case c < 16:
		return table[c]
	case c < 232:
		n := int(c) - 16
		return rgb{cube(n / 36), cube(n / 6 % 6), cube(n % 6)}
	}
	g := 8 + 10*(c-232)
	return rgb{uint8(g), uint8(g), uint8(g)}
}

// cube is one channel of the colour cube: 0, 95, 135, 175, 215, 255.
func cube(level int) uint8 {
	if level == 0 {
		return 0
	}
	return uint8(55 + 40*level)
}
