package event

import (
	"strconv"
	"unicode/utf8"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// scanReading reads the body of a ReadingBooked as Encode writes it, without the
// cost of reflection: books of a million readings are read a body at a time. ok
// is false for any other form of the same JSON (escapes, findings, another order
// of the keys); Decode then reads it the general way.
func scanReading(body []byte) (e ReadingBooked, ok bool) {
	s := scanner{rest: body, ok: true}
	s.expect(`{"slot":{"quantity":`)
	e.Slot.Quantity = spec.Quantity(s.number(8))
	if s.skip(`,"round":`) {
		e.Slot.Round = int(s.number(32))
	}
	if s.skip(`,"face":`) {
		e.Slot.Face = faces.Face(s.number(8))
	}
	if s.skip(`,"target":`) {
		e.Slot.Target = s.text()
	}
	e.Slot.Closing = s.skip(`,"closing":true`)
	if s.skip(`,"repeat":`) {
		e.Slot.Repeat = int(s.number(32))
	}
	s.expect(`},"text":`)
	e.Text = s.text()
	s.expect(`,"value":`)
	e.Value = s.number(64)
	e.Confirmed = s.skip(`,"confirmed":true`)
	s.expect(`,"by":`)
	e.By = s.text()
	if s.skip(`,"read_at":`) {
		e.ReadAt = s.text()
	}
	if s.skip(`,"remark":`) {
		e.Remark = s.text()
	}
	e.AfterLift = s.skip(`,"after_lift":true`)
	s.expect(`}`)
	return e, s.ok && len(s.rest) == 0
}

// A scanner takes a body apart from the front. After the first mismatch ok is
// false for good.
type scanner struct {
	rest []byte
	ok   bool
}

// skip takes the literal off the front when it stands there.
func (s *scanner) skip(literal string) bool {
	if len(s.rest) < len(literal) || string(s.rest[:len(literal)]) != literal {
		return false
	}
	s.rest = s.rest[len(literal):]
	return true
}

func (s *scanner) expect(literal string) { s.ok = s.skip(literal) && s.ok }

// number takes a whole number that is not negative and fits.
func (s *scanner) number(bits int) int64 {
	n := 0
	for n < len(s.rest) && s.rest[n] >= '0' && s.rest[n] <= '9' {
		n++
	}
	digits := s.rest[:n]
	s.rest = s.rest[n:]
	v, err := strconv.ParseUint(string(digits), 10, 63)
	if err != nil || bits < 63 && v>>bits != 0 || n > 1 && digits[0] == '0' {
		s.ok = false
	}
	return int64(v)
}

// text takes a string without escapes and control characters.
func (s *scanner) text() string {
	if len(s.rest) == 0 || s.rest[0] != '"' {
		s.ok = false
		return ""
	}
	for i := 1; i < len(s.rest); i++ {
		switch c := s.rest[i]; {
		case c == '"':
			t := string(s.rest[1:i])
			s.rest = s.rest[i+1:]
			s.ok = s.ok && utf8.ValidString(t)
			return t
		case c < ' ' || c == '\\':
			s.ok = false
			return ""
		}
	}
	s.ok = false
	return ""
}
