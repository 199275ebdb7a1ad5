// Package slip names how a booked reading went wrong.
//
// It is given what was keyed, the band the reading was expected in, and what
// else could have been under the cross-hair, and it searches the ways readings
// go wrong for those that lead from a reading inside the band to the one that
// was keyed. Each way has a share of all slips (Rates); a way that needs a
// reading far from the middle of the band counts for less. The cause is named
// only when one kind, in one part of the reading, outweighs everything else,
// the slips of no known kind included, three to one; otherwise the advice is to
// read again.
//
// A kind is a pattern in the figures, not a motive: figures cannot tell whether
// eye, ear or finger put a 5 for a 4. Where one pattern is a case of another,
// the more particular one is named: a unit of degrees read one too high is a
// whole degree, not one digit misread. Kinds lists them all.
//
// The sentences say the kind and the place in words that can be called out. They
// never hold a figure: the reading is asked for again, not corrected.
package slip
