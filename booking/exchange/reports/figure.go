package reports

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"

	"example.org/readback/booking/network"
)

// A Figures document is the JSON of figures.
type Figures struct {
	Books []FiguresOfBook `json:"books"`
}

// FiguresOfBook are the figures that the setups of one book make.
type FiguresOfBook struct {
	Book
	Figures  []Figure  `json:"figures"`
	Points   []Point   `json:"points" what:"of figures that keep their limits"`
	Lines    []Line    `json:"lines" what:"observed from both ends"`
	Bearings []Check   `json:"bearings" what:"of reference objects, from known stations"`
	Checks   []Check   `json:"checks" what:"on known stations and on stations occupied twice"`
	Together *Together `json:"together,omitempty" what:"everything in one adjustment by least squares"`
	Centred  []Centred `json:"centred,omitempty" what:"sights of instruments and targets that stood beside their marks, reduced to them"`
	Grid     *Grid     `json:"grid,omitempty" what:"distances brought to the grid by the scale along each line"`
	Onto     *Onto     `json:"onto,omitempty" what:"the places laid onto known stations by a similarity"`
	Open     []string  `json:"open" what:"a sentence for each thing that is still open"`
}

// A Figure is a ring, a link or an open traverse.
type Figure struct {
	Kind       string      `json:"kind"`
	Title      string      `json:"title"`
	Stations   []string    `json:"stations" what:"in walking order; a ring names its first once"`
	Setups     []int       `json:"setups" what:"of the angle at each station; 0 where there is none"`
	Met        bool        `json:"met" what:"every misclosure keeps its limit"`
	Angles     *Misclosure `json:"angles,omitempty" what:"seconds"`
	Linear     *Misclosure `json:"linear,omitempty" what:"metres"`
	Length     *float64    `json:"length_m,omitempty"`
	LeastRatio *float64    `json:"least_ratio,omitempty" what:"1 in so many is the limit of the linear misclosure"`
	Heights    *Misclosure `json:"heights,omitempty" what:"metres"`
	Checks     []Check     `json:"checks"`
	Cause      string      `json:"cause,omitempty" what:"what one error would explain the misclosure"`
}

// A Misclosure is a misclosure with its limit, both in one unit.
type Misclosure struct {
	N     int      `json:"n,omitempty" what:"angles in it"`
	Value *float64 `json:"value,omitempty"`
	Limit *float64 `json:"limit,omitempty"`
}

// A Point is a station with coordinates from a figure.
type Point struct {
	Name    string   `json:"name"`
	East    *float64 `json:"east_m,omitempty"`
	North   *float64 `json:"north_m,omitempty"`
	Height  *float64 `json:"height_m,omitempty"`
	Local   bool     `json:"local" what:"not tied to known coordinates"`
	Major   *float64 `json:"semi_major_m,omitempty" what:"of the standard ellipse"`
	Minor   *float64 `json:"semi_minor_m,omitempty"`
	Bearing *float64 `json:"ellipse_bearing_deg,omitempty"`
	From    string   `json:"from" what:"the figure"`
}

// A Line was observed from both ends.
type Line struct {
	From     string    `json:"from"`
	To       string    `json:"to"`
	Distance *BothEnds `json:"distance,omitempty"`
	Height   *BothEnds `json:"height_difference,omitempty"`
}

// BothEnds is a value seen from both ends, metres.
type BothEnds struct {
	Mean       *float64 `json:"mean_m,omitempty"`
	Difference *float64 `json:"difference_m,omitempty" what:"there minus back"`
	Limit      *float64 `json:"limit_m,omitempty"`
	Met        bool     `json:"met"`
	Sentence   string   `json:"sentence" what:"where they disagree with both values, and which of them something else supports"`
}

// A Grid says how distances were brought to the grid.
type Grid struct {
	Lines []GridLine `json:"lines"`
	Keyed []int      `json:"scaled_by_setup,omitempty" what:"setups whose distances had a scale factor keyed with them, left as they are"`
	Above []int      `json:"not_at_sea_level,omitempty" what:"setups whose distances are not brought to sea level before it"`
}

// A GridLine is one line with its scale.
type GridLine struct {
	From  string   `json:"from"`
	To    string   `json:"to"`
	Scale *float64 `json:"scale"`
}

// A Centred is one sight reduced to the marks.
type Centred struct {
	Setup   int      `json:"setup"`
	Station string   `json:"station"`
	Target  string   `json:"target"`
	Turn    *float64 `json:"turn_sec,omitempty" what:"added to the direction"`
	Longer  *float64 `json:"longer_m,omitempty" what:"added to the horizontal distance"`
	LeftOut bool     `json:"left_out,omitempty" what:"no distance is known to reduce it by"`
}

// Onto is the places laid onto known points: E = a·e + b·n + shift, N = −b·e + a·n + shift.
type Onto struct {
	Scale  *float64 `json:"scale"`
	Turn   *float64 `json:"turn_deg" what:"clockwise"`
	ShiftE *float64 `json:"shift_e_m"`
	ShiftN *float64 `json:"shift_n_m"`
	S0     *float64 `json:"s0_m" what:"standard deviation of one coordinate"`
	Dof    int      `json:"degrees_of_freedom"`
	Common []Laid   `json:"common" what:"what each common point misses its known place by: laid less known"`
	Places []Laid   `json:"places"`
}

// A Laid is a point with two numbers.
type Laid struct {
	Name  string   `json:"name"`
	East  *float64 `json:"east_m"`
	North *float64 `json:"north_m"`
}

// OntoOf returns the JSON of a similarity.
func OntoOf(l *network.Laid) *Onto {
	o := &Onto{Scale: rounded9(l.Scale()), Turn: rounded(l.Turn().Degrees()), ShiftE: rounded(l.Fit.Shift.E), ShiftN: rounded(l.Fit.Shift.N), S0: rounded(l.Fit.S0), Dof: l.Fit.Dof}
	for _, c := range l.Common {
		o.Common = append(o.Common, Laid{c.Name, rounded(c.Residual.E), rounded(c.Residual.N)})
	}
	for _, p := range l.Places {
		o.Places = append(o.Places, Laid{p.Name, rounded(p.At.E), rounded(p.At.N)})
	}
	return o
}

// rounded9 rounds to nine decimals: a scale.
func rounded9(x float64) *float64 {
	x = math.Round(x*1e9) / 1e9
	return &x
}

// FiguresOf returns the JSON of the figures of a book.
func FiguresOf(b Book, r network.Report) FiguresOfBook {
	out := FiguresOfBook{Book: b, Figures: []Figure{}, Points: []Point{}, Lines: []Line{}, Bearings: []Check{},
		Checks: checksOf(r.Checks), Together: togetherOf(r.Together), Open: append([]string{}, r.Open...)}
	for _, f := range r.Figures {
		out.Figures = append(out.Figures, figureOf(f, r))
	}
	for _, p := range r.Places() {
		out.Points = append(out.Points, Point{Name: p.Name, East: rounded(p.Point.E), North: rounded(p.Point.N), Height: p.Elev, Local: p.Local,
			Major: rounded(p.Ellipse.A), Minor: rounded(p.Ellipse.B), Bearing: rounded(p.Ellipse.Bearing.Degrees()), From: p.From})
	}
	said := r.LineChecks()
	both := func(mean, difference, limit float64, met bool) *BothEnds {
		text := said[0].Text
		said = said[1:]
		return &BothEnds{rounded(mean), rounded(difference), rounded(limit), met, text}
	}
	for _, l := range r.Lines {
		j := Line{From: l.From, To: l.To}
		if d := l.Distance; d != nil {
			j.Distance = both(d.Mean, d.Difference, d.Limit, d.Within())
		}
		if h := l.Height; h != nil {
			j.Height = both(h.Mean, h.Difference, h.Limit, h.Within())
		}
		out.Lines = append(out.Lines, j)
	}
	for _, c := range r.Centred {
		x := Centred{Setup: c.Setup, Station: c.Station, Target: c.Target, LeftOut: !c.Known}
		if c.Known {
			x.Turn, x.Longer = rounded(c.Turn.Seconds()), rounded(c.Lengthen)
		}
		out.Centred = append(out.Centred, x)
	}
	if g := r.Grid; g != nil {
		out.Grid = &Grid{Lines: []GridLine{}, Keyed: g.Keyed, Above: g.Above}
		for _, l := range g.Lines {
			out.Grid.Lines = append(out.Grid.Lines, GridLine{l.From, l.To, rounded9(l.Scale)})
		}
	}
	for _, o := range r.Bearings {
		out.Bearings = append(out.Bearings, Check{Name: "bearing", Met: true, Sentence: o.String()})
	}
	return out
}

func figureOf(f network.Figure, r network.Report) Figure {
	c := f.Result.Carried
	j := Figure{Kind: f.Kind.String(), Title: f.Title(), Stations: append([]string{}, f.Stations...), Setups: append([]int{}, f.Setups...),
		Met: f.Met(), Checks: checksOf(f.Checks(r.Current)), Cause: f.Cause()}
	if a := c.Angular; a != nil {
		j.Angles = &Misclosure{a.N, rounded(a.Misclosure.Seconds()), rounded(a.Limit.Seconds())}
	}
	if l := c.Linear; l != nil {
		j.Linear = &Misclosure{Value: rounded(l.Misclosure)}
		j.Length, j.LeastRatio = rounded(l.Length), rounded(l.LeastRatio)
		if l.LeastRatio > 0 {
			j.Linear.Limit = rounded(l.Length / l.LeastRatio)
		}
	}
	if h := f.Heights; h != nil && h.Closed {
		j.Heights = &Misclosure{Value: rounded(h.Misclosure), Limit: rounded(h.Limit)}
	}
	return j
}

// WritePoints writes the coordinates that figures give as CSV in the form of a
// list of known stations, each point once: name, E, N, H in metres. local tells
// that they are not tied to known coordinates.
func WritePoints(w io.Writer, places []network.Place) (local bool, err error) {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	if err := out.Write([]string{"name", "E", "N", "H"}); err != nil {
		return false, err
	}
	metres := func(v float64) string { return strconv.FormatFloat(v, 'f', 4, 64) }
	for _, p := range places {
		local = local || p.Local
		h := ""
		if p.Elev != nil {
			h = metres(*p.Elev)
		}
		if err := out.Write([]string{p.Name, metres(p.Point.E), metres(p.Point.N), h}); err != nil {
			return local, err
		}
	}
	out.Flush()
	return local, out.Error()
}
