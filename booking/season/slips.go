package season

import (
	"fmt"
	"math"
	"math/rand/v2"

	"example.org/readback/booking"
	"example.org/readback/booking/check/slip"
	"example.org/readback/reduce"
)

// A made slip.
type made struct {
	kind  slip.Kind // the pattern its figures show
	part  slip.Part
	right reduce.Angle // the reading that should have been keyed
	keyed string
}

// slipped makes a slip at a pointing whose reading is right. ok is false where
// the kinds drawn do not go with the pointing, or make no reading.
func (t *truth) slipped(slot booking.Slot, right reduce.Angle, first bool) (made, bool) {
	for range 40 {
		kind := drawKind(t.rng)
		text, ok := t.make(kind, slot, right, first)
		if !ok || text == keyed(right) {
			continue
		}
		a, err := reduce.ParseKeyed(text, reduce.DMS, t.site.LeastCount)
		if err != nil {
			continue
		}
		m := made{kind: kind, right: right, keyed: text}
		switch kind {
		case slip.WrongTarget, slip.FaceNotChanged, slip.CircleNotSet, slip.Anticlockwise, slip.PercentDisplay, slip.Unknown:
		default:
			m.kind, m.part = slip.Pattern(right, a, reduce.DMS, t.site.LeastCount)
		}
		return m, a != right
	}
	return made{}, false
}

// drawKind draws a kind by its rate.
func drawKind(rng *rand.Rand) slip.Kind {
	x := rng.Float64()
	for _, r := range slip.Rates() {
		if x -= r.Share; x < 0 {
			return r.Kind
		}
	}
	return slip.DigitMisread
}

// make writes what is keyed for a slip of this kind.
func (t *truth) make(kind slip.Kind, slot booking.Slot, right reduce.Angle, first bool) (string, bool) {
	horizontal := slot.Quantity == booking.Horizontal
	switch kind {
	case slip.WrongTarget:
		names := t.spec.Names()
		other := slot
		other.Target = names[t.rng.IntN(len(names))]
		return keyed(t.read(other)), other.Target != slot.Target
	case slip.FaceNotChanged:
		return keyed(t.read(slot.Pair())), slot.Face == booking.FR
	case slip.CircleNotSet:
		if start, ok := t.start[slot.Round-1]; ok && first && horizontal {
			return keyed(t.noisy(reduce.FromDegrees(start), t.c)), true
		}
		return "", false
	case slip.Anticlockwise:
		a := reduce.FromDegrees(2 * t.start[slot.Round])
		if slot.Face == booking.FR {
			a += reduce.Turn
		}
		return keyed((a - right).Normalize()), horizontal && !first && slot.Target != t.spec.RO
	case slip.PercentDisplay:
		p := math.Abs(100 * math.Tan(t.alt[slot.Target]*math.Pi/180))
		return fmt.Sprintf("%05d", int(math.Round(p*1000))), !horizontal && p >= 0.5
	case slip.Unknown:
		return keyed((right + reduce.FromSeconds(t.rng.NormFloat64()*30).Round(t.site.LeastCount)).Normalize()), true
	case slip.WholeDegree, slip.TenMinutes, slip.OneMinute:
		step := map[slip.Kind]reduce.Angle{slip.WholeDegree: reduce.Degree, slip.TenMinutes: 10 * reduce.Arcminute, slip.OneMinute: reduce.Arcminute}[kind]
		if t.rng.IntN(2) == 0 {
			step = -step
		}
		return keyed((right + step).Normalize()), true
	}
	return t.digits(kind, []byte(keyed(right)))
}

// digits spoils the digits of a reading.
func (t *truth) digits(kind slip.Kind, d []byte) (string, bool) {
	i := t.rng.IntN(len(d))
	switch kind {
	case slip.DigitMisread:
		d[i] = byte('0' + t.rng.IntN(10))
	case slip.NeighbouringKey:
		keys := map[byte]string{'0': "12", '1': "024", '2': "0135", '3': "26", '4': "157", '5': "2468", '6': "359", '7': "48", '8': "579", '9': "68"}[d[i]]
		d[i] = keys[t.rng.IntN(len(keys))]
	case slip.DigitsExchanged:
		apart := 1
		if t.rng.Float64() < 0.07 {
			apart = 2
		}
		if i+apart >= len(d) {
			return "", false
		}
		d[i], d[i+apart] = d[i+apart], d[i]
	case slip.DigitDropped:
		return string(append(d[:i:i], d[i+1:]...)), true
	case slip.DigitDoubled:
		return string(d[:i+1]) + string(d[i:]), true
	case slip.DigitAdded:
		return string(d[:i]) + string(byte('0'+t.rng.IntN(10))) + string(d[i:]), true
	case slip.TwinMisread:
		if i+1 >= len(d) || d[i] != d[i+1] {
			return "", false
		}
		d[i] = byte('0' + t.rng.IntN(10))
		d[i+1] = d[i]
	case slip.PartsExchanged:
		n := len(d)
		return string(d[:n-4]) + string(d[n-2:]) + string(d[n-4:n-2]), true
	case slip.Misheard:
		return misheard(d, t.rng)
	default:
		return "", false
	}
	return string(d), true
}

// misheard takes a teen for a ten or a ten for a teen in one of the parts.
func misheard(d []byte, rng *rand.Rand) (string, bool) {
	i := len(d) - 2*(1+rng.IntN(3))
	if i < 0 {
		return "", false
	}
	a, b := d[i], d[i+1]
	switch {
	case b == '0' && a >= '3':
		d[i], d[i+1] = '1', a
	case a == '1' && b >= '3':
		d[i], d[i+1] = b, '0'
	default:
		return "", false
	}
	return string(d), true
}
