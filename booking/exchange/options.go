package exchange

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// A Decimal is a plain decimal that is not an angle until the unit of a setup is
// known: seconds in a setup read in dms, milligon in one read in gon, degrees in
// one read in decimal degrees, mils in one read in mils.
type Decimal string

// angle returns the decimal as an angle in the small unit of u.
func (d Decimal) angle(u reduce.Unit) (reduce.Angle, error) {
	whole, dec, _ := strings.Cut(string(d), ".")
	digits := whole + dec
	bad := func(why string) error {
		return fmt.Errorf("%q %s: expected a plain decimal, such as 5 or 0.5", string(d), why)
	}
	switch {
	case digits == "" || strings.Trim(digits, "0123456789") != "":
		return 0, bad("is not a number")
	case len(whole) > 6:
		return 0, bad("is too large")
	}
	unit := u.Small()
	var a reduce.Angle
	for _, c := range whole {
		a = a*10 + reduce.Angle(c-'0')
	}
	a *= unit
	for _, c := range strings.TrimRight(dec, "0") {
		if unit%10 != 0 {
			return 0, bad("has too many decimals")
		}
		unit /= 10
		a += reduce.Angle(c-'0') * unit
	}
	return a, nil
}

// Options say what a readings file does not: with what it was read and what is
// held against it. Decimals are in the small unit of the setup, as Decimal says.
type Options struct {
	LeastCount   Decimal           // empty: 5 seconds, or the step of readings in a decimal unit
	Sigma        Decimal           // stated standard deviation of one direction, both faces, one round; empty: not stated
	SigmaUpright Decimal           // and of one altitude, both faces; empty: that of directions
	DistanceSD   lengths.Length    // stated standard deviation of a distance; 0: not stated
	DistancePPM  float64           // and what it grows by, millionths of the distance
	Circle       faces.Circle      // 0: as the vertical pairs of the setup say, else zenith
	ClosingRule  faces.ClosingRule // 0: ClosingMean
	Refraction   *float64          // coefficient k; nil: spec.DefaultRefraction
	Making       *spec.DistanceMaking
	Rounds       Decimal // limits; empty: what spec.DefaultLimits gives the least count
	ROMisclosure Decimal
	TwoC         Decimal
	Index        Decimal
	Figure       Decimal
	LimitsFrom   string // where limits given here came from; empty: spec.SetByCrew
}

// defaultLeastCount is the least count taken where none is given: 5 seconds; on a
// decimal circle the step of the readings, or that of a usual instrument where they
// tell none.
func defaultLeastCount(u reduce.Unit) Decimal {
	return [...]Decimal{reduce.DMS: "5", reduce.GonUnit: "5", reduce.DegreeUnit: "0.001", reduce.MilUnit: "0.1"}[u]
}

// ErrOption is wrapped by every error about an option.
var ErrOption = errors.New("an option cannot be read")

// Validate tells which option reads on no circle.
func (o Options) Validate() (first error) {
	for _, u := range reduce.Units() {
		var spec spec.Spec
		spec.Instrument.Unit = u
		err := o.Apply(&spec)
		if err == nil {
			return nil
		}
		first = cmp.Or(first, err)
	}
	return first
}

// Apply fills in instrument, limits and rules of a spec whose unit is known.
func (o Options) Apply(agreed *spec.Spec) error {
	u := agreed.Instrument.Unit
	lc, err := cmp.Or(o.LeastCount, defaultLeastCount(u)).angle(u)
	switch {
	case err != nil:
		return fmt.Errorf("%w: least count: %w", ErrOption, err)
	case lc <= 0 || lc > reduce.Degree:
		return fmt.Errorf("%w: least count: %q: expected a value over 0 and at most a degree", ErrOption, string(o.LeastCount))
	}
	agreed.Instrument.LeastCount = lc
	if o.Sigma != "" {
		if agreed.Instrument.Sigma, err = o.Sigma.angle(u); err != nil {
			return fmt.Errorf("%w: sigma: %w", ErrOption, err)
		}
	}
	if o.SigmaUpright != "" {
		if agreed.Instrument.SigmaUpright, err = o.SigmaUpright.angle(u); err != nil {
			return fmt.Errorf("%w: sigma of verticals: %w", ErrOption, err)
		}
	}
	agreed.Instrument.DistanceSD, agreed.Instrument.DistancePPM = o.DistanceSD, o.DistancePPM
	agreed.Instrument.Circle = cmp.Or(o.Circle, faces.Zenith)
	agreed.ClosingRule = cmp.Or(o.ClosingRule, faces.ClosingMean)
	agreed.Refraction = spec.DefaultRefraction
	if o.Refraction != nil {
		agreed.Refraction = *o.Refraction
	}
	agreed.Making = o.Making
	agreed.Limits = spec.DefaultLimits(lc)
	for _, l := range []struct {
		name  string
		given Decimal
		limit *spec.Limit
	}{
		{"rounds", o.Rounds, &agreed.Limits.Rounds},
		{"RO misclosure", o.ROMisclosure, &agreed.Limits.ROMisclosure},
		{"2c", o.TwoC, &agreed.Limits.TwoC},
		{"index error", o.Index, &agreed.Limits.Index},
		{"figure", o.Figure, &agreed.Limits.Figure},
	} {
		if l.given == "" {
			continue
		}
		a, err := l.given.angle(u)
		if err != nil {
			return fmt.Errorf("%w: limit of the %s: %w", ErrOption, l.name, err)
		}
		*l.limit = spec.Limit{Value: a, From: cmp.Or(o.LimitsFrom, spec.SetByCrew)}
	}
	return nil
}
