package main

import (
	"fmt"

	"example.org/readback/booking/network"
	"example.org/readback/reduce"
)

// FigureSettings are the limits and standard deviations that figures and the network are
// worked with; what is not given keeps its default. They are printed with the result.
type FigureSettings struct {
	LeastRatio *float64 `help:"Least ratio of the linear misclosure, 1 in N." placeholder:"N"`
	AngleSD    *float64 `name:"direction-sd" help:"Standard deviation of one direction, both faces, one round, seconds, in place of what is stated." placeholder:"SECONDS"`
	LengthSD   *float64 `name:"distance-sd" help:"Standard deviation of a distance where none is stated, millimetres, the part that does not grow." placeholder:"MM"`
	LengthPPM  *float64 `name:"distance-ppm" help:"And what it grows by: millimetres for each kilometre." placeholder:"MM"`
	Centring   *float64 `help:"Standard deviation of an instrument or a target over its mark, metres." placeholder:"METRES"`
	KnownSD    *float64 `name:"known-sd" help:"Standard deviation of known coordinates, metres; 0 holds them." placeholder:"METRES"`
	BearingSD  *float64 `name:"bearing-sd" help:"Standard deviation of known bearings, seconds." placeholder:"SECONDS"`
	AltitudeSD *float64 `name:"altitude-sd" help:"Standard deviation of an altitude where none is stated, seconds." placeholder:"SECONDS"`
	HeightSD   *float64 `name:"height-sd" help:"Standard deviation of an instrument or target height where none is stated, metres." placeholder:"METRES"`
	Risk       *float64 `help:"Risk of the test of the whole network, both sides together: 0.05." placeholder:"RISK"`
	SlipRisk   *float64 `name:"slip-risk" help:"Risk of the test of one observation: 0.001." placeholder:"RISK"`
}

// over lays what is given over the defaults.
func (f FigureSettings) over(s network.Settings) (network.Settings, error) {
	for _, x := range []struct {
		name  string
		given *float64
		most  float64
		put   func(float64)
	}{
		{"least-ratio", f.LeastRatio, 1e6, func(v float64) { s.LeastRatio, s.LeastRatioFrom = v, "set by the crew" }},
		{"direction-sd", f.AngleSD, 3600, func(v float64) { s.AngleSD = reduce.FromSeconds(v) }},
		{"distance-sd", f.LengthSD, 1000, func(v float64) { s.LengthSD = v / 1000 }},
		{"distance-ppm", f.LengthPPM, 1000, func(v float64) { s.LengthPPM = v }},
		{"centring", f.Centring, 1, func(v float64) { s.Centring = v }},
		{"known-sd", f.KnownSD, 10, func(v float64) { s.KnownSD = v }},
		{"bearing-sd", f.BearingSD, 3600, func(v float64) { s.BearingSD = reduce.FromSeconds(v) }},
		{"altitude-sd", f.AltitudeSD, 3600, func(v float64) { s.AltitudeSD = reduce.FromSeconds(v) }},
		{"height-sd", f.HeightSD, 1, func(v float64) { s.HeightSD = v }},
		{"risk", f.Risk, 0.5, func(v float64) { s.Limits.GlobalRisk = v }},
		{"slip-risk", f.SlipRisk, 0.5, func(v float64) { s.Limits.LocalRisk = v }},
	} {
		if x.given == nil {
			continue
		}
		risk := x.name == "risk" || x.name == "slip-risk" || x.name == "least-ratio"
		if v := *x.given; !(v >= 0 && v <= x.most) || risk && v == 0 {
			return s, fmt.Errorf("--%s %g: expected a number from 0 to %g", x.name, v, x.most)
		}
		x.put(*x.given)
	}
	return s, nil
}
