// Package network finds the rings and links that the setups of a book make, works
// them, and says what is closed, what is still open and, where a figure does
// not close, what to observe again before the tripod is lifted.
//
// Setups link by names: a station is a setup's station, a leg is a pair of
// stations that sight each other. Nothing has to be filled in. What is known
// beforehand, coordinates or a bearing, goes into Input where there is any.
//
// A figure is worked from the summaries of the setups as they stand, the one
// that is being observed included, so the last angle of a ring closes it while
// the tripod is still up. The mathematics is that of reduce/traverse.
//
// Known stations come as a CSV file (RFC 4180, UTF-8) with a header: name, E, N
// and H, in any order; metres. H may be left empty or left out. An unknown column
// is an error, and so is everything else that is not as it should be, with its
// line and column.
package network
