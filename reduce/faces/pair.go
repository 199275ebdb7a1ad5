package faces

import "example.org/readback/reduce"

// TwoC returns twice the collimation of a pair of readings on one pointing,
// wrap(FL − FR − 180°), exactly. Positive: face left reads high. [TRADE]
func TwoC(fl, fr reduce.Direction) reduce.Angle {
	return (fl.Angle() - fr.Angle() - reduce.HalfTurn).Wrap()
}

// collimation returns half of TwoC, rounded half away from zero to one
// micro-arcsecond. [TRADE]
func collimation(fl, fr reduce.Direction) reduce.Angle { return TwoC(fl, fr).Half() }

// PairMean returns the mean direction of a pair of readings on the face-left
// frame, m = FL − c, in [0°, 360°). It is free of the collimation and right
// across north: 359°59′58″ and 180°00′02″ mean 0°00′00″. [TRADE] [F16] [F17] [F25]
func PairMean(fl, fr reduce.Direction) reduce.Direction { return fl.Add(-collimation(fl, fr)) }
