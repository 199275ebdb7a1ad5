// Package drill plays the observer: a simulated instrument whose readings are
// called to a learner, with chosen noise and slips, and the score of what the
// learner made of them.
//
// Everything follows from a seed: the same seed calls the same readings, in
// whatever order they are asked for.
package drill
