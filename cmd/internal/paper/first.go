package paper

import (
	"cmp"
	"fmt"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// First is what the form of the first setup of a book begins with: the usual spec
// with the defaults of this account in it, crew, instrument and limits. of returns
// the default of an option.
func First(of func(option string) (value string, ok bool)) (spec.Spec, error) {
	get := func(option string) string { v, _ := of(option); return v }
	s := spec.FirstSpec()
	s.Observer = get("observer")
	s.Booker = cmp.Or(get("booker"), get("by"))
	s.Instrument.Name, s.Instrument.Serial = get("instrument"), get("serial")
	if unit := get("unit"); unit != "" {
		u, ok := reduce.UnitOf(unit)
		if !ok {
			return s, fmt.Errorf("the default unit: %q: expected dms, gon, deg or mil", unit)
		}
		s.Instrument.Unit = u
	}
	o := Options{LeastCount: get("least-count"), Sigma: get("sigma"), DistanceSD: get("distance-sd"), DistancePPM: get("distance-ppm"),
		Circle: get("circle"), ClosingRule: get("closing-rule"), Refraction: cmp.Or(get("refraction"), "0.13"),
		Making:      Making{Air: get("air"), Wave: get("wave"), PPMSet: get("ppm-set"), Prism: get("prism"), SeaLevel: get("sea-level"), Scale: get("scale")},
		LimitRounds: get("limit-rounds"), LimitMisclosure: get("limit-misclosure"), LimitTwoC: get("limit-2c"), LimitIndex: get("limit-index"), LimitFigure: get("limit-figure")}
	options, err := o.options()
	if err == nil {
		options.LimitsFrom = "the defaults of this account"
		err = options.Apply(&s)
	}
	if err != nil {
		return s, fmt.Errorf("the defaults: %w", err)
	}
	return s, nil
}
