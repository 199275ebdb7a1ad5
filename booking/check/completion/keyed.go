package completion

import "example.org/readback/reduce"

// Completions returns what the text keyed so far can still become in the unit u
// at the least count given (zero or less stands for its finest usual step).
// Text that holds anything but digits, spaces and full stops has none.
func Completions(text string, u reduce.Unit, leastCount reduce.Angle) Set {
	if leastCount <= 0 {
		leastCount = u.FineStep()
	}
	set := Set{step: leastCount}
	k, ok := scan(text)
	switch {
	case !ok:
	case k.n == 0:
		set.add(0, reduce.Turn)
	case u.Decimal():
		k.decimal(&set, u)
	case k.isRun(reduce.Places(u, leastCount) > 0):
		k.run(&set)
	default:
		k.parts(&set)
	}
	return set
}

// FirstMark returns how many characters of text had been keyed when it could no
// longer become a reading inside any of the bands, or 0 where it still can.
func FirstMark(text string, u reduce.Unit, leastCount reduce.Angle, bands []Band) int {
	for i := 1; i <= len(text); i++ {
		if s := Completions(text[:i], u, leastCount); !s.MeetsAny(bands) {
			return i
		}
	}
	return 0
}

// keyed is a text cut into its parts: the number and the count of figures of
// each, the separator behind the last part (0 where there is none) and the
// separator before the last part.
type keyed struct {
	n           int
	val, length [4]int64
	after       byte // what stands behind the last part, 0 for nothing
	before      byte // what stands between the last two parts, 0 for nothing
}

func scan(text string) (k keyed, ok bool) {
	digit := false
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case c >= '0' && c <= '9':
			if !digit {
				if k.n == len(k.val) {
					return k, false
				}
				k.n++
				k.before, k.after = k.after, 0
			}
			k.val[k.n-1] = min(k.val[k.n-1]*10+int64(c-'0'), 1<<40)
			k.length[k.n-1]++
			digit = true
		case c == ' ' || c == '.':
			if k.n > 0 && (k.after == 0 || c == '.') {
				k.after = c
			}
			digit = false
		default:
			return k, false
		}
	}
	return k, true
}

// isRun tells whether the parts are one run of digits, or a run with decimals.
func (k *keyed) isRun(decimals bool) bool {
	long := k.length[0] >= 5
	switch k.n {
	case 1:
		return k.after == 0 || long && (k.after == ' ' || decimals)
	case 2:
		return long && decimals && k.before == '.'
	}
	return false
}

// run adds what a run of digits can become when it grows to 5, 6 or 7 figures.
func (k *keyed) run(set *Set) {
	have, v := int(k.length[0]), k.val[0]
	if have > 7 {
		return
	}
	if k.n == 2 || k.after != 0 {
		if lo, ok := split(v); ok {
			k.decimals(set, lo, reduce.Arcsecond, 1)
		}
		return
	}
	for full := max(have, 5); full <= 7; full++ {
		addRun(set, v, full-have)
	}
}

// addRun adds the readings made of the figures v and `more` figures behind them.
func addRun(set *Set, v int64, more int) {
	switch {
	case more >= 4: // only degrees so far
		lo, span := v, int64(1)
		for i := 4; i < more; i++ {
			lo, span = lo*10, span*10
		}
		set.add(reduce.Angle(lo)*reduce.Degree, reduce.Angle(lo+span)*reduce.Degree)
	case more == 3: // the tens of the minutes stand
		addPart(set, reduce.Angle(v/10)*reduce.Degree, v%10*10, 10, reduce.Arcminute)
	case more == 2:
		addPart(set, reduce.Angle(v/100)*reduce.Degree, v%100, 1, reduce.Arcminute)
	case more == 1:
		if base, ok := split(v * 10); ok && v%10 < 6 {
			set.add(base, base+10*reduce.Arcsecond)
		}
	default:
		if base, ok := split(v); ok {
			set.add(base, base+reduce.Arcsecond)
		}
	}
}

// addPart adds base + [lo, lo+span) of a part whose figures go to 59.
func addPart(set *Set, base reduce.Angle, lo, span int64, unit reduce.Angle) {
	if lo < 60 {
		set.add(base+reduce.Angle(lo)*unit, base+reduce.Angle(min(lo+span, 60))*unit)
	}
}

// split reads a run of 5 to 7 figures as degrees, minutes and seconds.
func split(v int64) (reduce.Angle, bool) {
	d, m, s := v/10000, v/100%100, v%100
	a := reduce.Angle(d)*reduce.Degree + reduce.Angle(m)*reduce.Arcminute + reduce.Angle(s)*reduce.Arcsecond
	return a, m < 60 && s < 60 && d < 360
}

// parts adds what separated degrees, minutes and seconds can become.
func (k *keyed) parts(set *Set) {
	base := reduce.Angle(k.val[0]) * reduce.Degree
	if k.length[0] > 3 || base >= reduce.Turn {
		return
	}
	if k.n == 1 {
		set.add(base, base+reduce.Degree)
		return
	}
	if k.n == 2 && k.after == 0 {
		addOpen(set, base, k.val[1], k.length[1], reduce.Arcminute)
		return
	}
	if k.val[1] >= 60 || k.length[1] > 2 {
		return
	}
	base += reduce.Angle(k.val[1]) * reduce.Arcminute
	switch {
	case k.n == 2:
		set.add(base, base+reduce.Arcminute)
	case k.n == 3 && k.after == 0:
		addOpen(set, base, k.val[2], k.length[2], reduce.Arcsecond)
	case k.val[2] < 60 && k.length[2] <= 2:
		k.decimals(set, base+reduce.Angle(k.val[2])*reduce.Arcsecond, reduce.Arcsecond, 3)
	}
}

// addOpen adds a part of which one or two figures are keyed and that may be
// complete or not.
func addOpen(set *Set, base reduce.Angle, v, length int64, unit reduce.Angle) {
	if length <= 2 {
		addPart(set, base, v, 1, unit)
	}
	if length == 1 {
		addPart(set, base, v*10, 10, unit)
	}
}

// decimals adds base + the decimals of unit that stand in the given part, open
// at the right unless a space closes them. Where the part is not begun, a full
// stop leaves all decimals open and anything else closes the entry.
func (k *keyed) decimals(set *Set, base, unit reduce.Angle, part int) {
	if part < k.n {
		for i := int64(0); i < k.length[part]; i++ {
			unit /= 10
		}
		base += reduce.Angle(k.val[part]) * unit
	}
	if k.after == ' ' || unit == 0 {
		unit = 1
	}
	set.add(base, base+unit)
}

// decimal adds what a plain decimal can become.
func (k *keyed) decimal(set *Set, u reduce.Unit) {
	unit, most := u.Whole(), int64(u.Digits())
	if k.length[0] > most || k.n > 2 {
		return
	}
	v := reduce.Angle(k.val[0])
	if k.n == 2 || k.after == '.' {
		if v < reduce.Turn/unit {
			k.decimals(set, v*unit, unit, 1)
		}
		return
	}
	if k.after == ' ' {
		set.add(v*unit, v*unit+1)
		return
	}
	span := reduce.Angle(1)
	for i := k.length[0]; i <= most; i++ {
		set.add(v*unit, (v+span)*unit)
		v, span = v*10, span*10
	}
}
