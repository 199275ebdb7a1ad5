package reductions

import (
	"io"
	"math"
	"strconv"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/exchange"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// A Number is a plain JSON number: no exponent, no minus zero.
type Number float64

// MarshalJSON writes the shortest plain decimal that reads back the same.
func (n Number) MarshalJSON() ([]byte, error) { return n.append(nil), nil }

func (n Number) append(b []byte) []byte {
	if n == 0 {
		n = 0 // a minus zero loses its sign
	}
	return strconv.AppendFloat(b, float64(n), 'f', -1, 64)
}

// A Setup is the JSON of one setup. sd_direction_sec is the standard deviation
// of one direction on both faces in one round; sd_sec of a direction is that of
// the adjusted angle from the reference object.
type Setup struct {
	Setup       int         `json:"setup"`
	Drill       bool        `json:"drill,omitempty"` // of a drill: never observed
	Book        string      `json:"book,omitempty"`  // identity of the book: what its first event follows on
	BookName    string      `json:"book_name,omitempty"`
	Job         string      `json:"job,omitempty"` // what the book says it is for
	Client      string      `json:"client,omitempty"`
	Place       string      `json:"place,omitempty"`
	Observer    string      `json:"observer,omitempty"`
	Booker      string      `json:"booker,omitempty"`
	From        *time.Time  `json:"observed_from,omitempty"` // left out: not known
	To          *time.Time  `json:"observed_to,omitempty"`
	Station     string      `json:"station"`
	Reference   string      `json:"reference,omitempty"`
	Further     []string    `json:"further_references,omitempty"`
	Order       string      `json:"order,omitempty"` // of observing; left out: by halves
	Repetitions int         `json:"repetitions,omitempty"`
	Rounds      []Round     `json:"rounds"`
	Directions  []Direction `json:"directions"`
	SDDirection *Number     `json:"sd_direction_sec,omitempty"`
	Dof         *int        `json:"dof,omitempty"`
	Verticals   []Vertical  `json:"verticals"`
	Verdict     string      `json:"verdict"`
	Reasons     []string    `json:"reasons"`
	Suspects    []Suspect   `json:"suspects"`
	Repeated    []Repeated  `json:"repeated,omitempty"`
	Noted       []Noted     `json:"noted,omitempty"`
}

// A Round is one round begun. Used is false where it is void or was left out.
type Round struct {
	Round     int        `json:"round"`
	Used      bool       `json:"used"`
	Pointings []Pointing `json:"pointings"`
}

// A Pointing is one target of a round, both faces side by side. Closing marks
// the second sight of the reference object. By repetition the accumulated readings are
// those after the last one, and mean and direction come of them.
type Pointing struct {
	Target    string  `json:"target"`
	Closing   bool    `json:"closing,omitempty"`
	FL        string  `json:"fl,omitempty"`
	FR        string  `json:"fr,omitempty"`
	SumFL     string  `json:"accumulated_fl,omitempty"`
	SumFR     string  `json:"accumulated_fr,omitempty"`
	TwoC      *Number `json:"two_c_sec,omitempty"`
	Mean      *Number `json:"mean_deg,omitempty"`
	Direction *Number `json:"direction_deg,omitempty"`
}

// A Direction is the adjusted direction of a target from the reference object.
// Spread and Agrees exist from the second round on.
type Direction struct {
	Target       string  `json:"target"`
	Direction    string  `json:"direction"`
	DirectionDeg Number  `json:"direction_deg"`
	SD           *Number `json:"sd_sec,omitempty"`
	Spread       *Number `json:"spread_sec,omitempty"`
	Agrees       *bool   `json:"agrees,omitempty"`
}

// A Vertical is what is known of the height of a target.
type Vertical struct {
	Target      string  `json:"target"`
	Altitude    string  `json:"altitude,omitempty"`
	AltitudeDeg *Number `json:"altitude_deg,omitempty"`
	Index       *Number `json:"index_sec,omitempty"`
	Gradient    *Number `json:"gradient_percent,omitempty"`
	Slope       *Number `json:"slope_m,omitempty"`
	Horizontal  *Number `json:"horizontal_m,omitempty"`
	Rise        *Number `json:"height_difference_m,omitempty"`

	Corrections *Corrections `json:"corrections_m,omitempty"` // where distances are made right: horizontal_m is what they come to
}

// Corrections are what is added to a displayed slope distance, in this order.
type Corrections struct {
	Air      Number `json:"air"`
	Prism    Number `json:"prism"`
	Level    Number `json:"to_level"` // from the slope to the level, curvature and refraction in it
	SeaLevel Number `json:"sea_level"`
	Scale    Number `json:"scale"`

	Noted *NotedAir `json:"air_noted,omitempty"` // where the air is that of a weather note
}

// A NotedAir is the air of a weather note, dry.
type NotedAir struct {
	Celsius     float64    `json:"celsius"`
	Hectopascal float64    `json:"hpa"`
	At          *time.Time `json:"at,omitempty"` // left out where the setup was keyed afterwards
}

// A Suspect is a reading that explains a misfit, as far as it can be told: what
// cannot be told is left out. Kind and Part are of the closed lists of package
// slip. Suspects of one Group exclude each other; Weight is the share that each has of
// what explains the misfit.
type Suspect struct {
	Round   int      `json:"round,omitempty"`
	Face    string   `json:"face,omitempty"`
	Target  string   `json:"target,omitempty"`
	Closing bool     `json:"closing,omitempty"`
	Kind    string   `json:"kind,omitempty"`
	Part    string   `json:"part,omitempty"`
	Group   int      `json:"group,omitempty"`
	Weight  *Number  `json:"weight,omitempty"`
	Readers []Reader `json:"readings,omitempty"`
	Text    string   `json:"text"`
}

// A Reader is one of the readings that a suspect may be, with the kinds of slip
// that its digits allow.
type Reader struct {
	Round int    `json:"round,omitempty"`
	Face  string `json:"face"`
	Kinds []Kind `json:"kinds"`
}

// A Kind is a kind of slip with its share; without a kind it is a poor sight, or
// nothing known.
type Kind struct {
	Kind  string  `json:"kind,omitempty"`
	Part  string  `json:"part,omitempty"`
	Share *Number `json:"share"`
}

// readersOf writes the readings that a suspect may be.
func readersOf(list []check.Reader) (out []Reader) {
	for _, x := range list {
		r := Reader{Round: x.Round, Face: x.Face.String(), Kinds: []Kind{}}
		for _, w := range x.Kinds {
			r.Kinds = append(r.Kinds, Kind{string(w.Kind), string(w.Part), rounded(w.Share, 3)})
		}
		out = append(out, r)
	}
	return out
}

// Of returns the JSON of a setup. named tells whether its reference object was
// named; in a setup of the book it always is.
func Of(s booking.Setup, named bool) Setup {
	r := reduction.Of(s)
	v, f := check.JudgeReduction(s, r), formOf(s)
	j := Setup{Setup: s.Number, Station: s.Spec.Station, Verdict: v.Word(), Reasons: nonNil(v.Reasons()),
		Rounds: []Round{}, Directions: []Direction{}, Verticals: []Vertical{}, Suspects: []Suspect{}}
	j.Noted, j.Repeated = notedOf(s), repeatedOf(s)
	if named {
		j.Reference = s.Spec.RO
	}
	j.Further = s.Spec.MoreROs
	if s.Spec.Order != spec.ByHalves {
		j.Order, j.Repetitions = s.Spec.Order.String(), s.Spec.Repetitions
	}
	j.Observer, j.Booker = s.Spec.Observer, s.Spec.Booker
	if from, to, ok := s.Observed(); ok {
		from, to = from.UTC(), to.UTC()
		j.From, j.To = &from, &to
	}
	for _, w := range r.Rounds {
		j.Rounds = append(j.Rounds, roundOf(w, s.Spec))
	}
	for _, d := range r.Directions {
		j.Directions = append(j.Directions, directionOf(d, r, f))
	}
	if len(r.Directions) > 0 {
		j.Dof = &r.Dof
	}
	if r.Dof > 0 {
		j.SDDirection = rounded(r.S0, 6)
	}
	for _, w := range r.Verticals {
		j.Verticals = append(j.Verticals, verticalOf(w, f))
	}
	for _, k := range v.Culprits.Suspects {
		j.Suspects = append(j.Suspects, Suspect{Round: k.Round, Face: k.Face.String(), Target: k.Target, Closing: k.Closing,
			Kind: string(k.Kind), Part: string(k.Part), Group: k.Group, Weight: rounded(k.Weight, 3), Readers: readersOf(k.Readers), Text: k.Text})
	}
	return j
}

func roundOf(w reduction.RoundWork, agreed spec.Spec) Round {
	j := Round{Round: w.Number, Used: w.Used(), Pointings: []Pointing{}}
	for _, p := range w.Pairs {
		if p.FL == nil && p.FR == nil {
			continue
		}
		q := Pointing{Target: p.Target, Closing: p.Closing, FL: reading(p.FL, agreed), FR: reading(p.FR, agreed), SumFL: reading(p.SumFL, agreed), SumFR: reading(p.SumFR, agreed)}
		if p.HasPair {
			q.TwoC, q.Mean = seconds(p.TwoC), degrees(p.Mean.Angle())
		}
		if p.HasDirection {
			q.Direction = degrees(p.Direction.Angle())
		}
		j.Pointings = append(j.Pointings, q)
	}
	return j
}

func directionOf(d reduction.DirectionResult, r reduction.Reduction, f form) Direction {
	j := Direction{Target: d.Target, Direction: f.direction(d.Direction), DirectionDeg: *degrees(d.Direction.Angle())}
	if r.Dof > 0 {
		j.SD = rounded(d.SD, 6)
	}
	if d.Compared > 1 {
		j.Spread, j.Agrees = seconds(d.Spread), &d.Agrees
	}
	return j
}

func verticalOf(w reduction.VerticalWork, f form) Vertical {
	j := Vertical{Target: w.Target}
	if w.HasPair {
		j.Altitude = f.altitude(w.Altitude)
		j.AltitudeDeg, j.Index = degrees(w.Altitude), seconds(w.Index)
		if !math.IsInf(w.Gradient, 0) {
			j.Gradient = rounded(w.Gradient, 6)
		}
	}
	if w.Slope != nil {
		j.Slope = rounded(w.Slope.Length().Metres(), 9)
	}
	if w.HasHorizontal {
		j.Horizontal = rounded(w.Horizontal, 6)
	}
	if w.HasRise {
		j.Rise = rounded(w.Rise, 6)
	}
	if d := w.Work; d != nil {
		j.Corrections = &Corrections{*rounded(d.Atmosphere, 6), *rounded(d.Prism, 6), *rounded(d.Bow, 6), *rounded(d.SeaLevel, 6), *rounded(d.Scale, 6), notedAir(w.Air, f.spec)}
	}
	return j
}

func notedAir(n *booking.WeatherNote, agreed spec.Spec) *NotedAir {
	if n == nil {
		return nil
	}
	out := &NotedAir{Celsius: *n.Celsius, Hectopascal: *n.Hectopascal}
	if agreed.KeyedAfterwards == nil {
		at := n.At.UTC()
		out.At = &at
	}
	return out
}

// A form is how the figures of a setup are printed.
type form struct {
	spec   spec.Spec
	places int // decimals of a mean direction or altitude
}

// formOf finds the decimals of a mean: one more than the least count or, where
// readings are finer, than they are.
func formOf(s booking.Setup) form {
	f := form{spec: s.Spec, places: s.Spec.Instrument.Places()}
	for _, r := range s.Readings {
		if r.Slot.Quantity.Angular() {
			f.places = max(f.places, exchange.Decimals(r, s.Spec))
		}
	}
	f.places = min(f.places+1, reduce.MostPlaces(s.Spec.Instrument.Unit))
	return f
}

// direction formats a mean direction in the unit of the booking.
func (f form) direction(d reduce.Direction) string {
	return d.Format(f.spec.Instrument.Unit, f.places)
}

// altitude formats a mean altitude in the unit of the booking.
func (f form) altitude(a reduce.Angle) string { return a.Format(f.spec.Instrument.Unit, f.places) }

func reading(r *booking.Reading, agreed spec.Spec) string {
	if r == nil {
		return ""
	}
	return r.Angle().Format(agreed.Instrument.Unit, exchange.Decimals(*r, agreed))
}

func seconds(a reduce.Angle) *Number { return rounded(a.Seconds(), 6) }
func degrees(a reduce.Angle) *Number { return rounded(a.Degrees(), 10) }

// rounded keeps the decimals that mean something.
func rounded(v float64, places int) *Number {
	p := math.Pow10(places)
	n := Number(math.Round(v*p) / p)
	return &n
}

func nonNil(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// A Writer writes setups as one JSON document, one at a time.
type Writer struct {
	w     io.Writer
	begun bool
	room  []byte
}

// NewWriter begins a document.
func NewWriter(w io.Writer) *Writer { return &Writer{w: w} }

// Setup writes one setup.
func (w *Writer) Setup(s Setup) (err error) {
	if w.room, err = Append(w.room[:0], !w.begun, s); err == nil {
		w.begun = true
		_, err = w.w.Write(w.room)
	}
	return err
}

// Close ends the document.
func (w *Writer) Close() error {
	tail := Tail
	if !w.begun {
		tail = `{"setups":[]}` + "\n"
	}
	_, err := io.WriteString(w.w, tail)
	return err
}

// Tail ends a document of one setup or more.
const Tail = "\n]}\n"

// Append appends one setup of a document, with what comes before the first or
// between two.
func Append(b []byte, first bool, s Setup) ([]byte, error) {
	head := ",\n"
	if first {
		head = `{"setups":[` + "\n"
	}
	e := encoder{b: append(b, head...)}
	e.setup(&s)
	return e.b, e.err
}
