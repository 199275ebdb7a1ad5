package reduction

import (
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// A Repeated is a measurement that was made several times as a check: its mean
// and how far the values lie apart. Lengths are nanometres, angles
// micro-arcseconds.
type Repeated struct {
	Quantity spec.Quantity
	Target   string
	Readings []booking.Reading // those that count; of a vertical circle the face-left ones
	N        int
	Mean     int64
	Spread   int64 // largest less smallest
}

// repeats returns the readings of a place and of its repetitions that count.
func repeats(s booking.Setup, slot spec.Slot) []booking.Reading {
	var rs []booking.Reading
	for slot.Repeat = 0; slot.Repeat <= spec.MaxRepeats; slot.Repeat++ {
		if r, ok := s.Counting(slot); ok {
			rs = append(rs, r)
		}
		if slot.Repeat == 0 && !s.Repeated {
			break
		}
	}
	return rs
}

// measured returns the mean and the first of what was measured in a place, nil
// where nothing counts.
func measured(s booking.Setup, slot spec.Slot) (mean lengths.Length, first *booking.Reading) {
	rs := repeats(s, slot)
	if len(rs) == 0 {
		return 0, nil
	}
	return lengths.Length(meanOf(rs)), &rs[0]
}

func meanOf(rs []booking.Reading) int64 {
	var sum int64
	for _, r := range rs {
		sum += r.Value
	}
	return int64(reduce.Angle(sum).Div(int64(len(rs))))
}

// Repeats returns what was measured several times, in the order of the page.
func Repeats(s booking.Setup) []Repeated {
	if !s.Repeated {
		return nil
	}
	var out []Repeated
	add := func(slot spec.Slot) {
		if rs := repeats(s, slot); len(rs) > 1 {
			out = append(out, repeatedOf(slot, rs, func(r booking.Reading) int64 { return r.Value }))
		}
	}
	add(spec.Slot{Quantity: spec.InstrumentHeight})
	for _, v := range workVerticals(s) {
		if len(v.Pairs) > 1 {
			var left []booking.Reading
			altitude := map[uint64]int64{}
			for _, p := range v.Pairs {
				left = append(left, *p.FL)
				altitude[p.FL.Seq] = int64(p.Altitude)
			}
			slot := spec.Slot{Quantity: spec.Vertical, Target: v.Target}
			out = append(out, repeatedOf(slot, left, func(r booking.Reading) int64 { return altitude[r.Seq] }))
		}
	}
	for _, t := range s.Spec.Sighted() {
		add(spec.Slot{Quantity: spec.Slope, Target: t})
		add(spec.Slot{Quantity: spec.TargetHeight, Target: t})
	}
	return out
}

func repeatedOf(slot spec.Slot, rs []booking.Reading, value func(booking.Reading) int64) Repeated {
	var values []int64
	var sum int64
	for _, r := range rs {
		values = append(values, value(r))
		sum += value(r)
	}
	return Repeated{Quantity: slot.Quantity, Target: slot.Target, Readings: rs, N: len(rs),
		Mean: int64(reduce.Angle(sum).Div(int64(len(rs)))), Spread: slices.Max(values) - slices.Min(values)}
}

// RepeatedHalves are the halves, of rounds that are used, in which sights of one
// face count several times.
func RepeatedHalves(s booking.Setup) []RepeatedHalf {
	if !s.Repeated {
		return nil
	}
	var out []RepeatedHalf
	for _, r := range s.Rounds {
		if !r.Used() {
			continue
		}
		for _, face := range []faces.Face{faces.FL, faces.FR} {
			h := RepeatedHalf{Round: r.Number, Face: face}
			for _, slot := range s.Spec.HalfSlots(r.Number, face) {
				if rs := repeats(s, slot); len(rs) > 1 {
					h.Sights = append(h.Sights, repeatedSight(slot, rs))
				}
			}
			if len(h.Sights) > 0 {
				out = append(out, h)
			}
		}
	}
	return out
}

// A RepeatedHalf is a half, or single sights of it, observed several times.
type RepeatedHalf struct {
	Round  int
	Face   faces.Face
	Sights []RepeatedSight
}

// A RepeatedSight is one sight on one face, read several times at one setting of
// the circle: its mean, and how far the readings lie apart.
type RepeatedSight struct {
	Slot     spec.Slot // of the first
	Readings []booking.Reading
	Mean     reduce.Direction
	Spread   reduce.Angle // largest less smallest, across north too
}

// Widest returns the sight whose readings lie furthest apart, the first of equals.
func (h RepeatedHalf) Widest() RepeatedSight {
	widest := h.Sights[0]
	for _, x := range h.Sights[1:] {
		if x.Spread > widest.Spread {
			widest = x
		}
	}
	return widest
}

func repeatedSight(slot spec.Slot, rs []booking.Reading) RepeatedSight {
	x := RepeatedSight{Slot: slot, Readings: rs}
	var lo, hi reduce.Angle
	ds := make([]reduce.Direction, len(rs))
	for i, r := range rs {
		ds[i] = r.Direction()
		off := ds[i].Sub(ds[0])
		lo, hi = min(lo, off), max(hi, off)
	}
	x.Mean, x.Spread = sightMean(ds), hi-lo
	return x
}

// sightMean is the mean of readings of one sight: counted from the first of them,
// for they may lie on both sides of north, or apart by a slip.
func sightMean(ds []reduce.Direction) reduce.Direction {
	var sum reduce.Angle
	for _, d := range ds[1:] {
		sum += d.Sub(ds[0])
	}
	return ds[0].Add(sum.Div(int64(len(ds))))
}
