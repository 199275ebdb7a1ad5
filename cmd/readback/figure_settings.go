package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"reflect"
	"slices"
	"strings"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/network"
	"example.org/readback/cmd/internal/book"
)

// FigureSettings are the limits and standard deviations that figures and the network are
// worked with; what is not given keeps its default. They are printed with the result.
type FigureSettings struct {
	LeastRatio      *float64 `name:"least-ratio" help:"Least ratio of the linear misclosure, 1 in N." placeholder:"N"`
	AngleSD         *float64 `name:"direction-sd" help:"Standard deviation of one direction, both faces, one round, seconds, in place of what is stated." placeholder:"SECONDS"`
	LengthSD        *float64 `name:"distance-sd" help:"Standard deviation of a distance where none is stated, millimetres, the part that does not grow." placeholder:"MM"`
	LengthPPM       *float64 `name:"distance-ppm" help:"And what it grows by: millimetres for each kilometre." placeholder:"MM"`
	Centring        *float64 `name:"centring" help:"Standard deviation of an instrument or a target over its mark, metres." placeholder:"METRES"`
	KnownSD         *float64 `name:"known-sd" help:"σ of known stations, metres; 0 holds them." placeholder:"METRES"`
	EntrySD         *float64 `name:"entry-sd" help:"σ of known stations while keying, metres." placeholder:"METRES"`
	BearingSD       *float64 `name:"bearing-sd" help:"σ of known bearings, seconds." placeholder:"SECONDS"`
	GridScale       *float64 `name:"grid-scale" help:"Scale of the grid on its middle meridian." placeholder:"FACTOR"`
	GridEast        *float64 `name:"grid-east" help:"Easting of that meridian, metres." placeholder:"METRES"`
	BearingZero     *float64 `name:"bearing-zero" help:"Print bearings from 0 north, 180 south." placeholder:"DEGREES"`
	Quadrants       *float64 `name:"bearing-quadrants" help:"1 prints bearings as N 45°10′20″ E." placeholder:"0|1"`
	AltitudeSD      *float64 `name:"altitude-sd" help:"Standard deviation of an altitude where none is stated, seconds." placeholder:"SECONDS"`
	HeightSD        *float64 `name:"height-sd" help:"Standard deviation of an instrument or target height where none is stated, metres." placeholder:"METRES"`
	PairDistance    *float64 `name:"pair-distance" help:"Distance there and back: largest difference, metres." placeholder:"METRES"`
	PairDistancePPM *float64 `name:"pair-distance-ppm" help:"And this much more, millionths of the distance." placeholder:"PPM"`
	PairHeight      *float64 `name:"pair-height" help:"Height there and back: largest difference, times √km, metres." placeholder:"METRES"`
	LeastHeight     *float64 `name:"least-height" help:"Least limit of heights, metres." placeholder:"METRES"`
	RingHeight      *float64 `name:"ring-height" help:"Heights round a figure: largest misclosure, times √km, metres." placeholder:"METRES"`
	Risk            *float64 `name:"risk" help:"Risk of the test of the whole network, both sides together: 0.05." placeholder:"RISK"`
	SlipRisk        *float64 `name:"slip-risk" help:"Risk of the test of one observation: 0.001." placeholder:"RISK"`
}

// LengthSettings are the ranges in which heights and lengths are plausible.
type LengthSettings struct {
	LeastInstrument *float64 `name:"instrument-least" help:"Least plausible instrument height, metres." placeholder:"METRES"`
	MostInstrument  *float64 `name:"instrument-most" help:"Largest plausible instrument height, metres." placeholder:"METRES"`
	Again           *float64 `name:"height-again" help:"Instrument height measured again: largest difference, metres." placeholder:"METRES"`
	MostTarget      *float64 `name:"target-most" help:"Largest plausible target height, metres." placeholder:"METRES"`
	LeastSlope      *float64 `name:"distance-least" help:"Least plausible slope distance, metres." placeholder:"METRES"`
	MostSlope       *float64 `name:"distance-most" help:"Largest plausible slope distance, metres." placeholder:"METRES"`
	Known           *float64 `name:"distance-known" help:"Least difference from a known distance that is reported, metres." placeholder:"METRES"`
}

// given returns what is given, by the names of network.Settings.
func (f FigureSettings) given() []event.FigureValue { return givenOf(f) }

func givenOf(settings any) []event.FigureValue {
	var out []event.FigureValue
	v := reflect.ValueOf(settings)
	for i := range v.NumField() {
		if x, ok := v.Field(i).Interface().(*float64); ok && x != nil {
			name := v.Type().Field(i).Tag.Get("name")
			out = append(out, event.FigureValue{Name: name, Value: x})
		}
	}
	return out
}

// over lays what is given over the settings.
func (f FigureSettings) over(s network.Settings) (network.Settings, error) {
	s, err := overlaid(s, f.given())
	if err != nil {
		return s, badInput(err)
	}
	return s, nil
}

func overlaid(s network.Settings, values []event.FigureValue) (network.Settings, error) {
	var err error
	for _, x := range values {
		if s, err = s.With(x.Name, *x.Value, "set by the crew"); err != nil {
			return s, err
		}
	}
	return s, nil
}

// A LimitsCmd records in a book the limits and standard deviations of figures, and what
// heights and lengths are plausible.
type LimitsCmd struct {
	Book    string   `arg:"" help:"The book; it is made when it is not there. Without a setting, those in force are listed."`
	Default []string `help:"Set this one back to the program's own value." placeholder:"NAME"`
	FigureSettings
	LengthSettings
	Doer
}

// Help shows how it is called.
func (LimitsCmd) Help() string {
	return `Examples:
  readback limits dam.readback
  readback limits dam.readback --least-ratio 10000 --centring 0.001 --by "Ines Holm"
  readback limits dam.readback --instrument-most 1.9 --distance-most 400
  readback limits dam.readback --default centring`
}

// Run checks every setting before it books them.
func (l *LimitsCmd) Run(c *Context) error {
	e := event.FiguresSet{Values: append(l.given(), givenOf(l.LengthSettings)...), By: l.By}
	for _, name := range l.Default {
		e.Values = append(e.Values, event.FigureValue{Name: name})
		if !slices.ContainsFunc(network.DefaultSettings().List(nil), func(s network.Setting) bool { return s.Name == name }) {
			return badInput(fmt.Errorf("--default %s: not a setting: readback limits lists them", name))
		}
	}
	if len(e.Values) == 0 {
		return l.list(c)
	}
	given := slices.DeleteFunc(slices.Clone(e.Values), func(v event.FigureValue) bool { return v.Value == nil })
	if _, err := overlaid(network.DefaultSettings(), given); err != nil {
		return badInput(err)
	}
	if _, err := os.Stat(l.Book); errors.Is(err, fs.ErrNotExist) { // no book is made for what it would refuse
		if err := network.Accepts(nil, e); err != nil {
			return badInput(err)
		}
	}
	return c.load(l.Book, e, fmt.Sprintf("settings %d", len(e.Values)))
}

// list prints the settings in force, and which of them the book has recorded.
func (l *LimitsCmd) list(c *Context) error {
	return c.eachBook(l.Book, func(name string, _ book.Chapter, b day.Book) error {
		s, err := network.DefaultSettings().Recorded(b.Figures)
		if err != nil {
			return err
		}
		fmt.Fprintf(c.Out, "%s\n", name)
		for _, x := range s.List(b.Figures) {
			fmt.Fprintln(c.Out, strings.TrimRight(fmt.Sprintf("  %-18s %10s  %s", x.Name, x.Text(), x.Says()), " "))
		}
		return nil
	})
}
