package traverse

import "example.org/readback/reduce"

// handbookSettings returns the limits of common practice for an instrument of the
// given least count: 2 × least count × √n for the angles; 1 in 5000 for the
// lengths [WAC]; least count for the standard deviation of an angle, 3 mm +
// 2 ppm for that of a leg in metres (common practice, no source).
func handbookSettings(leastCount reduce.Angle) Settings {
	return Settings{
		AnglePerRoot: 2 * leastCount,
		LeastRatio:   5000,
		AngleSD:      leastCount.Seconds(),
		LengthSD:     0.003,
		LengthPPM:    2,
	}
}
