// Package completion knows what a partly keyed reading can still become.
//
// A booker keys the digits of a reading one after another. Long before Enter the
// digits already keyed rule readings out: once 9 stands first in a reading of
// degrees, nothing under 9° and nothing from 10° to 89° can follow. A Set holds
// the intervals of complete readings that are still possible, and Meets tells
// whether one of them lies in the band in which the reading is expected. The
// first digit at which none does is the digit at which a slip shows.
//
// The notation is that of reduce.ParseKeyed: 5 to 7 digits that fill degrees,
// minutes and seconds from the right, or the parts separated by spaces or full
// stops, with decimals of the second where the least count has them; gon as a
// plain decimal with at most three figures before the point. Degrees of more
// than three figures (0123 for 123) are not counted as a way to go on.
//
// Nothing here allocates: the check runs at every key.
package completion
