package culprit

import "example.org/readback/booking/check/align"

// A Reading is one horizontal circle reading that stands.
type Reading = align.Reading

// A Station is what a search works on: all horizontal readings of a setup in the
// order observed.
type Station = align.Station
