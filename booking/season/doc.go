// Package season books whole seasons of stations by machine, through the real
// booking core, and counts what the checks did.
//
// The stations are those of package observer. A crew books one: the pointings that
// are called, in order. Now and then a slip is made. A marked entry is read again;
// where the second reading is marked too, it is confirmed and the other face of the
// pair is observed again. At the verdict a station on Hold is helped once, as the
// suspects and the comparison of rounds advise. Everything follows from the seed.
package season
