package instrument

import "fmt"

// A LeftOut is a setup that does not speak for its instrument, and why.
type LeftOut struct {
	Setup   int
	Station string
	Why     string // "it is on Hold", "a reading in it is suspect"
}

// Sentence says it.
func (l LeftOut) Sentence() string {
	return fmt.Sprintf("Setup %d (%s) is left out: %s.", l.Setup, l.Station, l.Why)
}
