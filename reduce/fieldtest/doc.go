// Package fieldtest tests a theodolite: the field test of ISO 17123-3, horizontal
// (Horizontal) and vertical (Vertical), and the errors of the axes found from the pairs
// of any setup (FindAxes). Seconds of arc. The tags of sources are those of package reduce.
package fieldtest
