package booking

import (
	"encoding/hex"
	"fmt"
	"strings"
	"time"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// The frame of a day: what a crew writes down around the observing. All of it may
// be left out, and nothing of it is asked for before a reading.

// InstrumentChecked is the check of an instrument before work: what was found of
// bubble, plummet and heights in words, and one pair on both faces on a sharp
// mark. Any part may be missing.
type InstrumentChecked struct {
	Instrument   Instrument `json:"instrument"`
	Bubble       string     `json:"bubble,omitempty"`
	Plummet      string     `json:"plummet,omitempty"`
	Heights      string     `json:"heights,omitempty"`       // rule and prism poles, tripod's clamps
	HorizontalFL *Keyed     `json:"horizontal_fl,omitempty"` // of one sight: both or none
	HorizontalFR *Keyed     `json:"horizontal_fr,omitempty"`
	VerticalFL   *Keyed     `json:"vertical_fl,omitempty"`
	VerticalFR   *Keyed     `json:"vertical_fr,omitempty"`
	By           string     `json:"by"`
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
func (WeatherNoted) kind() Kind      { return kindWeatherNoted }
func (HandedOver) kind() Kind        { return kindHandedOver }
func (FileNamed) kind() Kind         { return kindFileNamed }
func (PackedUp) kind() Kind          { return kindPackedUp }

// What stands in the book of them, each with its time.
type (
	InstrumentCheck struct {
		InstrumentChecked
		At  time.Time
		Seq uint64
	}
	WeatherNote struct {
		WeatherNoted
		At  time.Time
		Seq uint64
	}
	HandOver struct {
		HandedOver
		At time.Time
	}
	NamedFile struct {
		FileNamed
		At time.Time
	}
	PackList struct {
		PackedUp
		At time.Time
	}
)

// InOrder is what a check says of a part that needs nothing.
const InOrder = "in order"

// CheckInstrument makes the check of an instrument. words are what was found of
// bubble, plummet and heights; texts are the readings as keyed: horizontal face
// left and right, vertical face left and right, of one mark. Empty ones were not
// looked at. The error is a *reduce.ParseError or Refused.
func CheckInstrument(i Instrument, words [3]string, texts [4]string, by string) (InstrumentChecked, error) {
	c := InstrumentChecked{Instrument: i, Bubble: strings.TrimSpace(words[0]), Plummet: strings.TrimSpace(words[1]), Heights: strings.TrimSpace(words[2]), By: by}
	found := c.Bubble + c.Plummet + c.Heights
	for k, into := range []**Keyed{&c.HorizontalFL, &c.HorizontalFR, &c.VerticalFL, &c.VerticalFR} {
		text := strings.TrimSpace(texts[k])
		if text == "" {
			continue
		}
		a, err := reduce.ParseKeyed(text, i.Unit, i.LeastCount)
		if err != nil {
			return c, err
		}
		*into = &Keyed{Text: text, Value: a}
		found += text
	}
	switch {
	case blank(i.Name):
		return c, Refuse(noSuchPlace, "name the instrument that was checked")
	case found == "":
		return c, Refuse(noSuchReading, "nothing of the instrument was looked at yet")
	case (c.HorizontalFL == nil) != (c.HorizontalFR == nil), (c.VerticalFL == nil) != (c.VerticalFR == nil):
		return c, Refuse(noSuchReading, "a pair has a reading on both faces: key the other one, or neither")
	}
	if e, ok := c.TwoC(); ok && e.Abs() > 2*reduce.Degree {
		return c, Refuse(readingsDeny, "the two horizontal readings are no pair: the faces lie half a circle apart on one mark")
	}
	if e, ok := c.Index(); ok && e.Abs() > reduce.Degree {
		return c, Refuse(readingsDeny, "the two vertical readings are no pair on a circle from the %s", i.Circle)
	}
	return c, nil
}

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

// The air that is taken for weather: beyond these it is a slip of a key.
const (
	coldest, hottest = -60.0, 60.0 // degrees Celsius
	lowest, highest  = 500.0, 1100.0
)

// Weather notes the weather; a nil figure was not read.
func (s Setup) Weather(text string, celsius, hectopascal *float64) (WeatherNoted, error) {
	w := WeatherNoted{Text: strings.TrimSpace(text), Celsius: celsius, Hectopascal: hectopascal, By: s.Spec.Booker}
	switch {
	case s.Void != nil:
		return w, Refuse(setupIsVoid, "the setup was struck")
	case w.Text == "" && celsius == nil && hectopascal == nil:
		return w, Refuse(reasonMissing, "the weather is empty")
	case celsius != nil && !(*celsius >= coldest && *celsius <= hottest):
		return w, Refuse(noSuchReading, "%g °C: expected %g to %g", *celsius, coldest, hottest)
	case hectopascal != nil && !(*hectopascal >= lowest && *hectopascal <= highest):
		return w, Refuse(noSuchReading, "%g hPa: expected %g to %g, the pressure where the instrument stands", *hectopascal, lowest, highest)
	}
	return w, nil
}

// Words says the weather: "haze, 18.5 °C, 1006 hPa".
func (w WeatherNoted) Words() string {
	var out []string
	if w.Text != "" {
		out = append(out, w.Text)
	}
	if w.Celsius != nil {
		out = append(out, strings.ReplaceAll(fmt.Sprintf("%g °C", *w.Celsius), "-", "−"))
	}
	if w.Hectopascal != nil {
		out = append(out, fmt.Sprintf("%g hPa", *w.Hectopascal))
	}
	return strings.Join(out, ", ")
}

// NameFile names a sketch or a photo of the setup by its name, size and hash.
func (s Setup) NameFile(name string, bytes int64, sha256, text string) (FileNamed, error) {
	sum, err := hex.DecodeString(sha256)
	switch {
	case s.Void != nil:
		return FileNamed{}, Refuse(setupIsVoid, "the setup was struck")
	case blank(name):
		return FileNamed{}, Refuse(reasonMissing, "give the name of the file")
	case bytes < 0 || err != nil || len(sum) != 32:
		return FileNamed{}, Refuse(noSuchPlace, "the hash of %s is none", name)
	}
	for _, f := range s.Files {
		if f.Name == name && f.SHA256 == sha256 {
			return FileNamed{}, Refuse(placeTaken, "%s is named in this setup already", name)
		}
	}
	return FileNamed{Name: name, Bytes: bytes, SHA256: sha256, Text: strings.TrimSpace(text), By: s.Spec.Booker}, nil
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
func (s Setup) PackUp() []PackLine {
	list := []PackLine{
		{"Rod beside the mark", rodBeside + s.Spec.Station + ", plumb, where the next setup sights back to it"},
		{"Power lines", "Rods and poles come down away from overhead power lines"},
		{"Fixing screw", "One hand on the instrument until its fixing screw is home in the case"},
		{"Sun and cap", "The telescope was never turned to the Sun without its filter, and its cap is on"},
		{"Road and site", "Road, rails, edges and water are watched on the way; the site's rules come first"},
		{"All collected", "Every rod, peg and target that is not needed again is collected"},
	}
	if s.Spec.Distances {
		list = append(list, PackLine{"Distance meter", "The distance meter is switched off, and its battery is known"})
	}
	return list
}

// Pack writes the list of the pack-up: done has an answer for each line of PackUp.
func (s Setup) Pack(done []bool, text string) (PackedUp, error) {
	p := PackedUp{Text: strings.TrimSpace(text), By: s.Spec.Booker}
	for i, line := range s.PackUp() {
		if i < len(done) && done[i] {
			p.Done = append(p.Done, line.Text)
		} else {
			p.Left = append(p.Left, line.Text)
		}
	}
	switch {
	case s.Void != nil:
		return p, Refuse(setupIsVoid, "the setup was struck")
	case len(p.Done) == 0 && p.Text == "":
		return p, Refuse(reasonMissing, "nothing on the list is done yet")
	}
	return p, nil
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
	all := Setup{Spec: Spec{Distances: true}}
	for _, line := range all.PackUp() {
		if line.Text == text {
			return strings.ToLower(line.Word)
		}
	}
	return strings.TrimRight(text, ".")
}

// HandOverNote writes a note to the next crew.
func HandOverNote(text, by string) (HandedOver, error) {
	if blank(text) {
		return HandedOver{}, Refuse(reasonMissing, "the note is empty")
	}
	return HandedOver{Text: strings.TrimSpace(text), By: by}, nil
}

// foldDay takes up what belongs to the frame of the day; ok is false for any other
// event.
func (s *Setup) foldDay(e Entry) (ok bool) {
	switch v := e.Event.(type) {
	case WeatherNoted:
		s.Airs = append(s.Airs, WeatherNote{v, e.At, e.Seq})
	case FileNamed:
		s.Files = append(s.Files, NamedFile{v, e.At})
	case PackedUp:
		s.Packed = append(s.Packed, PackList{v, e.At})
	default:
		return false
	}
	return true
}

// besideReadings tells whether an event may follow the lift without a mark: it
// changes no reading.
func besideReadings(e Event) bool {
	switch e.(type) {
	case RemarkMade, WeatherNoted, FileNamed, PackedUp:
		return true
	}
	return false
}
