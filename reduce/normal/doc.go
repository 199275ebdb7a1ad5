// Package normal solves normal equations: one Cholesky factorisation for the
// station, the traverse, the network and the forecast.
//
// A Matrix is symmetric and positive definite, its lower triangle packed row by
// row. Of each row only the places from its first entry to the diagonal are kept
// (the envelope); nothing outside the envelope is ever filled by the
// factorisation, so a network whose unknowns are well ordered costs the square
// of its width and not of its size. A matrix from New keeps the whole triangle.
//
// It is written here and not taken from a library so that every processor gives
// the same answer to the last bit: products are rounded before they are added,
// and sums are taken in one fixed order. Tests hold it against gonum's dense
// algebra.
package normal
