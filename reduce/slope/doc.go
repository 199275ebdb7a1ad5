// Package slope works distances and heights: a slope distance to the horizontal and the
// rise (Reduce), both with what they are worth (SD); a distance made right line by line
// for air, prism, sea level and scale (Rule, Work); the coefficient of refraction that a
// line seen from both ends shows (Coefficient). Metres or feet alike unless a formula
// needs metres; float64, for a sine has touched them. The tags of sources are those of
// package reduce.
package slope
