package check

import (
	"fmt"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// recognizeTolerance is how far the two faces of a vertical pair may add up off
// a full or a half circle and still be told for a zenith or a horizon circle:
// more than any index error, less than what could be either.
const recognizeTolerance = 10 * reduce.Degree

// checkGraduation names vertical readings that cannot be of the face they are
// booked under, and pairs that add up as on a circle graduated otherwise: on a
// zenith circle face left reads 0° to 180° and both faces add up to 360°, on a
// horizon circle face left reads 270° to 90° and they add up to 180°. Their
// altitude would be wrong by tens of degrees. [TRADE 4]
func checkGraduation(s booking.Setup, r reduction.Reduction) []Check {
	var cs []Check
	circle := s.Spec.Instrument.Circle
	for _, v := range r.Verticals {
		if v.HasPair {
			if c, ok := faces.RecognizeCircle(v.FL.Angle(), v.FR.Angle(), recognizeTolerance); ok && c != circle {
				cs = append(cs, Check{Name: "graduation", From: spec.CommonPractice,
					Text: fmt.Sprintf("The vertical readings on %s add up as on a circle graduated from the %s, and the circle of this setup is graduated from the %s.",
						v.Target, c, circle),
					Again: fmt.Sprintf("read the vertical circle on %s again", v.Target)})
				continue
			}
		}
		for _, q := range []*booking.Reading{v.FL, v.FR} {
			if q == nil {
				continue
			}
			read := faces.OfVertical(q.Angle(), circle)
			if face := q.Slot.Face; read != faces.NoFace && read != face {
				cs = append(cs, Check{Name: "graduation", From: spec.CommonPractice,
					Text: fmt.Sprintf("The vertical reading on %s booked %s is one of %s on a circle graduated from the %s.",
						v.Target, face.Words(), face.Other().Words(), circle),
					Again: fmt.Sprintf("read %s on %s again", v.Target, face.Words())})
			}
		}
	}
	return cs
}
