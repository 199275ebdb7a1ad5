// Package paper reads the readings files that commands take: observations that
// were kept on paper or that another program wrote.
package paper

import (
	"crypto/sha256"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"

	"example.org/readback/booking"
	"example.org/readback/booking/exchange"
	"example.org/readback/reduce"
)

// Options say what a readings file does not. Seconds in a setup read in
// dms, milligon in one read in gon.
type Options struct {
	LeastCount      string `help:"Least count of the instrument: seconds for dms readings, milligon for gon." default:"5" placeholder:"N"`
	Sigma           string `help:"Stated standard deviation of one direction on both faces in one round; unit as for the least count." placeholder:"N"`
	DistanceSD      string `name:"distance-sd" help:"Stated standard deviation of a distance: millimetres, the part that does not grow." placeholder:"MM"`
	DistancePPM     string `name:"distance-ppm" help:"And what it grows by: millimetres for each kilometre." placeholder:"MM"`
	Circle          string `help:"Where the vertical circle reads zero: zenith or horizon. Unless given, as the vertical pairs say." enum:"zenith,horizon," default:""`
	ClosingRule     string `help:"What becomes of a closed horizon: mean of the two sights of the reference object, or spread over the round." enum:"mean,spread" default:"mean"`
	Refraction      string `help:"Coefficient of refraction k." default:"0.13" placeholder:"0.13"`
	LimitRounds     string `help:"Limit: spread of a direction over the rounds; unit as for the least count." placeholder:"N"`
	LimitMisclosure string `help:"Limit: misclosure of the reference object within a half." placeholder:"N"`
	LimitTwoC       string `name:"limit-2c" help:"Limit: spread of 2c over a setup." placeholder:"N"`
	LimitIndex      string `help:"Limit: spread of the index error over a setup." placeholder:"N"`
	LimitFigure     string `help:"Limit: misclosure of a figure, times √n for n angles." placeholder:"N"`
}

// options checks the options and puts them in the form the readings package has.
func (o Options) options() (exchange.Options, error) {
	out := exchange.Options{
		LeastCount: exchange.Decimal(o.LeastCount), Sigma: exchange.Decimal(o.Sigma),
		ClosingRule: reduce.ClosingMean,
		Rounds:      exchange.Decimal(o.LimitRounds), ROMisclosure: exchange.Decimal(o.LimitMisclosure),
		TwoC: exchange.Decimal(o.LimitTwoC), Index: exchange.Decimal(o.LimitIndex), Figure: exchange.Decimal(o.LimitFigure),
		LimitsFrom: "given on the command line",
	}
	if o.ClosingRule == "spread" {
		out.ClosingRule = reduce.ClosingSpread
	}
	if o.Circle != "" {
		c, err := reduce.ParseCircle(o.Circle)
		if err != nil {
			return out, err
		}
		out.Circle = c
	}
	k, err := strconv.ParseFloat(o.Refraction, 64)
	if err != nil || !(math.Abs(k) < booking.MaxRefraction) {
		return out, fmt.Errorf("--refraction: %q is not a coefficient: expected a number such as 0.13, under %d", o.Refraction, booking.MaxRefraction)
	}
	out.Refraction = &k
	mm, err := millimetres("distance-sd", o.DistanceSD)
	if err != nil {
		return out, err
	}
	out.DistanceSD = reduce.FromMetres(mm / 1000)
	if out.DistancePPM, err = millimetres("distance-ppm", o.DistancePPM); err != nil {
		return out, err
	}
	return out, out.Validate()
}

// millimetres reads the value of an option; nothing is 0.
func millimetres(option, text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	mm, err := strconv.ParseFloat(text, 64)
	if err != nil || !(mm >= 0 && mm <= 1000) {
		return 0, fmt.Errorf("--%s: %q is not a number of millimetres from 0 to 1000", option, text)
	}
	return mm, nil
}

// Papers are the setups of a readings file.
type Papers struct {
	File string
	Sum  [sha256.Size]byte // of the bytes of the file
	List []exchange.Paper
}

// Read reads the setups of a readings file. Every error is one of input.
func Read(file string, o Options, stdin io.Reader) (Papers, error) {
	p := Papers{File: file}
	options, err := o.options()
	if err != nil {
		return p, err
	}
	in := stdin
	if file == "-" {
		p.File = "standard input"
	} else {
		f, err := os.Open(file)
		if err != nil {
			return p, fmt.Errorf("cannot read the readings file: %w", err)
		}
		defer f.Close()
		in = f
	}
	h := sha256.New()
	f, err := exchange.Read(io.TeeReader(in, h), p.File)
	if err != nil {
		return p, err
	}
	h.Sum(p.Sum[:0])
	p.List, err = f.Papers(options)
	return p, err
}
