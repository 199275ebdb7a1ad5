package culprit

import (
	"fmt"

	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// roughly is how close two directions of rounds lie that agree in the rough.
const roughly = 2 * reduce.Arcminute

// mirrored returns the rounds in which the circle counted anticlockwise: every
// direction to the RO is that of the other rounds with the other sign. Where as
// many rounds count one way as the other, the one in which the targets follow
// each other as they were named is right.
func mirrored(s Station) []Suspect {
	dirs, numbers := roundDirections(s)
	if len(numbers) < 2 {
		return nil
	}
	against := make([]bool, len(numbers))
	n := 0
	for i := 1; i < len(numbers); i++ {
		same, other := compare(dirs[0], dirs[i])
		if against[i] = other >= 2 && same == 0; against[i] {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	if 2*n > len(numbers) || 2*n == len(numbers) && descending(dirs[0]) {
		for i := range against {
			against[i] = !against[i]
		}
	}
	var list []Suspect
	for i, number := range numbers {
		if against[i] {
			list = append(list, Suspect{
				Round: number, Kind: slip.Anticlockwise, Weight: 1,
				Text: fmt.Sprintf("In round %d the circle counts anticlockwise.", number),
			})
		}
	}
	return list
}

// roundDirections gives, for every round, the face-left directions to the RO.
func roundDirections(s Station) (dirs []map[int]reduce.Angle, numbers []int) {
	at := map[int]int{}
	ro := map[int]reduce.Angle{}
	for _, r := range s.Readings {
		if r.Face == faces.FR {
			continue
		}
		i, ok := at[r.Round]
		if !ok {
			i = len(numbers)
			at[r.Round] = i
			numbers, dirs = append(numbers, r.Round), append(dirs, map[int]reduce.Angle{})
		}
		if r.Target == 0 && !r.Closing {
			ro[i] = r.Value.Angle()
		}
		if r.Target != 0 {
			dirs[i][r.Target] = r.Value.Angle()
		}
	}
	for i := range dirs {
		for t := range dirs[i] {
			dirs[i][t] = (dirs[i][t] - ro[i]).Normalize()
		}
	}
	return dirs, numbers
}

// compare counts the targets whose directions are the same in two rounds, and
// those that are the same with the other sign.
func compare(a, b map[int]reduce.Angle) (same, other int) {
	for t, d := range a {
		e, ok := b[t]
		switch {
		case !ok:
		case (d - e).Wrap().Abs() <= roughly:
			same++
		case (d + e).Wrap().Abs() <= roughly:
			other++
		}
	}
	return same, other
}

// descending tells whether the targets, in the order named, come anticlockwise.
func descending(d map[int]reduce.Angle) bool {
	down, last := 0, reduce.Angle(0)
	for t := 1; t <= 1000 && len(d) > 0; t++ {
		v, ok := d[t]
		if !ok {
			continue
		}
		if v < last {
			down++
		} else {
			down--
		}
		last = v
	}
	return down > 0
}
