package network

import (
	"fmt"
	"math"

	"example.org/readback/reduce/lengths"
	"example.org/readback/reduce/traverse"
)

// figureLengths is the unit of length that the tables of a figure are printed in.
type figureLengths struct {
	metres                float64 // one of it
	symbol, small, plural string  // small: its thousandth
}

// feetSaid names the unit at the head of a print in feet.
const feetSaid = "The tables of figures are in international feet (1 ft = 0.3048 m exactly); mft is a thousandth of one. Sentences with limits, and everything together, stay in metres."

func lengthsIn(feet bool) figureLengths {
	if feet {
		return figureLengths{lengths.InternationalFoot, "ft", "mft", "feet"}
	}
	return figureLengths{1, "m", "mm", "metres"}
}

func (in figureLengths) of(metres float64) float64 { return metres / in.metres }

// thousandths prints a correction, with its sign.
func (in figureLengths) thousandths(metres float64) string {
	switch x := math.Round(1000 * in.of(metres)); {
	case math.Abs(x) > 9999:
		return ">9 " + in.symbol
	case x < 0:
		return fmt.Sprintf("−%.0f", -x)
	case x > 0:
		return fmt.Sprintf("+%.0f", x)
	}
	return "0"
}

// ellipse prints a standard ellipse, its half axes in thousandths.
func (in figureLengths) ellipse(e traverse.Ellipse) string {
	if e.A, e.B = in.of(e.A), in.of(e.B); e.A >= 1 {
		return "over 1 " + in.symbol
	}
	return ellipse(e)
}
