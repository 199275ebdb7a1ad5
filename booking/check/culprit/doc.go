// Package culprit names the reading at fault when a setup disagrees with itself.
//
// Every horizontal reading of a setup follows the per-face model
//
//	FL = ω + D + c,   FR = ω + D ± 180° − c
//
// with one orientation ω per round, one direction D per target and one
// collimation c for the setup (reduce.AdjustFaces). Hypotheses are held against
// it and against each other: no reading is wrong; one reading; two or three; the
// direction of a pair, alike on both faces; the reference object of a round, so
// that all targets shift together; everything after one pointing, because the
// circle or the tripod moved. Each is weighed by
//
//   - what it leaves of the misfit, with a standard deviation that gives way when
//     the readings are rougher than stated: (ν₀ + [vv]/σ²) to the power
//     −(ν₀ + dof)/2, the marginal of normal errors whose variance is known like
//     one from ν₀ degrees of freedom, 8 where it is stated and 3 where not;
//   - how likely a slip is to turn the reading that should have come into the one
//     booked: package slip, given what the other readings leave for it. Where the
//     geometry leaves face left or face right open, a digit slip that explains
//     one of them decides;
//   - how common such a fault is (assumed).
//
// Pairs that are grossly wrong on both faces alike, a wrong target or booked under
// each other's face, are found beforehand from rough directions and set aside.
//
// The weights are read as probabilities. What reaches Sure is named, as far as
// it can be told: reading, else target and round, else target alone. Below that
// the candidates that together reach it are listed as alike. No more is reported
// than the readings can tell.
package culprit
