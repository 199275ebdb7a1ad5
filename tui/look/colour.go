package look

import (
	"strconv"

	"github.com/charmbracelet/lipgloss"
)

// A colour is a number of the 256-colour table of terminals: 0-15 are the
// terminal's own sixteen, 16-231 the colour cube, 232-255 the greys. Only the
// numbers from 16 up mean the same colour everywhere.
type colour uint8

// An RGB is a colour on a screen, 8 bits a channel, sRGB.
type RGB struct{ R, G, B uint8 }

// The sixteen colours as the two most common tables have them. Terminals let
// their users change them, so a theme of sixteen colours is checked with both.
var (
	VGA = [16]RGB{
		{0, 0, 0}, {170, 0, 0}, {0, 170, 0}, {170, 85, 0}, {0, 0, 170}, {170, 0, 170}, {0, 170, 170}, {170, 170, 170},
		{85, 85, 85}, {255, 85, 85}, {85, 255, 85}, {255, 255, 85}, {85, 85, 255}, {255, 85, 255}, {85, 255, 255}, {255, 255, 255},
	}
	XTerm = [16]RGB{
		{0, 0, 0}, {205, 0, 0}, {0, 205, 0}, {205, 205, 0}, {0, 0, 238}, {205, 0, 205}, {0, 205, 205}, {229, 229, 229},
		{127, 127, 127}, {255, 0, 0}, {0, 255, 0}, {255, 255, 0}, {92, 92, 255}, {255, 0, 255}, {0, 255, 255}, {255, 255, 255},
	}
)

// RGB returns the colour, the first sixteen taken from table.
func (c colour) RGB(table *[16]RGB) RGB {
	switch {
	case c < 16:
		return table[c]
	case c < 232:
		n := int(c) - 16
		return RGB{cube(n / 36), cube(n / 6 % 6), cube(n % 6)}
	}
	g := 8 + 10*(c-232)
	return RGB{uint8(g), uint8(g), uint8(g)}
}

// cube is one channel of the colour cube: 0, 95, 135, 175, 215, 255.
func cube(level int) uint8 {
	if level == 0 {
		return 0
	}
	return uint8(55 + 40*level)
}

// lipgloss returns the colour by its number.
func (c colour) lipgloss() lipgloss.Color { return lipgloss.Color(strconv.Itoa(int(c))) }
