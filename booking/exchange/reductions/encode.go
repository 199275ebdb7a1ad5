package reductions

import (
	"encoding/json"
	"strconv"
	"strings"
	"unicode/utf8"
)

// An encoder appends what encoding/json writes of a Setup with one space of indent.
// What every setup has is written by hand: it takes a quarter of the time, and a file
// of readings has setups by the thousand. All else is left to encoding/json.
type encoder struct {
	b     []byte
	depth int
	comma bool // something stands before, in this object or list
	err   error
}

// open begins an object or a list.
func (e *encoder) open(bracket byte) {
	e.b = append(e.b, bracket)
	e.depth, e.comma = e.depth+1, false
}

// close ends it; an empty one stays on its line.
func (e *encoder) close(bracket byte) {
	e.depth--
	if e.comma {
		e.line()
	}
	e.b = append(e.b, bracket)
	e.comma = true
}

func (e *encoder) line() {
	e.b = append(e.b, '\n')
	for range e.depth {
		e.b = append(e.b, ' ')
	}
}

// next begins another value of a list.
func (e *encoder) next() {
	if e.comma {
		e.b = append(e.b, ',')
	}
	e.line()
	e.comma = true
}

// name begins another value of an object.
func (e *encoder) name(n string) {
	e.next()
	e.b = append(append(append(e.b, '"'), n...), `": `...)
}

// text is left out where it is empty.
func (e *encoder) text(name, t string) {
	if t != "" {
		e.named(name, t)
	}
}

// named is text that always stands.
func (e *encoder) named(name, t string) {
	e.name(name)
	e.string(t)
}

func (e *encoder) string(t string) {
	if !plainJSON(t) {
		e.any(t)
		return
	}
	e.b = append(append(append(e.b, '"'), t...), '"')
}

// number is left out where there is none.
func (e *encoder) number(name string, n *Number) {
	if n != nil {
		e.name(name)
		e.b = n.append(e.b)
	}
}

// whole is an integer.
func (e *encoder) whole(name string, n int) {
	e.name(name)
	e.b = strconv.AppendInt(e.b, int64(n), 10)
}

func (e *encoder) bool(name string, v bool) {
	e.name(name)
	e.b = strconv.AppendBool(e.b, v)
}

// any leaves a value to encoding/json.
func (e *encoder) any(v any) {
	b, err := json.MarshalIndent(v, strings.Repeat(" ", e.depth), " ")
	if e.b = append(e.b, b...); e.err == nil {
		e.err = err
	}
}

// other leaves a named value to encoding/json.
func (e *encoder) other(name string, v any) {
	e.name(name)
	e.any(v)
}

// plainJSON tells whether encoding/json writes a text as it stands.
func plainJSON(t string) bool {
	wide := false
	for i := range len(t) {
		switch c := t[i]; {
		case c >= utf8.RuneSelf:
			wide = true
		case c < ' ', c == 0x7f, c == '"', c == '\\', c == '<', c == '>', c == '&':
			return false
		}
	}
	return !wide || utf8.ValidString(t) && !strings.ContainsAny(t, "\u2028\u2029")
}

func (e *encoder) setup(s *Setup) {
	e.open('{')
	e.whole("setup", s.Setup)
	if s.Drill {
		e.bool("drill", true)
	}
	e.text("book", s.Book)
	e.text("book_name", s.BookName)
	e.text("job", s.Job)
	e.text("client", s.Client)
	e.text("place", s.Place)
	e.text("observer", s.Observer)
	e.text("booker", s.Booker)
	if s.From != nil {
		e.other("observed_from", s.From)
	}
	if s.To != nil {
		e.other("observed_to", s.To)
	}
	e.named("station", s.Station)
	e.text("reference", s.Reference)
	if len(s.Further) > 0 {
		e.other("further_references", s.Further)
	}
	e.text("order", s.Order)
	if s.Repetitions != 0 {
		e.whole("repetitions", s.Repetitions)
	}
	list(e, "rounds", s.Rounds, e.round)
	list(e, "directions", s.Directions, e.direction)
	e.number("sd_direction_sec", s.SDDirection)
	if s.Dof != nil {
		e.whole("dof", *s.Dof)
	}
	list(e, "verticals", s.Verticals, e.vertical)
	e.named("verdict", s.Verdict)
	e.other("reasons", s.Reasons)
	e.other("suspects", s.Suspects)
	if len(s.Repeated) > 0 {
		e.other("repeated", s.Repeated)
	}
	if len(s.Noted) > 0 {
		e.other("noted", s.Noted)
	}
	e.close('}')
}

// list is a list of objects; one that was never made is null.
func list[T any](e *encoder, name string, of []T, each func(*T)) {
	if e.name(name); of == nil {
		e.b = append(e.b, "null"...)
		return
	}
	e.open('[')
	for i := range of {
		e.next()
		e.open('{')
		each(&of[i])
		e.close('}')
	}
	e.close(']')
}

func (e *encoder) round(r *Round) {
	e.whole("round", r.Round)
	e.bool("used", r.Used)
	list(e, "pointings", r.Pointings, e.pointing)
}

func (e *encoder) pointing(p *Pointing) {
	e.named("target", p.Target)
	if p.Closing {
		e.bool("closing", true)
	}
	e.text("fl", p.FL)
	e.text("fr", p.FR)
	e.text("accumulated_fl", p.SumFL)
	e.text("accumulated_fr", p.SumFR)
	e.number("two_c_sec", p.TwoC)
	e.number("mean_deg", p.Mean)
	e.number("direction_deg", p.Direction)
}

func (e *encoder) direction(d *Direction) {
	e.named("target", d.Target)
	e.named("direction", d.Direction)
	e.number("direction_deg", &d.DirectionDeg)
	e.number("sd_sec", d.SD)
	e.number("spread_sec", d.Spread)
	if d.Agrees != nil {
		e.bool("agrees", *d.Agrees)
	}
}

func (e *encoder) vertical(v *Vertical) {
	e.named("target", v.Target)
	e.text("altitude", v.Altitude)
	e.number("altitude_deg", v.AltitudeDeg)
	e.number("index_sec", v.Index)
	e.number("gradient_percent", v.Gradient)
	e.number("slope_m", v.Slope)
	e.number("horizontal_m", v.Horizontal)
	e.number("height_difference_m", v.Rise)
	if v.Corrections != nil {
		e.other("corrections_m", v.Corrections)
	}
}
