package traverse

import "math"

// A Reciprocal compares what was found from one end of a line with what was
// found from the other.
type Reciprocal struct {
	Mean       float64 // in the direction from the first end
	Difference float64 // there minus back (a height back counted with its sign turned)
	Limit      float64
}

// Within tells whether the two ends agree.
func (r Reciprocal) Within() bool { return math.Abs(r.Difference) <= r.Limit }

// ReciprocalDistance compares a distance there with the distance back.
func ReciprocalDistance(there, back, limit float64) Reciprocal {
	return Reciprocal{Mean: (there + back) / 2, Difference: there - back, Limit: limit}
}

// ReciprocalHeight compares a height difference there with the one back, which
// has the opposite sign: the mean is (there − back)/2, free of the curvature of
// the earth and of what refraction both ends share; the difference is there +
// back.
func ReciprocalHeight(there, back, limit float64) Reciprocal {
	return Reciprocal{Mean: (there - back) / 2, Difference: there + back, Limit: limit}
}

// DistanceLimit returns the limit of the difference of a distance measured from
// both ends: constant + ppm of the length (common practice, no source).
func DistanceLimit(constant, ppm, length float64) float64 {
	return constant + float64(ppm*1e-6*length)
}

// HeightLimit returns perRootKm·√K with K the length in kilometres, and never
// under least; all in metres. Heights by vertical angles in GB 50026-2007 (from
// memory): there and back 0.040·√K in the fourth order and 0.060·√K in the class
// below; round a ring or along a link 0.020·√ΣK and 0.030·√ΣK.
func HeightLimit(perRootKm, least, length float64) float64 {
	return max(least, perRootKm*math.Sqrt(length/1000))
}
