// Package reduce works the numbers of a theodolite station: circle readings to
// means, directions, altitudes, heights and horizontal distances, with what is
// known about their precision. It is pure: nothing is read, written, timed or
// remembered, and nothing in it is changed after the program has started.
//
// # What it computes
//
// Here: angles and directions, with their notations. In the rooms beside it: decimal
// (rounding, the comma, the minus; under this one), faces (the mean of both faces and 2c,
// altitude and index error from either vertical circle, a round closed by one of two
// published rules), lengths, adjust (a station by least squares), slope (distances and
// heights), precision (spreads and residuals judged), fieldtest (the instrument), traverse
// (rings and links), places (everything together), trend.
//
// # Conventions
//
// A circle counts clockwise. FL and FR are the readings on face left and face
// right of one pointing. The reference object (RO) is target 0; rounds and
// targets are numbered from 0. Collimation c is positive where face left reads
// high: FL = m + c, FR = m ± 180° − c. A zenith circle reads 90° on a level line
// face left, a horizon circle 0°; an altitude is positive above the horizon. An
// index error e is what every reading is too large by. A misclosure is closing −
// opening. A residual is adjusted − observed. Δh is the height of the target mark
// over the station mark. The coefficient of refraction k is the Earth's radius
// over that of the line of sight.
//
// # Units, resolution, rounding
//
// Angle is a whole number of micro-arcseconds, Direction a point on the circle in
// the same unit: a reading or a bearing is a Direction, the difference of two is
// an Angle, and two Directions cannot be added. Readings, means, reduced
// directions and plain means of complete rounds never pass through a float.
// A length is a whole number of nanometres. Residuals, standard deviations and
// whatever least squares or a sine has touched are float64: seconds of arc,
// metres. Wrapping is to (−180°, 180°] for differences (Wrap, Sub) and to [0°, 360°)
// for directions. Rounding is half away from zero, everywhere, first
// rounded and then split into degrees, minutes and seconds; a mean is rounded to
// one micro-arcsecond.
//
// # A station worked
//
// Two rounds on A (the RO) and C, one face after the other, without closing:
//
//	round 1  A  0 03 50  180 04 30   mean  0 04 10
//	         C 83 58 50  264 00 00   mean 83 59 25   reduced 83 55 15
//	round 2  A 45 12 30  225 13 30   mean 45 13 00
//	         C 129 07 30 309 08 40   mean 129 08 05  reduced 83 55 05
//
// The direction of C is 83 55 10, the mean; the rounds differ by 10″, each
// residual is ±2.5″, with one degree of freedom s₀ = 5.0″ is the standard
// deviation of one direction, s₀/√2 = 3.5″ that of a mean direction and
// s₀·√(2/2) = 5.0″ that of the angle A–C. [F24]
//
// # Sources
//
// The tag stands at the formula or the figure it vouches for, here or in a room. A tag
// that names a letter and a number is also a file of testdata/published with the printed
// figures, and every figure printed there is held against ours by a test.
//
//	[TRADE] common practice of theodolite crews; definitions without one source
//	[ISO]   ISO 17123-3:2001, Field procedures for testing geodetic and surveying
//	        instruments, part 3: theodolites (from memory)
//	[QR]    distribution of the studentised range (from memory), held by printed values
//	[IAG]   resolution 3 of the International Association of Geodesy, 1999, group
//	        refractivity in the visible and near infrared (formula from memory)
//	[SCALE] J. Mahun, Open Access Surveying Library, reduction example, ch. L
//	[F5]    J. Mahun, Open Access Surveying Library, equipment check and
//	        adjustment, D: vertical circle index
//	[F6]    structural.community topic 233, measurement of vertical angle
//	[F13]   A.M. Chandra, Surveying: Problem Solving with Theory and Objective Type
//	        Questions, 2005, example 3.9
//	[F14]   lecture notes on Wolf and Ghilani, Elementary Surveying, 11th edition,
//	        ch. 4, table of curvature and refraction
//	[F15]   open exam preparation, FE surveying 7.6, trigonometric levelling
//	[F16]   question bank of a Chinese university, full-circle direction method,
//	        two rounds on four targets
//	[F17]   answers to Chinese surveying exercises, table 26
//	[F21]   wendadaohang WdPdcWB5RP5055hd4c, the RO's two means
//	[F24]   handout "Reading, booking and calculating angles", reproduced at
//	        askfilo.com, question 3337373335383338
//	[F25]   Wolf and Ghilani, Elementary Surveying, ch. 8, problems 8.23 and 8.24
//	[F27]   SUR 222 Plane Surveying, homework 5
//	[F29]   bartleby, slope reduction with uncertainty
//	[F30]   jiskha 1285531385, slope reductions
//	[F33]   studyxapp q73704569, reciprocal altitudes on a long slope
//	[F45]   A.M. Chandra, as F13, example 1.1
//	[M3]    tests and factors of ISO 17123-3 (from memory, computed)
//	[M9]    constants of curvature and refraction (from memory, verified)
//	[M12]   W. Baarda's normal test and A.J. Pope's tau test, redundancy numbers,
//	        detectable errors (from memory)
//	[QR]    E.S. Pearson and H.O. Hartley, Biometrika Tables for Statisticians I, table
//	        29 (from memory), and the worked examples that testdata/studentised-range.txt
//	        names
//	[S1]    surveying handbook of the 19th century in German, digitised by TIB
//	        Hannover, PPN 871272423, p. 242: station adjustment of angles
//	[S2]    the same, p. 235
//	[S4]    Koenigl. Preussische Landestriangulation, Hauptdreiecke, Theil 4, p. 59
//	[S5]    H. Fuchs, Satzweise Richtungsbeobachtung, lecture, BOKU Vienna, 2010,
//	        slide 105
//	[S12]   definitions of the units and arithmetic on them
//	[S13]   rounds with gaps made from F16 (recomputed independently)
//	[S15]   NIST/SEMATECH e-Handbook 1.3.5.8, GEAR data (from memory)
//
// # Not here
//
// Datum and projection: the scale of a projection is taken as it is given. Places of
// points: package places. Deflection of the vertical. Dropping an outlier: a suspect is observed again, nothing here
// takes a reading out.
package reduce
