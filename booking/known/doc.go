// Package known works with stations whose coordinates are given beforehand:
// reading their list, and what it says about the directions of a setup.
//
// The list is a CSV file (RFC 4180, UTF-8) with a header: name, E, N and H, in
// any order; metres. H may be left empty or left out. An unknown column is an
// error, and so is everything else that is not as it should be, with its line
// and column.
package known
