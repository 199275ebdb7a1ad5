package booking

import "example.org/readback/reduce"

// Known is what is known of a station beyond its own setup: directions to the RO
// from an earlier occupation or from coordinates.
type Known struct {
	// Direction returns the direction from the RO to a target and its standard
	// deviation in seconds; nil when nothing is known.
	Direction func(target string) (d reduce.Angle, sd float64, ok bool)
}

// An Expectation is what the present readings say of the next one. It never
// leaves this package as a figure: it only judges.
type Expectation struct {
	slot  Slot
	setup Setup
}

// Expectation returns what is expected of a slot.
func (s Setup) Expectation(slot Slot, known Known) Expectation {
	return Expectation{slot: slot, setup: s}
}

// Check judges a complete entry.
func (e Expectation) Check(value int64) []Finding { return nil }
