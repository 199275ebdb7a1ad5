package slip

import "example.org/readback/reduce"

// figures are the digits of a reading as they are keyed: the whole degrees, gon
// or mils without leading zeros, then two digits each of minutes and seconds and the
// decimals of the second, or the decimals.
type figures struct {
	d     [16]int8
	n     int // digits in all
	whole int // digits before the minutes or the point
	unit  reduce.Unit

	scale   reduce.Angle // what the whole figures count
	decimal bool
	most    int // whole digits at the most
}

// figuresOf cuts the reading a into digits.
func figuresOf(a reduce.Angle, u reduce.Unit, places int) figures {
	f := figures{unit: u, scale: u.Whole(), decimal: u.Decimal(), most: u.Digits()}
	unit := f.scale
	f.push(int64(a/unit), 1)
	f.whole = f.n
	rest := a % unit
	if !u.Decimal() {
		f.push(int64(rest/reduce.Arcminute), 2)
		rest %= reduce.Arcminute
		f.push(int64(rest/reduce.Arcsecond), 2)
		rest, unit = rest%reduce.Arcsecond, reduce.Arcsecond
	}
	for i := 0; i < places && unit >= 10; i++ {
		unit /= 10
		f.push(int64(rest/unit), 1)
		rest %= unit
	}
	return f
}

// push appends v with at least the given number of digits.
func (f *figures) push(v int64, least int) {
	if v >= 10 || least > 1 {
		f.push(v/10, least-1)
	}
	f.d[f.n] = int8(v % 10)
	f.n++
}

// value puts the digits together again; ok is false for minutes or seconds of 60
// and more and for a full circle and more.
func (f *figures) value() (a reduce.Angle, ok bool) {
	if f.whole < 1 || f.whole > f.most {
		return 0, false
	}
	w := f.number(0, f.whole)
	unit, at := f.scale, f.whole
	if f.decimal {
		a = w * unit
	} else {
		m, s := f.number(at, at+2), f.number(at+2, at+4)
		a = w*reduce.Degree + m*reduce.Arcminute + s*reduce.Arcsecond
		unit, at = reduce.Arcsecond, at+4
		if m >= 60 || s >= 60 {
			return 0, false
		}
	}
	for ; at < f.n; at++ {
		unit /= 10
		a += reduce.Angle(f.d[at]) * unit
	}
	return a, a < reduce.Turn
}

func (f *figures) number(from, to int) reduce.Angle {
	var v reduce.Angle
	for i := from; i < to; i++ {
		v = v*10 + reduce.Angle(f.d[i])
	}
	return v
}

// part tells in which part of the reading digit i stands.
func (f *figures) part(i int) Part {
	switch {
	case i < f.whole:
		return Degrees
	case i < f.whole+2:
		return Minutes
	}
	return Seconds
}

// border tells in which part two digits stand, or in which two parts.
func (f *figures) border(i, j int) Part {
	switch p, q := f.part(i), f.part(j); {
	case p == q:
		return p
	case p == Degrees:
		return DegreesMinutes
	}
	return MinutesSeconds
}

// run returns the number of digits that are keyed as one run: decimals of the
// second are not among them, decimals of the gon, the degree or the mil are not either.
func (f *figures) run() int {
	if f.decimal {
		return f.whole
	}
	return f.whole + 4
}

// without returns the figures with digit i of the run left out.
func (f *figures) without(i int) figures {
	g := *f
	copy(g.d[i:], f.d[i+1:f.n])
	g.n--
	g.whole--
	return g
}

// with returns the figures with v put before digit i of the run.
func (f *figures) with(i int, v int8) figures {
	g := *f
	copy(g.d[i+1:], f.d[i:f.n])
	g.d[i] = v
	g.n++
	g.whole++
	return g
}

// beside tells whether two digits are neighbours on a numeric keypad.
func beside(a, b int8) bool { return keys[a]&(1<<b) != 0 }

// alike tells whether two digits are taken for one another by the eye.
func alike(a, b int8) bool { return looks[a]&(1<<b) != 0 }

// keys holds, for every digit, the digits beside, above and under it on a
// keypad of rows 789, 456, 123 and 0 (turned upside down: the same neighbours).
var keys = [10]uint16{
	0: 1<<1 | 1<<2, 1: 1<<0 | 1<<2 | 1<<4, 2: 1<<0 | 1<<1 | 1<<3 | 1<<5, 3: 1<<2 | 1<<6,
	4: 1<<1 | 1<<5 | 1<<7, 5: 1<<2 | 1<<4 | 1<<6 | 1<<8, 6: 1<<3 | 1<<5 | 1<<9,
	7: 1<<4 | 1<<8, 8: 1<<5 | 1<<7 | 1<<9, 9: 1<<6 | 1<<8,
}

// looks holds the look-alikes (assumed, no source): 1 7, 0 8, 0 6, 3 8, 3 5,
// 5 6, 6 8, 4 9, 2 7.
var looks = [10]uint16{
	0: 1<<8 | 1<<6, 1: 1 << 7, 2: 1 << 7, 3: 1<<8 | 1<<5, 4: 1 << 9, 5: 1<<3 | 1<<6,
	6: 1<<0 | 1<<5 | 1<<8, 7: 1<<1 | 1<<2, 8: 1<<0 | 1<<3 | 1<<6, 9: 1 << 4,
}
