package look

import (
	"strconv"

	"github.com/charmbracelet/lipgloss"
)

// A colour is a number of the 256-colour table of terminals: 0-15 are the
// terminal's own sixteen, 16-231 the colour cube, 232-255 the greys. Only the
// numbers from 16 up mean the same colour everywhere.
type colour uint8

// lipgloss returns the colour by its number.
func (c colour) lipgloss() lipgloss.Color { return lipgloss.Color(strconv.Itoa(int(c))) }
