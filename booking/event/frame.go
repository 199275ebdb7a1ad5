package event

import (
	"fmt"
	"strings"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/faces"
)

// The frame of a day: what a crew writes down around the observing. All of it may
// be left out, and nothing of it is asked for before a reading.

// InstrumentChecked is the check of an instrument before work: what was found of
// bubble, plummet and heights in words, and one pair on both faces on a sharp
// mark. Any part may be missing.
type InstrumentChecked struct {
	Instrument   spec.Instrument `json:"instrument"`
	Bubble       string          `json:"bubble,omitempty"`
	Plummet      string          `json:"plummet,omitempty"`
	Heights      string          `json:"heights,omitempty"`       // rule and prism poles, tripod's clamps
	HorizontalFL *Keyed          `json:"horizontal_fl,omitempty"` // of one sight: both or none
	HorizontalFR *Keyed          `json:"horizontal_fr,omitempty"`
	VerticalFL   *Keyed          `json:"vertical_fl,omitempty"`
	VerticalFR   *Keyed          `json:"vertical_fr,omitempty"`
	By           string          `json:"by"`
}

// A Keyed is a circle reading that belongs to no setup.
type Keyed struct {
	Text  string       `json:"text"` // as keyed
	Value reduce.Angle `json:"value"`
}

// WeatherNoted is the weather at the time of the event.
type WeatherNoted struct {
	Text        string   `json:"text,omitempty"`
	Celsius     *float64 `json:"celsius,omitempty"`
	Hectopascal *float64 `json:"hectopascal,omitempty"`
	By          string   `json:"by"`
}

// HandedOver is a note to the crew that goes on with the book.
type HandedOver struct {
	Text string `json:"text"`
	By   string `json:"by"`
}

// FileNamed names a sketch or a photo that belongs to a setup. The file stays
// where it is; its hash tells whether it is still the same.
type FileNamed struct {
	Name   string `json:"name"` // without its directory
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"` // of its content, in hexadecimal
	Text   string `json:"text,omitempty"`
	By     string `json:"by"`
}

// PackedUp is the list of the pack-up: what was seen to before the crew left.
type PackedUp struct {
	Done []string `json:"done,omitempty"`
	Left []string `json:"left,omitempty"` // on the list and not done
	Text string   `json:"text,omitempty"`
	By   string   `json:"by"`
}

// kind methods: see Kind.
func (InstrumentChecked) kind() Kind { return kindInstrumentChecked }

func (WeatherNoted) kind() Kind { return kindWeatherNoted }

func (HandedOver) kind() Kind { return kindHandedOver }

func (FileNamed) kind() Kind { return kindFileNamed }

func (PackedUp) kind() Kind { return kindPackedUp }

// TwoC returns twice the collimation of the pair; ok is false where none was read.
func (c InstrumentChecked) TwoC() (twoC reduce.Angle, ok bool) {
	if c.HorizontalFL == nil || c.HorizontalFR == nil {
		return 0, false
	}
	return faces.TwoC(reduce.DirectionAt(c.HorizontalFL.Value), reduce.DirectionAt(c.HorizontalFR.Value)), true
}

// Index returns the index error of the pair; ok is false where none was read.
func (c InstrumentChecked) Index() (index reduce.Angle, ok bool) {
	if c.VerticalFL == nil || c.VerticalFR == nil {
		return 0, false
	}
	_, index = faces.VerticalPair(c.VerticalFL.Value, c.VerticalFR.Value, c.Instrument.Circle)
	return index, true
}

// Words says what was found: "bubble in order, 2c +6″, index error −2″".
func (c InstrumentChecked) Words() string {
	var out []string
	for _, x := range []struct{ part, found string }{{"bubble", c.Bubble}, {"plummet", c.Plummet}, {"heights", c.Heights}} {
		if x.found != "" {
			out = append(out, x.part+" "+x.found)
		}
	}
	if a, ok := c.TwoC(); ok {
		out = append(out, "2c "+a.FormatSmall(c.Instrument.Unit))
	}
	if a, ok := c.Index(); ok {
		out = append(out, "index error "+a.FormatSmall(c.Instrument.Unit))
	}
	return strings.Join(out, ", ")
}

// Words says the weather: "haze, 18.5 °C, 1006 hPa".
func (w WeatherNoted) Words() string {
	var out []string
	if w.Text != "" {
		out = append(out, w.Text)
	}
	if w.Celsius != nil {
		out = append(out, decimal.Sprintf("%g °C", *w.Celsius))
	}
	if w.Hectopascal != nil {
		out = append(out, fmt.Sprintf("%g hPa", *w.Hectopascal))
	}
	return strings.Join(out, ", ")
}

// Words names the file with the beginning of its hash.
func (f FileNamed) Words() string {
	text := fmt.Sprintf("%s, %d bytes, sha256 %s", f.Name, f.Bytes, f.SHA256)
	if f.Text != "" {
		text += ": " + f.Text
	}
	return text
}

// rodBeside begins the line of the pack-up that names the station.
const rodBeside = "A rod or target stands beside the mark on "

// A PackLine is one line of the list of the pack-up, and a word for it.
type PackLine struct{ Word, Text string }

// PackUp is the list of the pack-up at the station: the usual cautions, and the
// rod beside the mark where the next setup sights back.
//
// Source: common practice, no source; the site's own rules come first.
func PackUp(s spec.Spec) []PackLine {
	list := []PackLine{
		{"Rod beside the mark", rodBeside + s.Station + ", plumb, where the next setup sights back to it"},
		{"Power lines", "Rods and poles come down away from overhead power lines"},
		{"Fixing screw", "One hand on the instrument until its fixing screw is home in the case"},
		{"Sun and cap", "The telescope was never turned to the Sun without its filter, and its cap is on"},
		{"Road and site", "Road, rails, edges and water are watched on the way; the site's rules come first"},
		{"All collected", "Every rod, peg and target that is not needed again is collected"},
	}
	if s.Distances {
		list = append(list, PackLine{"Distance meter", "The distance meter is switched off, and its battery is known"})
	}
	return list
}

// Words says what was done and, by the word for each line, what was not; what
// was written beside it is a sentence of its own.
func (p PackedUp) Words() string {
	text := fmt.Sprintf("%d of %d done", len(p.Done), len(p.Done)+len(p.Left))
	for i, line := range p.Left {
		if i == 0 {
			text += "; not done: "
		} else {
			text += ", "
		}
		text += packWord(line)
	}
	if p.Text != "" {
		text += ". " + p.Text
	}
	return text
}

// packWord is the word for a line of a pack-up as it stands in the book, inside
// of a sentence; the line itself where it is none of PackUp's.
func packWord(text string) string {
	if strings.HasPrefix(text, rodBeside) {
		return "rod beside the mark"
	}
	for _, line := range PackUp(spec.Spec{Distances: true}) {
		if line.Text == text {
			return strings.ToLower(line.Word)
		}
	}
	return strings.TrimRight(text, ".")
}
