package instrument

import (
	"fmt"
	"slices"
	"time"

	"example.org/readback/booking/day"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/trend"
)

// Settings say when an adjustment is due and how a drift is tested.
type Settings struct {
	Least         reduce.Angle // an adjustment is due beyond this …
	PerLeastCount int64        // … or beyond this many least counts, whichever is more
	From          string       // where that comes from
	Risk          float64      // of saying a drift where there is none
	Held          bool         // setups in doubt count too
}

// DefaultSettings returns 30″, or 6 least counts where that is more (common
// practice, no source), and a risk of 5 %.
func DefaultSettings() Settings {
	return Settings{Least: 30 * reduce.Arcsecond, PerLeastCount: 6, From: "common practice, no source", Risk: 0.05}
}

// due returns the size beyond which an error of the instrument calls for an
// adjustment.
func (s Settings) due(i spec.Instrument) reduce.Angle {
	return max(s.Least, reduce.Angle(s.PerLeastCount)*i.LeastCount)
}

// An Instrument is the history of one instrument.
type Instrument struct {
	Name, Serial string
	Unit         reduce.Unit // of the circle, at the last sample
	Samples      []Sample    // in order of time
	Left         []LeftOut   // setups in doubt, which do not count
	Due          reduce.Angle
	DueFrom      string
	Checks       []day.InstrumentCheck // before work, in order of time
	Series       []Series              // collimation, tilt, index error; those that have a value
}

// A Series is one error over time.
type Series struct {
	Name   string // "collimation", "tilt" or "index error"
	Points []Point
	Line   *trend.Line // of seconds over hours since the first point; nil for fewer than three points
	Due    bool        // the last value is beyond the limit
}

// A Point is one value of a series.
type Point struct {
	Setup   int
	At      time.Time
	Seconds float64
	SD      float64
}

// Last returns the latest point.
func (s Series) Last() Point { return s.Points[len(s.Points)-1] }

// Work gathers the samples by instrument: by serial number, by name where there
// is none.
func Work(samples []Sample, s Settings) []Instrument {
	var out []Instrument
	for _, m := range samples {
		i := slices.IndexFunc(out, func(x Instrument) bool { return key(x.Name, x.Serial) == key(m.Instrument.Name, m.Instrument.Serial) })
		if i < 0 {
			i = len(out)
			out = append(out, Instrument{Name: m.Instrument.Name, Serial: m.Instrument.Serial})
		}
		if m.Doubt != "" && !s.Held {
			out[i].Left = append(out[i].Left, LeftOut{m.Setup, m.Station, m.Doubt})
		} else {
			out[i].Samples = append(out[i].Samples, m)
		}
		out[i].Due, out[i].DueFrom, out[i].Unit = s.due(m.Instrument), s.From, m.Instrument.Unit
	}
	for i := range out {
		slices.SortStableFunc(out[i].Samples, func(a, b Sample) int { return a.At.Compare(b.At) })
		out[i].work(s)
	}
	return out
}

// WithChecks puts the checks made before work beside the history of the
// instruments; one that was checked and not used yet stands at the end.
func WithChecks(list []Instrument, checks []day.InstrumentCheck, s Settings) []Instrument {
	for _, c := range checks {
		n := c.Instrument
		i := slices.IndexFunc(list, func(x Instrument) bool { return key(x.Name, x.Serial) == key(n.Name, n.Serial) })
		if i < 0 {
			i = len(list)
			list = append(list, Instrument{Name: n.Name, Serial: n.Serial, Unit: n.Unit, Due: s.due(n), DueFrom: s.From})
		}
		list[i].Checks = append(list[i].Checks, c)
	}
	for _, i := range list {
		slices.SortStableFunc(i.Checks, func(a, b day.InstrumentCheck) int { return a.At.Compare(b.At) })
	}
	return list
}

// checkedDue says of the last check what of it calls for an adjustment.
func (i Instrument) checkedDue() (out []string) {
	if len(i.Checks) == 0 {
		return nil
	}
	c := i.Checks[len(i.Checks)-1]
	twoC, _ := c.TwoC()
	index, _ := c.Index()
	for _, e := range []struct {
		name string
		is   reduce.Angle
	}{{"collimation", twoC.Half()}, {"index error", index}} {
		if e.is.Abs() > i.Due {
			out = append(out, fmt.Sprintf("The %s was %s at the check before work on %s, limit %s (%s): an adjustment is due.",
				e.name, signed(e.is.Seconds(), i.Unit), c.At.UTC().Format("2 January 15:04"), plain(i.Due, i.Unit), i.DueFrom))
		}
	}
	return out
}

func key(name, serial string) string {
	if serial != "" {
		return "serial " + serial
	}
	return "name " + name
}

// work fills the series.
func (i *Instrument) work(s Settings) {
	for _, q := range []struct {
		name string
		of   func(Sample) Value
	}{
		{"collimation", func(m Sample) Value { return m.Collimation }},
		{"tilt", func(m Sample) Value { return m.Tilt }},
		{"index error", func(m Sample) Value { return m.Index }},
	} {
		series := Series{Name: q.name}
		for _, m := range i.Samples {
			if v := q.of(m); v.N > 0 {
				series.Points = append(series.Points, Point{m.Setup, m.At, v.Seconds, v.SD})
			}
		}
		if len(series.Points) > 0 {
			series.fit(s, i.Due)
			i.Series = append(i.Series, series)
		}
	}
}

func (s *Series) fit(set Settings, due reduce.Angle) {
	s.Due = reduce.FromSeconds(s.Last().Seconds).Abs() > due
	var x, y []float64
	for _, p := range s.Points {
		x = append(x, p.At.Sub(s.Points[0].At).Hours())
		y = append(y, p.Seconds)
	}
	if l, err := trend.Fit(x, y, set.Risk); err == nil {
		s.Line = &l
	}
}

// Sentences says what is due and what drifts; one sentence where neither.
func (i Instrument) Sentences() []string {
	var out []string
	for _, l := range i.Left {
		out = append(out, l.Sentence())
	}
	n := len(out)
	out = append(out, i.checkedDue()...)
	for _, s := range i.Series {
		if s.Due {
			out = append(out, fmt.Sprintf("The %s was %s in setup %d, limit %s (%s): an adjustment is due.",
				s.Name, signed(s.Last().Seconds, i.Unit), s.Last().Setup, plain(i.Due, i.Unit), i.DueFrom))
		}
		if s.Line != nil && s.Line.Drifts {
			out = append(out, s.drift(i.Unit))
		}
	}
	if len(out) == n && len(i.Series) > 0 {
		out = append(out, fmt.Sprintf("No adjustment is due (limit %s, %s) and nothing drifts.", plain(i.Due, i.Unit), i.DueFrom))
	}
	return out
}

// drift prints the slope by the hour, or by the day where the setups span more
// than two.
func (s Series) drift(u reduce.Unit) string {
	slope, per := s.Line.Slope, "an hour"
	if s.Last().At.Sub(s.Points[0].At) > 48*time.Hour {
		slope, per = 24*slope, "a day"
	}
	return fmt.Sprintf("The %s drifts by %s %s (t %.1f, limit %.1f with %d degrees of freedom).",
		s.Name, signed(slope, u), per, min(s.Line.T, 999), s.Line.Limit, s.Line.Dof)
}

// signed prints seconds with a sign and one decimal, or milligon with two where
// the circle is divided in gon.
func signed(seconds float64, u reduce.Unit) string { return reduce.FormatSigned(seconds, u, 1) }

// plain prints a limit in whole seconds, or in milligon.
func plain(a reduce.Angle, u reduce.Unit) string { return reduce.FormatDeviation(a.Seconds(), u, 0) }
