// Package align holds the horizontal readings of a setup face by face, and what
// most of them say: rough orientations and directions that a few gross slips do
// not draw away. The search for a faulty reading and the forecast of the next one
// both start from it.
package align
