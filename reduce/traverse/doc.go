// Package traverse works triangles and traverses from station to station: the
// sum of the angles and its misclosure, carried bearings, coordinates, the
// linear misclosure, the compass rule and least squares, and where one gross
// error most likely sits.
//
// # Conventions
//
// Bearings are counted clockwise from north (the N axis). ΔE = L·sin β,
// ΔN = L·cos β. The angle at a station is counted clockwise from the station
// before to the station after: the angle on the left hand of who walks the
// traverse in its order. An angle on the right hand is 360° minus it
// (Clockwise). In a ring walked anticlockwise these are the interior angles,
// in a ring walked clockwise the exterior ones.
//
// Lengths, coordinates and their standard deviations are in one unit of
// length, metres unless the booking says otherwise; standard deviations of
// angles are in arc-seconds. A misclosure is what was carried minus what it
// should be; a correction has the opposite sign.
//
// The plane is meant: no projection, no reduction to a level surface, no
// spherical excess. A triangle of 200 km² has an excess of one second.
//
// # Sources
//
//	[PURDUE]   Purdue University, course ASM 215, "traverse calculation": compass rule.
//	[MAHUN]    J. Mahun, Open Access Surveying Library, Traverse Computations, ch. H: link traverse.
//	[WAC]      Washington Administrative Code 332-130-090: limits of field traverses.
//	[NAVEDTRA] US Navy Engineering Aid training manual, NAVEDTRA 14071, fig. 7-41: the bisector.
//	[CS]       common practice, no single source: carried bearings, coordinates by sine and
//	           cosine, agreement of a traverse carried forward and backward.
//	[LSQ]      least squares by observation equations, Gauss-Newton on the normal
//	           equations; derived here from β = atan2(ΔE, ΔN) and L = √(ΔE² + ΔN²).
//	[BAARDA]   critical value 3.29 of a normal deviate at risk 0.001, from memory.
package traverse
