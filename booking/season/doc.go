// Package season books whole seasons of stations by machine, through the real
// booking core, and counts what the checks did.
//
// A station has a truth: directions, altitudes, collimation, tilt of the trunnion
// axis, index error, circle settings; every reading is that truth with normal
// noise, rounded to the least count. A crew books it: the pointings that are
// called, in order. Now and then a slip is made, of a kind drawn by the rates of
// package slip. A marked entry is read again; where the second reading is marked
// too, it is confirmed and the other face of the pair is observed again. At the
// verdict a station on Hold is helped once, as the suspects and the comparison
// of rounds advise. Everything follows from the seed.
package season
