// Package observer plays an instrument and the person at its telescope: readings
// of a station that is known to the last second, with chosen noise, slips and
// faults. A drill lets it call to a learner; the checks are measured on it.
//
// A station has a truth: directions, altitudes, collimation, tilt of the trunnion
// axis, index error, circle settings. A reading is that truth with normal noise,
// rounded to the least count, with the faults that were ordered (Fault: where
// and what, the same in every run) and now and then a slip of a kind drawn by the
// shares of package slip.
//
// Everything follows from a seed: the same seed calls the same readings, in
// whatever order they are asked for.
package observer
