// Package precision judges what scatters: a standard deviation with its degrees of
// freedom, several of them pooled, held against a stated one or against each other;
// the limits of single residuals (normal, Student, Pope's tau, the studentised range)
// and the least slip that readings could reveal. It knows no angle: the unit is the
// caller's. The tags of sources are those of package reduce.
package precision
