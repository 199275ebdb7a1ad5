package slip

import (
	"math/bits"
	"strings"

	"example.org/readback/reduce"
)

// digits tries every digit slip backwards: which reading would have been keyed
// as the one at hand?
func (s *search) digits() {
	s.units()
	s.substitutions()
	s.exchanges()
	s.twins()
	s.misheard()
	s.dropped()
	s.added()
}

// units tries readings one degree, ten minutes or one minute away.
func (s *search) units() {
	d, m := reduce.Degree, reduce.Arcminute
	if u := s.c.Unit; u.Decimal() {
		d, m = u.Whole(), u.Whole()/100
	}
	for _, sign := range [2]reduce.Angle{-1, 1} {
		s.try((s.c.Value + sign*d).Normalize(), WholeDegree, Degrees, shareDegree/2)
		s.try((s.c.Value + sign*10*m).Normalize(), TenMinutes, Minutes, shareTen/2)
		s.try((s.c.Value + sign*m).Normalize(), OneMinute, Minutes, shareMinute/2)
	}
}

// substitutions tries another digit in every place.
func (s *search) substitutions() {
	n := float64(s.f.n)
	for i := 0; i < s.f.n; i++ {
		keyed := s.f.d[i]
		for v := int8(0); v < 10; v++ {
			if v == keyed || v == 0 && i == 0 && s.f.whole > 1 {
				continue
			}
			g := s.f
			g.d[i] = v
			truth, ok := g.value()
			if !ok {
				continue
			}
			kind, share := DigitMisread, shareDigit/9
			if beside(v, keyed) {
				share += shareKey / float64(bits.OnesCount16(keys[v]))
				kind = NeighbouringKey
			}
			if alike(v, keyed) {
				share += shareLookAlike / float64(bits.OnesCount16(looks[v]))
				kind = DigitMisread
			}
			s.try(truth, kind, s.f.part(i), share/n)
		}
	}
}

// exchanges tries two digits in each other's place: neighbours, and those with
// one digit between them; and minutes against seconds.
func (s *search) exchanges() {
	for apart, share := range [3]float64{1: shareExchange, 2: shareJump} {
		for i := 0; apart > 0 && i+apart < s.f.n; i++ {
			g := s.f
			g.d[i], g.d[i+apart] = g.d[i+apart], g.d[i]
			if truth, ok := g.value(); ok {
				s.try(truth, DigitsExchanged, s.f.border(i, i+apart), share/float64(s.f.n-apart))
			}
		}
	}
	if w := s.f.whole; s.f.n >= w+4 {
		g := s.f
		g.d[w], g.d[w+2] = g.d[w+2], g.d[w]
		g.d[w+1], g.d[w+3] = g.d[w+3], g.d[w+1]
		if truth, ok := g.value(); ok {
			s.try(truth, PartsExchanged, NoPart, shareParts)
		}
	}
}

// twins tries another double digit: 44 for 55, and 4x4 for 5x5.
func (s *search) twins() {
	for apart, share := range [3]float64{1: shareTwin, 2: shareJumpTwin} {
		for i := 0; apart > 0 && i+apart < s.f.n; i++ {
			if s.f.d[i] != s.f.d[i+apart] {
				continue
			}
			for v := int8(0); v < 10; v++ {
				g := s.f
				g.d[i], g.d[i+apart] = v, v
				if truth, ok := g.value(); ok {
					s.try(truth, TwinMisread, s.f.part(i), share/9)
				}
			}
		}
	}
}

// misheard tries teens for tens and tens for teens in the last two digits of
// every part: thirteen, thirty … nineteen, ninety.
func (s *search) misheard() {
	for _, end := range [3]int{s.f.whole, s.f.whole + 2, s.f.whole + 4} {
		i := end - 2
		if i < 0 || end > s.f.n {
			continue
		}
		g := s.f
		a, b := g.d[i], g.d[i+1]
		switch {
		case b == 0 && a >= 3:
			g.d[i], g.d[i+1] = 1, a
		case a == 1 && b >= 3:
			g.d[i], g.d[i+1] = b, 0
		default:
			continue
		}
		if truth, ok := g.value(); ok {
			s.try(truth, Misheard, s.f.part(i), shareMisheard)
		}
	}
}

// dropped tries one digit more in every place of the run, and behind a minute or
// second that was keyed with one digit between separators.
func (s *search) dropped() {
	n := s.f.run()
	for i := 0; s.f.whole < s.f.most && i <= n; i++ {
		for v := int8(0); v < 10; v++ {
			g := s.f.with(i, v)
			if truth, ok := g.value(); ok && !(i < n && s.f.d[i] == v) {
				s.try(truth, DigitDropped, g.part(i), shareDropped/float64(n+1))
			}
		}
	}
	s.droppedDecimals()
	fields := strings.FieldsFunc(s.c.Keyed, func(r rune) bool { return r == ' ' || r == '.' })
	for k := 1; !s.f.decimal && len(fields) >= 3 && k < 3; k++ {
		if len(fields[k]) != 1 {
			continue
		}
		at := s.f.whole + 2*(k-1)
		for v := int8(0); v < 10; v++ {
			before, behind := s.f, s.f
			before.d[at] = v
			behind.d[at], behind.d[at+1] = s.f.d[at+1], v
			for _, g := range [2]figures{before, behind} {
				if truth, ok := g.value(); ok {
					s.try(truth, DigitDropped, g.part(at), shareDropped/2)
				}
			}
		}
	}
}

// droppedDecimals tries one digit more among the decimals of a reading that
// ends on nothing.
func (s *search) droppedDecimals() {
	if !s.c.Unit.Decimal() || s.f.n <= s.f.whole || s.f.d[s.f.n-1] != 0 {
		return
	}
	for i := s.f.whole; i < s.f.n; i++ {
		for v := int8(0); v < 10; v++ {
			g := s.f
			copy(g.d[i+1:g.n], s.f.d[i:g.n-1])
			g.d[i] = v
			if truth, ok := g.value(); ok {
				s.try(truth, DigitDropped, g.part(i), shareDropped/float64(s.f.n-s.f.whole))
			}
		}
	}
}

// added tries the run with one digit less: one keyed twice, or one too many.
func (s *search) added() {
	n := s.f.run()
	for i := 0; s.f.whole > 1 && i < n; i++ {
		g := s.f.without(i)
		truth, ok := g.value()
		if !ok {
			continue
		}
		if i > 0 && s.f.d[i] == s.f.d[i-1] {
			s.try(truth, DigitDoubled, g.part(i-1), shareDoubled/float64(n-1))
			continue
		}
		s.try(truth, DigitAdded, g.part(min(i, n-2)), shareAdded/float64(n)/9)
	}
}
