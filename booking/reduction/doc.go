// Package reduction is what follows from the readings of a setup that count: rounds
// worked and compared, how closely they were sighted and the limits this makes likely,
// directions, altitudes, distances and heights.
//
// All of it is a function of the setup and is never stored in it. Screens, sheets and
// files print the same Reduction.
package reduction
