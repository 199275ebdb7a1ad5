package observer

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// A sight is the pointing at which a slip is made.
type sight struct {
	slot    spec.Slot
	setting int
	first   bool // the circle is set for this sight
}

// slipped returns a call with a slip in it that could still be a reading. Where
// no slip fits, the true reading is called.
func (o *Observer) slipped(right Call, at sight, r *rand.Rand) Call {
	for range 40 {
		kind := o.drawKind(r)
		text, ok := o.make(kind, right, at, r)
		if !ok || text == right.Text {
			continue
		}
		if a, err := o.parse(text); err == nil && int64(a) != right.Value {
			return Call{Text: text, Value: int64(a), Right: right.Value, Slipped: true, Slip: kind}
		}
	}
	return right
}

func (o *Observer) parse(text string) (reduce.Angle, error) {
	return reduce.ParseKeyed(text, o.Spec.Instrument.Unit, o.Spec.Instrument.LeastCount)
}

// drawKind draws a kind of slip by its share among those this observer makes.
func (o *Observer) drawKind(r *rand.Rand) slip.Kind {
	rates, all := slip.Rates(), 0.0
	if len(o.Kinds) > 0 {
		rates = slices.DeleteFunc(rates, func(x slip.Rate) bool { return !slices.Contains(o.Kinds, x.Kind) })
	}
	for _, x := range rates {
		all += x.Share
	}
	draw := r.Float64() * all
	for _, x := range rates {
		if draw -= x.Share; draw < 0 {
			return x.Kind
		}
	}
	return slip.DigitMisread
}

// make writes what is called for a slip of this kind. ok is false where the kind
// does not go with the pointing.
func (o *Observer) make(kind slip.Kind, right Call, at sight, r *rand.Rand) (text string, ok bool) {
	i, slot, v := o.Spec.Instrument, at.slot, reduce.Angle(right.Value)
	horizontal := slot.Quantity.OfRound()
	write := func(a reduce.Angle) string { return called(a.Round(i.LeastCount).Normalize(), i) }
	switch kind {
	case slip.WrongTarget:
		other := slot
		other.Target, other.Closing = o.Lines[r.IntN(len(o.Lines))].Target, false
		a, _ := o.reading(other, at.setting, 0)
		return write(reduce.Angle(a)), other.Target != slot.Target
	case slip.FaceNotChanged:
		a, _ := o.reading(slot.Pair(), at.setting, 0)
		return write(reduce.Angle(a)), slot.Face == faces.FR
	case slip.OtherCircle:
		other := spec.Slot{Quantity: spec.Vertical, Face: slot.Face, Target: slot.Target}
		if !horizontal {
			other.Quantity, other.Round = spec.Horizontal, 1
		}
		a, ok := o.reading(other, 1, 0)
		return write(reduce.Angle(a)), ok
	case slip.CircleNotSet:
		if !at.first || slot.Round < 2 {
			return "", false
		}
		return write(v + o.start(slot.Round-1, at.setting-1) - o.start(slot.Round, at.setting)), true
	case slip.Anticlockwise:
		return write(2*o.start(slot.Round, at.setting) - v), horizontal && !at.first && slot.Target != o.Spec.RO
	case slip.PercentDisplay:
		p := math.Abs(100 * math.Tan(o.Lines[max(o.index(slot.Target), 0)].Altitude.Radians()))
		return fmt.Sprintf("%05d", int(math.Round(p*1000))), !horizontal && p >= 0.5 && i.Unit == reduce.DMS
	case slip.Unknown:
		return write(v + reduce.FromSeconds(r.NormFloat64()*30)), true
	case slip.WholeDegree, slip.TenMinutes, slip.OneMinute:
		return write(v + step(kind, i.Unit)*reduce.Angle(1-2*r.IntN(2))), true
	}
	digits, places := digitsOf(right.Text)
	digits, ok = spoil(kind, digits, r)
	if !ok || len(digits) == len(places) {
		return withDigits(right.Text, digits, places), ok
	}
	return string(digits), i.Unit == reduce.DMS // a run of digits, as it is keyed
}

// step is what a whole degree, ten minutes or one minute is on a circle: tenths and
// hundredths on a decimal one.
func step(kind slip.Kind, u reduce.Unit) reduce.Angle {
	if u.Decimal() {
		return map[slip.Kind]reduce.Angle{slip.WholeDegree: u.Whole(), slip.TenMinutes: u.Whole() / 10, slip.OneMinute: u.Whole() / 100}[kind]
	}
	return map[slip.Kind]reduce.Angle{slip.WholeDegree: reduce.Degree, slip.TenMinutes: 10 * reduce.Arcminute, slip.OneMinute: reduce.Arcminute}[kind]
}

// neighbours are the keys beside each on a keypad, 7 8 9 at the top.
var neighbours = [10]string{"12", "024", "0135", "26", "157", "2468", "359", "48", "579", "68"}

// spoil makes a slip in the digits of a reading. ok is false where it cannot be
// made in them.
func spoil(kind slip.Kind, d []byte, r *rand.Rand) (_ []byte, ok bool) {
	i := r.IntN(len(d))
	switch kind {
	case slip.DigitMisread:
		d[i] = byte('0' + r.IntN(10))
	case slip.NeighbouringKey:
		keys := neighbours[d[i]-'0']
		d[i] = keys[r.IntN(len(keys))]
	case slip.DigitsExchanged:
		apart := 1
		if r.Float64() < 0.07 {
			apart = 2
		}
		if i+apart >= len(d) {
			return d, false
		}
		d[i], d[i+apart] = d[i+apart], d[i]
	case slip.DigitDropped:
		return slices.Delete(d, i, i+1), true
	case slip.DigitDoubled:
		return slices.Insert(d, i, d[i]), true
	case slip.DigitAdded:
		return slices.Insert(d, i, byte('0'+r.IntN(10))), true
	case slip.TwinMisread:
		if i+1 >= len(d) || d[i] != d[i+1] {
			return d, false
		}
		d[i] = byte('0' + r.IntN(10))
		d[i+1] = d[i]
	case slip.PartsExchanged:
		n := len(d)
		if n < 5 {
			return d, false
		}
		d[n-4], d[n-3], d[n-2], d[n-1] = d[n-2], d[n-1], d[n-4], d[n-3]
	case slip.Misheard:
		return d, misheard(d, r)
	default:
		return d, false
	}
	return d, true
}

// misheard takes a teen for a ten or a ten for a teen in one of the parts.
func misheard(d []byte, r *rand.Rand) bool {
	i := len(d) - 2*(1+r.IntN(3))
	if i < 0 {
		return false
	}
	a, b := d[i], d[i+1]
	switch {
	case b == '0' && a >= '3':
		d[i], d[i+1] = '1', a
	case a == '1' && b >= '3':
		d[i], d[i+1] = b, '0'
	default:
		return false
	}
	return true
}

func digitsOf(text string) (digits []byte, at []int) {
	for i := range len(text) {
		if c := text[i]; c >= '0' && c <= '9' {
			digits, at = append(digits, c), append(at, i)
		}
	}
	return digits, at
}

func withDigits(text string, digits []byte, at []int) string {
	out := []byte(text)
	for k, i := range at {
		out[i] = digits[k]
	}
	return strings.TrimSpace(string(out))
}
