package culprit

import (
	"fmt"
	"slices"

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

// unseen stands for the direction of a target that a round has not.
const unseen reduce.Angle = -1

// roundDirections gives, for every round, the face-left directions of the targets to
// the RO.
func roundDirections(s Station) (dirs [][]reduce.Angle, numbers []int) {
	for _, r := range s.Readings {
		if r.Face != faces.FR && !slices.Contains(numbers, r.Round) {
			numbers = append(numbers, r.Round)
		}
	}
	room := slices.Repeat([]reduce.Angle{unseen}, len(numbers)*len(s.Names))
	dirs, ro := make([][]reduce.Angle, len(numbers)), make([]reduce.Angle, len(numbers))
	for i := range dirs {
		dirs[i], room = room[:len(s.Names)], room[len(s.Names):]
	}
	for _, r := range s.Readings {
		if r.Face == faces.FR {
			continue
		}
		i := slices.Index(numbers, r.Round)
		if r.Target != 0 {
			dirs[i][r.Target] = r.Value.Angle()
		} else if !r.Closing {
			ro[i] = r.Value.Angle()
		}
	}
	for i := range dirs {
		for t, d := range dirs[i] {
			if d != unseen {
				dirs[i][t] = (d - ro[i]).Normalize()
			}
		}
	}
	return dirs, numbers
}

// compare counts the targets whose directions are the same in two rounds, and
// those that are the same with the other sign.
func compare(a, b []reduce.Angle) (same, other int) {
	for t, d := range a {
		e := b[t]
		switch {
		case d == unseen || e == unseen:
		case (d - e).Wrap().Abs() <= roughly:
			same++
		case (d + e).Wrap().Abs() <= roughly:
			other++
		}
	}
	return same, other
}

// descending tells whether the targets, in the order named, come anticlockwise.
func descending(dirs []reduce.Angle) bool {
	down, last := 0, reduce.Angle(0)
	for _, d := range dirs {
		if d == unseen {
			continue
		}
		if d < last {
			down++
		} else {
			down--
		}
		last = d
	}
	return down > 0
}
