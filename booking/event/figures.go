package event

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// FiguresSet records limits and standard deviations that figures and the network are
// worked with. A later one goes over an earlier one, name by name.
type FiguresSet struct {
	Values []FigureValue `json:"values"`
	By     string        `json:"by,omitempty"`
}

// A FigureValue is one of them, under the name that the command line has for it.
type FigureValue struct {
	Name  string   `json:"name"`
	Value *float64 `json:"value,omitempty"` // nil: what the program takes unless it is set
}

// CentreNoted says that an instrument, or the target it sighted, stood beside its
// mark, and where the mark lay. Directions and distances of the setup are then
// reduced to the mark. A later one of the same sight takes its place; a distance of 0
// takes it back. An offset from what was sighted to what is meant is noted alike.
type CentreNoted struct {
	Setup    int            `json:"setup"`
	Target   string         `json:"target,omitempty"` // empty: the instrument
	Distance lengths.Length `json:"distance"`         // horizontal, from what stood beside to the mark
	// Angle is counted clockwise: at the instrument from the RO to the mark of the
	// station; at a target from its mark to the station.
	Angle reduce.Angle `json:"angle"`
	By    string       `json:"by,omitempty"`
}

// LevelsLoaded records levelled differences of height; they take the place of those
// loaded before.
type LevelsLoaded struct {
	File  string         `json:"file,omitempty"`
	Rises []LevelledRise `json:"rises"`
	By    string         `json:"by,omitempty"`
}

// A LevelledRise is a levelled difference of height, To over From.
type LevelledRise struct {
	From string         `json:"from"`
	To   string         `json:"to"`
	Rise lengths.Length `json:"rise"`
	SD   lengths.Length `json:"sd"` // standard deviation; positive
}

// kind methods: see Kind.
func (FiguresSet) kind() Kind   { return kindFiguresSet }
func (CentreNoted) kind() Kind  { return kindCentreNoted }
func (LevelsLoaded) kind() Kind { return kindLevelsLoaded }

// Words says what was set.
func (f FiguresSet) Words() string {
	var parts []string
	for _, v := range f.Values {
		if v.Value == nil {
			parts = append(parts, v.Name+" at the program's own value")
		} else {
			parts = append(parts, fmt.Sprintf("%s %g", v.Name, *v.Value))
		}
	}
	return strings.Join(parts, ", ")
}

// Check says why it cannot be noted of a setup that sights those names.
func (c CentreNoted) Check(sighted []string) error {
	if c.Target != "" && !slices.Contains(sighted, c.Target) {
		return fmt.Errorf("setup %d does not sight %q: expected one of %s", c.Setup, c.Target, strings.Join(sighted, ", "))
	}
	return nil
}

// Words says what stood beside its mark in its setup, the angle in a unit of the circle.
func (c CentreNoted) Words(u reduce.Unit) string {
	who := cmp.Or(c.Target, "the instrument")
	if c.Distance == 0 {
		return who + " stood on its mark after all"
	}
	places := 0
	if u.Decimal() {
		places = 4
	}
	return fmt.Sprintf("%s stood %s m beside its mark, at %s%s", who, c.Distance.Format(lengths.Metres, 3), c.Angle.Format(u, places), u.Mark())
}

// Words says the difference with its sign, and its standard deviation.
func (l LevelledRise) Words() string {
	sign := "+"
	if l.Rise < 0 {
		sign = ""
	}
	return fmt.Sprintf("%s to %s %s%s m, σ %s mm", l.From, l.To, sign, l.Rise.Format(lengths.Metres, 4), strconv.FormatFloat(float64(l.SD)/float64(lengths.Millimetre), 'f', -1, 64))
}
