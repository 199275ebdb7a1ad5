// Package booking is a setup at the instrument: what has happened in it, and what can be
// done with it now. What was agreed stands in package spec, what can happen in event;
// what follows from the readings in reduction, what is called next in programme.
//
// A book is a list of numbered setups. Everything that happens is an Event, a
// fact in the past tense; an Event belongs to one setup, or to the book itself
// (setup 0). The state of a setup is the fold of its events by Apply, live and
// on replay alike. Nothing is edited: a wrong reading is struck and read again.
//
// The three steps of a reading: programme.Expect says which pointing is next, check.Read
// turns keyed text into a fact or refuses it, Apply folds the fact. What is held against
// a setup stands in package check; Apply guards only what is impossible. Derived figures
// (means, spreads) are functions of the state and are never stored in it.
//
// No clock, no files and no random numbers are used here: the time of an event
// is passed in.
package booking
