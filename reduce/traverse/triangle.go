package traverse

import (
	"errors"
	"math"

	"example.org/readback/reduce"
)

// ErrNoTriangle is returned where the sides or the angles make no triangle.
var ErrNoTriangle = errors.New("these sides and angles make no triangle")

// A Triangle has the angles A, B, C and the opposite sides a, b, c; side a lies
// between the stations B and C.
type Triangle struct {
	Angles [3]reduce.Angle
	Sides  [3]float64
}

// TriangleSum returns the misclosure of the three angles, their sum minus 180°,
// and the angles with a third of it taken off each. The corrected angles sum to
// 180° exactly.
func TriangleSum(angles [3]reduce.Angle) (misclosure reduce.Angle, corrected [3]reduce.Angle) {
	misclosure = angles[0] + angles[1] + angles[2] - reduce.HalfTurn
	var given reduce.Angle
	for i := range angles {
		part := (misclosure * reduce.Angle(i+1)).Div(3) - given
		given += part
		corrected[i] = angles[i] - part
	}
	return misclosure, corrected
}

// TriangleFromAngles solves the triangle of one side and its three angles,
// which must sum to 180°, by the sine rule [CS]. side is the number of the
// known side, 0 to 2.
func TriangleFromAngles(angles [3]reduce.Angle, side int, length float64) (Triangle, error) {
	t := Triangle{Angles: angles}
	sum := angles[0] + angles[1] + angles[2]
	if side < 0 || side > 2 || !(length > 0) || bad(length) || sum != reduce.HalfTurn || min(angles[0], angles[1], angles[2]) <= 0 {
		return t, ErrNoTriangle
	}
	k := length / math.Sin(angles[side].Radians())
	for i, a := range angles {
		t.Sides[i] = k * math.Sin(a.Radians())
	}
	t.Sides[side] = length
	return t, nil
}

// TriangleFromSides solves the triangle of three sides by the half-angle
// formula tan(A/2) = √((s−b)(s−c) / s(s−a)) [CS], which keeps its digits in flat
// triangles where the cosine rule loses them.
func TriangleFromSides(sides [3]float64) (Triangle, error) {
	t := Triangle{Sides: sides}
	s := (sides[0] + sides[1] + sides[2]) / 2
	var rest [3]float64
	for i, x := range sides {
		rest[i] = s - x
		if !(x > 0) || bad(x) || !(rest[i] > 0) {
			return t, ErrNoTriangle
		}
	}
	for i := range sides {
		b, c := rest[(i+1)%3], rest[(i+2)%3]
		t.Angles[i] = reduce.FromRadians(2 * math.Atan2(math.Sqrt(b*c), math.Sqrt(s*rest[i])))
	}
	return t, nil
}

// TriangleFromTwoSides solves the triangle of two sides b and c and the angle A
// between them [CS]. The result has A, B, C in this order.
func TriangleFromTwoSides(b, c float64, included reduce.Angle) (Triangle, error) {
	if !(b > 0) || !(c > 0) || bad(b) || bad(c) || included <= 0 || included >= reduce.HalfTurn {
		return Triangle{}, ErrNoTriangle
	}
	sin, cos := math.Sincos(included.Radians())
	angleB := reduce.FromRadians(math.Atan2(b*sin, c-float64(b*cos)))
	return Triangle{
		Angles: [3]reduce.Angle{included, angleB, reduce.HalfTurn - included - angleB},
		Sides:  [3]float64{math.Hypot(c-float64(b*cos), b*sin), b, c},
	}, nil
}

// Area returns the area by Heron's formula, in square units of length. It is
// arranged for flat triangles: sides sorted, brackets kept (W. Kahan, from
// memory).
func (t Triangle) Area() float64 {
	a, b, c := t.Sides[0], t.Sides[1], t.Sides[2]
	if a < b {
		a, b = b, a
	}
	if b < c {
		b, c = c, b
	}
	if a < b {
		a, b = b, a
	}
	return math.Sqrt((a+(b+c))*(c-(a-b))*(c+(a-b))*(a+(b-c))) / 4
}
