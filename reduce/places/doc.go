// Package places finds the places of points from everything observed between
// them: directions of rounds with one orientation a set, distances, angles,
// bearings and known coordinates, adjusted together by least squares and judged.
//
// # Conventions
//
// East and north, bearings clockwise from north. Angular values are radians,
// lengths metres (or any one unit of length throughout), standard deviations
// likewise. A residual is adjusted − observed. The model of a direction is
// bearing(from, to) = direction + orientation of its set. Weights are 1/σ² with
// the stated σ, σ₀ = 1.
//
// The datum is what known points and bearings give. Where they do not give all of
// it, it is free: the sum of the squared corrections of all places is least
// (inner constraints), about the places the adjustment started from.
//
// # Judging
//
// s₀² = [pvv]/dof is held against its χ² limits. Of every observation the
// redundancy number r, the normalised residual w = v/(σ√r) and the smallest slip
// that would show, σ·δ₀/√r, are given. Where the adjustment fails, Search asks
// which one thing being wrong explains it: an observation, the sight of one
// target from one set, all distances of a line, an angle together with a length, a station's place during
// one set, a known point. Explanations that the observations cannot tell apart are
// given together.
//
// # Sources
//
//	[LSQ]  least squares by observation equations, derived here; orientations
//	       eliminated before anything is built.
//	[M12]  W. Baarda's test, A.J. Pope's test, redundancy numbers (from memory);
//	       published figures in the tests of package reduce.
//	[RCM]  E. Cuthill, J. McKee, order of small width, 1969, reversed (from memory).
//	[S]    transformation of the datum of cofactors, W. Baarda 1973 (from memory).
//	[VCE]  W. Förstner's estimate of variance components, s² = [pvv]/Σr of a group
//	       (from memory).
package places
