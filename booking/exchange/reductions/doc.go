// Package results writes the reductions of setups: as JSON, as a table for a
// terminal, and the final directions as CSV. All three print one
// reduction.Reduction, the same that screens and sheets print.
//
// # Decimals
//
// A reading is printed with its own decimals. A mean carries one decimal more
// than the readings of its setup and than the least count: directions and
// altitudes are printed to 0.1″ where whole seconds are read.
//
// # JSON
//
// Angles are decimal degrees beside the formatted text, differences are seconds,
// lengths are metres, all plain numbers without an exponent. A value that does
// not exist is left out: the direction of a pointing that was read on one face
// only, the spread of a direction seen in one round, a standard deviation where
// nothing is left over to estimate it from.
package reductions
