package drill

import (
	"math/rand/v2"
	"slices"
	"strings"

	"example.org/readback/reduce"
)

// A Kind names one way a call goes wrong.
type Kind string

// Kinds returns the names of all ways a call goes wrong, the most frequent first.
func Kinds() []Kind {
	var ks []Kind
	for _, w := range ways {
		ks = append(ks, w.kind)
	}
	return ks
}

// A way is one way a call goes wrong, and how often of a hundred slips. The
// shares follow Verhoeff (1969) where he counted the kind; the others are
// assumed.
type way struct {
	kind  Kind
	share int
	words string
	make  func(digits []byte, r *rand.Rand) bool
}

var ways = []way{
	{"digit", 62, "one digit misread", misread},
	{"exchange", 16, "two neighbouring digits exchanged", exchange},
	{"degree", 8, "a whole degree out", func(d []byte, r *rand.Rand) bool { return bump(d, len(d)-5, r) }},
	{"ten-minutes", 6, "ten minutes out", func(d []byte, r *rand.Rand) bool { return bump(d, len(d)-4, r) }},
	{"minute", 4, "one minute out", func(d []byte, r *rand.Rand) bool { return bump(d, len(d)-3, r) }},
	{"misheard", 4, "fifteen heard for fifty, or the like", mishear},
}

// slipped returns a call with a slip in it that could still be a reading. Where
// no slip fits, the true reading is called.
func (o *Observer) slipped(text string, r *rand.Rand) Call {
	choice := o.ways()
	for range 20 {
		w := pick(choice, r)
		digits, at := digitsOf(text)
		if len(digits) < 5 || !w.make(digits, r) {
			continue
		}
		wrong := withDigits(text, digits, at)
		if wrong == text {
			continue
		}
		if _, err := reduce.ParseKeyed(wrong, o.Instrument.Unit, o.Instrument.LeastCount); err == nil {
			return Call{Text: wrong, Slip: w.words}
		}
	}
	return Call{Text: text}
}

// ways are the ways this observer goes wrong.
func (o *Observer) ways() []way {
	if len(o.Kinds) == 0 {
		return ways
	}
	var out []way
	for _, w := range ways {
		if slices.Contains(o.Kinds, w.kind) {
			out = append(out, w)
		}
	}
	return out
}

// pick draws one of the ways by its share.
func pick(from []way, r *rand.Rand) way {
	all := 0
	for _, w := range from {
		all += w.share
	}
	n := r.IntN(all)
	for _, w := range from {
		if n < w.share {
			return w
		}
		n -= w.share
	}
	return from[0]
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

func misread(d []byte, r *rand.Rand) bool {
	d[r.IntN(len(d))] = byte('0' + r.IntN(10))
	return true
}

func exchange(d []byte, r *rand.Rand) bool {
	i := r.IntN(len(d) - 1)
	d[i], d[i+1] = d[i+1], d[i]
	return true
}

// bump changes one digit by one.
func bump(d []byte, i int, r *rand.Rand) bool {
	if i < 0 {
		return false
	}
	step := byte(1)
	if r.IntN(2) == 0 {
		step = 9
	}
	d[i] = '0' + (d[i]-'0'+step)%10
	return true
}

// mishear takes a teen for a ten or a ten for a teen.
func mishear(d []byte, r *rand.Rand) bool {
	start := r.IntN(len(d) - 1)
	for k := range len(d) - 1 {
		i := (start + k) % (len(d) - 1)
		switch {
		case d[i] == '1' && d[i+1] >= '3' && d[i+1] <= '9':
			d[i], d[i+1] = d[i+1], '0'
			return true
		case d[i+1] == '0' && d[i] >= '3' && d[i] <= '9':
			d[i], d[i+1] = '1', d[i]
			return true
		}
	}
	return false
}
