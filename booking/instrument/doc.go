// Package instrument follows the errors of each instrument over the setups of a
// book: collimation, tilt of the trunnion axis, and index error. It says
// whether one of them drifts and when an adjustment is due.
//
// Both faces cancel all three, so an instrument that is out of adjustment still
// gives good means; but single-face readings do not, and an error that changes
// from setup to setup is a sign of something loose.
package instrument
