// Package forecast says what the readings of a setup lead one to expect of the
// next horizontal reading, and how closely.
//
// All readings that stand are fitted by least squares with the unknowns of the
// per-face model, FL = ω + D + c + e and FR = ω + D ± 180° − c − e: an
// orientation ω per round, a direction D per target, the collimation c of the
// setup and a small share e of it for each target, which stands for the
// altitude and the tilt of the trunnion axis. What is known beforehand enters
// as observations:
//
//	c                   as the instrument's earlier setups have it, else
//	                    0 ± 25″ (assumed: 2c is rarely more than 1.5′)
//	e of each target    0 ± 1.5″ (assumed)
//	a known direction   as given, with its standard deviation
//
// The expected reading is ω + D ± c of the fit. Its standard deviation follows
// from the same equations, so it counts by itself what the expectation is made
// of: on the first face-right sight only the face-left reading and next to
// nothing of 2c, later the 2c of the pairs booked, from the second round every
// earlier reading of that target and, for the orientation, every reading of the
// round. The standard deviation returned is that of the difference between the
// reading to come and the expectation: its own noise is in it.
//
// A reading that was booked although it did not fit weighs a twenty-fifth: it and
// those it did not fit cannot both be right. A reading that lies more than six standard deviations off the fit is set
// aside; where two of them could each be the one, both expectations are given.
package forecast
