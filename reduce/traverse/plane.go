package traverse

import (
	"errors"
	"math"

	"example.org/readback/reduce"
)

// errSamePoint is returned where a bearing is asked between two points that are
// one and the same.
var errSamePoint = errors.New("the two points are the same: there is no bearing between them")

// A Point is a place in the plane, or a difference of two places.
type Point struct {
	E float64 // east
	N float64 // north
}

// Add returns p + q. The conversions keep a product that a caller hands over from
// being fused into the sum.
func (p Point) Add(q Point) Point {
	return Point{float64(p.E) + float64(q.E), float64(p.N) + float64(q.N)}
}

// Sub returns p − q.
func (p Point) Sub(q Point) Point { return Point{p.E - q.E, p.N - q.N} }

// Length returns the length of the vector p.
func (p Point) Length() float64 { return math.Hypot(p.E, p.N) }

// scale returns k·p.
func (p Point) scale(k float64) Point { return Point{float64(k * p.E), float64(k * p.N)} }

// dot returns the inner product of two vectors.
func (p Point) dot(q Point) float64 { return float64(p.E*q.E) + float64(p.N*q.N) }

// lever returns how the vector moves for each radian that its bearing grows.
func (p Point) lever() Point { return Point{p.N, -p.E} }

// polar returns the vector of the given bearing and length: ΔE = L·sin β,
// ΔN = L·cos β [CS].
func polar(bearing reduce.Direction, length float64) Point {
	sin, cos := math.Sincos(bearing.Angle().Wrap().Radians())
	return Point{E: length * sin, N: length * cos}
}

// Bearing returns the bearing from one point to another, and
// errSamePoint where there is none.
func Bearing(from, to Point) (reduce.Direction, error) {
	d := to.Sub(from)
	if d.E == 0 && d.N == 0 {
		return reduce.Direction{}, errSamePoint
	}
	return reduce.DirectionAt(reduce.FromRadians(math.Atan2(d.E, d.N))), nil
}

// Distance returns the length of the line between two points.
func Distance(from, to Point) float64 { return to.Sub(from).Length() }
