package reports

import (
	"time"

	"example.org/readback/booking/day"
	"example.org/readback/booking/instrument"
	"example.org/readback/reduce/fieldtest"
)

// A Health document is the JSON of the history of instruments.
type Health struct {
	Books       []Book       `json:"books"`
	Instruments []Instrument `json:"instruments"`
}

// An Instrument is one instrument with its errors over time.
type Instrument struct {
	Name      string    `json:"instrument"`
	Serial    string    `json:"serial"`
	Due       *float64  `json:"adjustment_due_sec,omitempty" what:"beyond this an adjustment is due"`
	DueFrom   string    `json:"adjustment_due_from"`
	Series    []Series  `json:"series"`
	Checks    []Checked `json:"checks,omitempty" what:"before work"`
	LeftOut   []LeftOut `json:"left_out,omitempty" what:"setups on Hold or with a suspect, which do not count"`
	Sentences []string  `json:"sentences"`
}

// A LeftOut is a setup that does not speak for its instrument.
type LeftOut struct {
	Setup   int    `json:"setup"`
	Station string `json:"station"`
	Why     string `json:"why"`
}

// leftOut writes the setups that do not count.
func leftOut(list []instrument.LeftOut) (out []LeftOut) {
	for _, l := range list {
		out = append(out, LeftOut(l))
	}
	return out
}

// A Checked is one check of an instrument before work.
type Checked struct {
	At      *time.Time `json:"at,omitempty"`
	By      string     `json:"by"`
	Bubble  string     `json:"bubble,omitempty"`
	Plummet string     `json:"plummet,omitempty"`
	Heights string     `json:"heights,omitempty"`
	TwoC    *float64   `json:"two_c_sec,omitempty"`
	Index   *float64   `json:"index_sec,omitempty"`
}

// checkedOf writes the checks of an instrument.
func checkedOf(list []day.InstrumentCheck) (out []Checked) {
	for _, c := range list {
		twoC, hasTwoC := c.TwoC()
		index, hasIndex := c.Index()
		out = append(out, Checked{utc(c.At), c.By, c.Bubble, c.Plummet, c.Heights, some(hasTwoC, twoC.Seconds()), some(hasIndex, index.Seconds())})
	}
	return out
}

// A Series is one error over time.
type Series struct {
	Error  string  `json:"error" what:"collimation, tilt, index error"`
	Due    bool    `json:"adjustment_due" what:"the last value is beyond the limit"`
	Values []Value `json:"values"`
	Line   *Trend  `json:"line,omitempty"`
}

// A Value is one value of a series.
type Value struct {
	Setup    int        `json:"setup"`
	Station  string     `json:"station"`
	Observed *time.Time `json:"observed,omitempty" what:"when the setup was observed; where only that is known, when it was keyed"`
	Seconds  *float64   `json:"sec,omitempty"`
	SD       *float64   `json:"sd_sec,omitempty"`
}

// A Trend is the straight line through a series.
type Trend struct {
	PerDay *float64 `json:"sec_per_day,omitempty"`
	SD     *float64 `json:"sd_sec_per_day,omitempty"`
	T      *float64 `json:"t,omitempty"`
	Limit  *float64 `json:"t_limit,omitempty"`
	Dof    int      `json:"dof"`
	Drifts bool     `json:"drifts"`
}

// HealthOf returns the JSON of the history of instruments.
func HealthOf(books []Book, list []instrument.Instrument) Health {
	out := Health{Books: append([]Book{}, books...), Instruments: []Instrument{}}
	for _, i := range list {
		j := Instrument{Name: i.Name, Serial: i.Serial, Due: rounded(i.Due.Seconds()), DueFrom: i.DueFrom, Series: []Series{}, Checks: checkedOf(i.Checks), LeftOut: leftOut(i.Left), Sentences: append([]string{}, i.Sentences()...)}
		station := map[int]string{}
		for _, m := range i.Samples {
			station[m.Setup] = m.Station
		}
		for _, s := range i.Series {
			k := Series{Error: s.Name, Due: s.Due, Values: []Value{}}
			for _, p := range s.Points {
				k.Values = append(k.Values, Value{p.Setup, station[p.Setup], utc(p.At), rounded(p.Seconds), some(p.SD > 0, p.SD)})
			}
			if l := s.Line; l != nil {
				k.Line = &Trend{rounded(24 * l.Slope), rounded(24 * l.SDSlope), rounded(l.T), rounded(l.Limit), l.Dof, l.Drifts}
			}
			j.Series = append(j.Series, k)
		}
		out.Instruments = append(out.Instruments, j)
	}
	return out
}

// A FieldTest document is the JSON of a field test.
type FieldTest struct {
	Books      []Book        `json:"books"`
	Instrument string        `json:"instrument"`
	Serial     string        `json:"serial"`
	Setups     []int         `json:"setups"`
	LeftOut    []LeftOut     `json:"left_out,omitempty" what:"setups on Hold or with a suspect, which do not count"`
	Horizontal *TestOfCircle `json:"horizontal,omitempty"`
	Vertical   *TestOfCircle `json:"vertical,omitempty"`
	Index      *IndexTest    `json:"index_error,omitempty"`
	Missing    []string      `json:"missing" what:"why a part could not be worked"`
}

// A TestOfCircle is the test of one circle.
type TestOfCircle struct {
	S          *float64 `json:"s_sec,omitempty" what:"standard deviation of one direction, or one vertical angle, observed once on both faces"`
	Dof        int      `json:"dof"`
	Series     []Spread `json:"series"`
	Full       bool     `json:"full" what:"of the size of the full test"`
	AsStandard bool     `json:"as_standard" what:"of the size of one of the two forms of the standard"`
}

// A Spread is the outcome of one series.
type Spread struct {
	S   *float64 `json:"s_sec,omitempty"`
	Dof int      `json:"dof"`
}

// An IndexTest holds the mean index error against nothing.
type IndexTest struct {
	Mean   *float64 `json:"mean_sec,omitempty"`
	SD     *float64 `json:"sd_sec,omitempty"`
	Tested bool     `json:"tested"`
	Zero   bool     `json:"zero" what:"not told from nothing at 95 %"`
}

// FieldTestOf returns the JSON of a field test.
func FieldTestOf(books []Book, t instrument.FieldTest) FieldTest {
	out := FieldTest{Books: append([]Book{}, books...), Instrument: t.Instrument.Name, Serial: t.Instrument.Serial,
		Setups: append([]int{}, t.Setups...), LeftOut: leftOut(t.Left), Missing: append([]string{}, t.Missing...)}
	circle := func(f fieldtest.Test) *TestOfCircle {
		c := &TestOfCircle{S: some(f.S.Dof > 0, f.S.S), Dof: f.S.Dof, Series: []Spread{}, Full: f.Full, AsStandard: f.AsStandard}
		for _, s := range f.Series {
			c.Series = append(c.Series, Spread{some(s.Dof > 0, s.S), s.Dof})
		}
		return c
	}
	if t.Horizontal != nil {
		out.Horizontal = circle(*t.Horizontal)
	}
	if v := t.Vertical; v != nil {
		out.Vertical = circle(v.Test)
		out.Index = &IndexTest{rounded(v.Index), rounded(v.IndexSD), v.IsZero.Possible, v.IsZero.Passed}
	}
	return out
}
