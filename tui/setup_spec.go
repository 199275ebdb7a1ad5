package tui

import (
	"cmp"
	"errors"
	"strconv"
	"strings"

	"example.org/readback/booking/check"
	"example.org/readback/booking/network"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/lengths"
)

// leastCount reads the least count in the form, that of a usual instrument while it
// does not read.
func (s *setupScreen) leastCount() reduce.Angle {
	if a, ok := parseDecimal(s.form.Fields[fLeastCount].Value(), s.leastUnit()); ok && a > 0 {
		return a
	}
	return s.circleUnit().UsualStep()
}

// leastUnit is what the small angles of the form are in.
func (s *setupScreen) leastUnit() reduce.Angle {
	return s.circleUnit().Small()
}

// circleUnit is the unit of the circle in the form.
func (s *setupScreen) circleUnit() reduce.Unit { return chosen(&s.form.Fields[fUnit], units) }

// lengthUnit is the unit of length in the form.
func (s *setupScreen) lengthUnit() lengths.Unit { return chosen(&s.form.Fields[fLength], lengthUnits) }

// spec reads the form. bad is the first field whose answer does not do, with its
// problem written beside it, −1 when there is none.
func (s *setupScreen) spec() (spec spec.Spec, height string, bad int) {
	f := s.form.Fields
	bad = -1
	wrong := func(i int, problem string) {
		f[i].Problem = problem
		if bad < 0 || i < bad {
			bad = i
		}
	}
	for i := range f {
		f[i].Problem = ""
	}
	spec = s.read(wrong)
	faults := spec.Validate()
	if s.amends {
		faults = spec.ValidateInstead(s.was)
	}
	for _, x := range faults {
		if i, ok := fieldOf[x.Field]; ok && f[i].Problem == "" {
			wrong(i, x.Text)
		}
	}
	height = f[fHeight].line()
	if _, err := lengths.Parse(height, spec.LengthUnit); height != "" && err != nil {
		wrong(fHeight, "a plain decimal of "+spec.LengthUnit.String()+", such as 1.542")
	}
	if spec.Distances && height == "" && !s.amends {
		wrong(fHeight, "distances need the height of the instrument")
	}
	return spec, height, bad
}

// read reads what the fields say.
func (s *setupScreen) read(wrong func(i int, problem string)) (agreed spec.Spec) {
	var made spec.MakingTexts
	for i, x := range setupFields {
		f := &s.form.Fields[i]
		switch {
		case x.made != nil:
			*x.made(&made) = f.Value()
		case x.read != nil:
			if err := x.read(f, &agreed); err != nil {
				wrong(i, err.Error())
			}
		}
	}
	if s.amends {
		agreed.HeightsOnly, agreed.KeyedAfterwards, agreed.Before = s.was.HeightsOnly, s.was.KeyedAfterwards, s.was.Before
		lists := spec.Spec{NoVertical: agreed.NoVertical, NoDistance: agreed.NoDistance, MoreROs: agreed.MoreROs}.Rename(spec.Renames(s.was, agreed))
		agreed.NoVertical, agreed.NoDistance, agreed.MoreROs = lists.NoVertical, lists.NoDistance, lists.MoreROs
	}
	s.readLimits(&agreed.Limits, wrong)
	making, faults := made.Parse()
	agreed.Making = making
	for _, x := range faults {
		wrong(fieldOf[x.Field], x.Text)
	}
	if l := s.lengthsOf(wrong); l != s.lengths {
		agreed.Before.Lengths = &l
	}
	return agreed
}

func readRounds(f *formField, s *spec.Spec) (err error) {
	if s.Rounds, err = strconv.Atoi(f.line()); err != nil {
		return errors.New("a whole number of rounds")
	}
	return nil
}

func readLeastCount(f *formField, s *spec.Spec) (err error) {
	u, ok := s.Instrument.Unit, false
	if s.Instrument.LeastCount, ok = parseDecimal(f.line(), u.Small()); !ok {
		return errors.New("a decimal of " + u.SmallName() + ", such as " + smallText(u.UsualStep(), u.Small()))
	}
	return nil
}

func readSigmas(f *formField, s *spec.Spec) error {
	i, ok := &s.Instrument, false
	if i.Sigma, i.SigmaUpright, ok = parseSigmas(f.line(), i.Unit.Small()); !ok {
		return errors.New("a decimal of " + i.Unit.SmallName() + ", a second one for altitudes, or empty")
	}
	return nil
}

func readRefraction(f *formField, s *spec.Spec) (err error) {
	if s.Refraction, err = decimal.Parse(f.Value()); err != nil {
		return errors.New("a plain decimal, such as 0.13")
	}
	return nil
}

// parseSigmas reads the stated σ of a direction, and behind it that of an altitude
// where it is another; nothing is not stated.
func parseSigmas(text string, unit reduce.Angle) (sigma, upright reduce.Angle, ok bool) {
	parts := strings.Fields(text)
	if len(parts) > 2 {
		return 0, 0, false
	}
	var out [2]reduce.Angle
	for i, t := range parts {
		if out[i], ok = parseDecimal(t, unit); !ok {
			return 0, 0, false
		}
	}
	return out[0], out[1], true
}

// sigmasText is what parseSigmas reads.
func sigmasText(i spec.Instrument) string {
	text := smallText(i.Sigma, i.Unit.Small())
	if i.SigmaUpright > 0 {
		text = cmp.Or(text, "0") + " " + smallText(i.SigmaUpright, i.Unit.Small())
	}
	return text
}

// contradiction says that the limit in a field contradicts the stated σ, empty where
// it does not; in the field of σ, the first limit that does.
func (s *setupScreen) contradiction(i int) string {
	for _, c := range check.Contradictions(s.read(func(int, string) {})) {
		if i == fSigma || fieldOf[c.Field] == i {
			return c.Text
		}
	}
	return ""
}

// lengthsOf reads the ranges of heights and lengths by the rule of the book's settings.
func (s *setupScreen) lengthsOf(wrong func(int, string)) spec.Lengths {
	set := network.Settings{Lengths: s.lengths}
	for i, x := range ranges(s.lengths) {
		v, ok, err := rangeOf(&s.form.Fields[fRange+i], x, s.lengthUnit())
		if err != nil {
			wrong(fRange+i, err.Error())
		} else if ok {
			set, _ = set.With(x.Name, v, "")
		}
	}
	return set.Lengths
}

// readLimits reads the limits; one that is not what common practice gives was set by
// the crew.
func (s *setupScreen) readLimits(into *spec.Limits, wrong func(int, string)) {
	defaults, unit := spec.DefaultLimits(s.leastCount()), s.leastUnit()
	for i := fLimitRounds; i <= fLimitFigure; i++ {
		at, text := setupFields[i].limit, s.form.Fields[i].Value()
		l := at(into)
		if *l = *at(&defaults); text != smallText(l.Value, unit) {
			a, ok := parseDecimal(text, unit)
			if !ok {
				wrong(i, "a decimal of "+s.circleUnit().SmallName()+", over 0")
			}
			*l = spec.Limit{Value: a, From: spec.SetByCrew}
		}
		if was := *at(&s.was.Limits); s.amends && was.Value == l.Value {
			*l = was
		}
	}
}
