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

	"example.org/readback/booking/exchange"
	"example.org/readback/booking/spec"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// Options say what a readings file does not. Seconds in a setup read in
// dms, else in the small unit of the circle: milligon, degrees, mils.
type Options struct {
	LeastCount      string `help:"Least count of the instrument: seconds for dms readings, 5 unless given; milligon for gon, degrees for deg, mils for mil, the step of the readings unless given." placeholder:"N"`
	SigmaVerticals  string `help:"Stated standard deviation of one altitude on both faces, where it is not that of a direction." placeholder:"N"`
	Sigma           string `help:"Stated standard deviation of one direction on both faces in one round; unit as for the least count." placeholder:"N"`
	DistanceSD      string `name:"distance-sd" help:"Stated standard deviation of a distance: millimetres, the part that does not grow." placeholder:"MM"`
	DistancePPM     string `name:"distance-ppm" help:"And what it grows by: millimetres for each kilometre." placeholder:"MM"`
	Circle          string `help:"Where the vertical circle reads zero: zenith or horizon. Unless given, as the vertical pairs say." enum:"zenith,horizon," default:""`
	ClosingRule     string `help:"What becomes of a closed horizon: mean of the two sights of the reference object, or spread over the round." enum:"mean,spread" default:"mean"`
	Refraction      string `help:"Coefficient of refraction k." default:"0.13" placeholder:"0.13"`
	Making          `embed:""`
	LimitRounds     string `help:"Limit: spread of a direction over the rounds; unit as for the least count." placeholder:"N"`
	LimitMisclosure string `help:"Limit: misclosure of the reference object within a half." placeholder:"N"`
	LimitTwoC       string `name:"limit-2c" help:"Limit: spread of 2c over a setup." placeholder:"N"`
	LimitIndex      string `help:"Limit: spread of the index error over a setup." placeholder:"N"`
	LimitFigure     string `help:"Limit: misclosure of a figure, times √n for n angles." placeholder:"N"`
}

// options checks the options and puts them in the form the readings package has.
func (o Options) options() (exchange.Options, error) {
	out := exchange.Options{
		LeastCount: exchange.Decimal(o.LeastCount), Sigma: exchange.Decimal(o.Sigma), SigmaUpright: exchange.Decimal(o.SigmaVerticals),
		ClosingRule: faces.ClosingMean,
		Rounds:      exchange.Decimal(o.LimitRounds), ROMisclosure: exchange.Decimal(o.LimitMisclosure),
		TwoC: exchange.Decimal(o.LimitTwoC), Index: exchange.Decimal(o.LimitIndex), Figure: exchange.Decimal(o.LimitFigure),
		LimitsFrom: "given on the command line",
	}
	if o.ClosingRule == "spread" {
		out.ClosingRule = faces.ClosingSpread
	}
	if o.Circle != "" {
		c, err := faces.ParseCircle(o.Circle)
		if err != nil {
			return out, err
		}
		out.Circle = c
	}
	k, err := strconv.ParseFloat(o.Refraction, 64)
	if err != nil || !(math.Abs(k) < spec.MaxRefraction) {
		return out, fmt.Errorf("--refraction: %q is not a coefficient: expected a number such as 0.13, under %d", o.Refraction, spec.MaxRefraction)
	}
	out.Refraction = &k
	if out.Making, err = o.making(); err != nil {
		return out, err
	}
	mm, err := millimetres("distance-sd", o.DistanceSD)
	if err != nil {
		return out, err
	}
	out.DistanceSD = lengths.FromMetres(mm / 1000)
	if out.DistancePPM, err = millimetres("distance-ppm", o.DistancePPM); err != nil {
		return out, err
	}
	return out, out.Validate()
}

// A Making says by what distances are made right.
type Making struct {
	Air      string `help:"Air along the lines: °C, hPa and per cent of humidity, such as '18 985 60'; or noted, that of the weather notes of the setup. Unless given, no correction." placeholder:"AIR"`
	Wave     string `help:"Wavelength of the instrument in micrometres and the refractivity its display counts with. Unless given, near infrared, right in dry air of 15 °C and 1013.25 hPa." placeholder:"WAVE"`
	PPMSet   string `name:"ppm-set" help:"Millionths that were set on the instrument, and that it added by itself." placeholder:"PPM"`
	Prism    string `help:"Prism constant that the display lacks, millimetres." placeholder:"MM"`
	SeaLevel string `help:"Bring distances to sea level: the height of the instrument, metres." placeholder:"METRES"`
	Scale    string `help:"Scale factor of the projection, or that at both ends and, between them, in the middle." placeholder:"FACTOR"`
}

func (m Making) making() (*spec.DistanceMaking, error) {
	out, faults := spec.MakingTexts{Air: m.Air, Carrier: m.Wave, PPMSet: m.PPMSet, Prism: m.Prism, SeaLevel: m.SeaLevel, Scale: m.Scale}.Parse()
	if len(faults) == 0 && out != nil {
		faults = out.Faults()
	}
	if len(faults) > 0 {
		return nil, fmt.Errorf("%s: %s", faults[0].Field, faults[0].Text)
	}
	return out, nil
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

// Papers are the setups of a readings file, read from it one at a time.
type Papers struct {
	File string
	Sign func(*spec.Spec) // writes into each setup what the file does not say; may be nil

	Watch func(setups int) // told how many setups are worked on; nil: nobody

	file    *exchange.File
	src     *io.SectionReader
	options exchange.Options
	done    func() error
	checked Checked
}

// mostPiped is how much is taken from a pipe, bytes.
const mostPiped = 4 << 30

// Open finds the setups of a readings file; what comes through a pipe is kept
// until all of it is there. Every error is one of input.
func Open(file string, o Options, stdin io.Reader) (*Papers, error) {
	options, err := o.options()
	if err != nil {
		return nil, err
	}
	p := &Papers{File: file, options: options}
	if file == "-" {
		p.File = "standard input"
		err = p.keep(stdin)
	} else {
		err = p.open(file)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read the readings file: %w", err)
	}
	if p.file, err = exchange.Open(p.src, p.src.Size(), p.File); err != nil {
		p.Close()
		return nil, err
	}
	return p, nil
}

// open takes a file as it stands, and keeps what any other thing by that name
// gives.
func (p *Papers) open(file string) error {
	f, err := os.Open(file)
	if err != nil {
		return err
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return err
	}
	if !info.Mode().IsRegular() {
		defer f.Close()
		return p.keep(f)
	}
	p.src, p.done = io.NewSectionReader(f, 0, info.Size()), f.Close
	return nil
}

func (p *Papers) keep(in io.Reader) error {
	kept := &output.Spool{}
	n, err := io.Copy(kept, io.LimitReader(in, mostPiped))
	if err == nil && n == mostPiped {
		err = fmt.Errorf("%s gives more than %d GiB: save it to a file", p.File, mostPiped>>30)
	}
	if err != nil {
		kept.Close()
		return err
	}
	p.src, p.done = io.NewSectionReader(kept, 0, kept.Size()), kept.Close
	return nil
}

// Close ends reading.
func (p *Papers) Close() error { return p.done() }

// Checked is what is known of a file whose setups can all be booked.
type Checked struct {
	Sum    [sha256.Size]byte // SHA-256 of the bytes of the file
	Events []int32           // that each setup becomes, its lift included
	Total  int
}

// Check reads the whole file, once, and folds every setup of it. Every error is
// one of input.
func (p *Papers) Check() (Checked, error) {
	if p.checked.Events != nil {
		return p.checked, nil
	}
	h := sha256.New()
	if _, err := io.Copy(h, io.NewSectionReader(p.src, 0, p.src.Size())); err != nil {
		return Checked{}, fmt.Errorf("cannot read the readings file: %w", err)
	}
	c := Checked{Events: make([]int32, p.Len())}
	h.Sum(c.Sum[:0])
	err := p.Work(io.Discard, func(_ *Desk, i int, q exchange.Paper) error {
		c.Events[i] = int32(q.Events())
		return q.Bookable()
	})
	if err != nil {
		return Checked{}, err
	}
	for _, k := range c.Events {
		c.Total += int(k)
	}
	p.checked = c
	return c, nil
}

// Len is how many setups there are.
func (p *Papers) Len() int { return p.file.Len() }

// Paper reads the i-th setup. Every error is one of input.
func (p *Papers) Paper(i int) (exchange.Paper, error) { return p.from(p.file.Reader(), i) }

// from reads the i-th setup with a reader.
func (p *Papers) from(r *exchange.Reader, i int) (exchange.Paper, error) {
	q, err := r.Paper(i, p.options)
	if err == nil && p.Sign != nil {
		p.Sign(&q.Spec)
	}
	return q, err
}
