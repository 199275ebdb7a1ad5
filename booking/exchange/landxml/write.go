package landxml

import (
	"encoding/xml"
	"fmt"
	"io"
	"iter"
	"maps"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking/page/sheet"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// namespace is the namespace of LandXML 1.2.
const namespace = "http://www.landxml.org/schema/LandXML-1.2"

// A Point is a position in metres; Elev is nil where there is no height. Local:
// it is not tied to known stations; LocalElev: nor is its height.
type Point struct {
	North, East      float64
	Elev             *float64
	Local, LocalElev bool
}

// A Document is what one file is made of.
type Document struct {
	Title   string
	Program string    // version of the program that writes
	Made    time.Time // when the file was made
	// Sheets walks the setups. It is walked once for what stands at the head of
	// the file and once more for every instrument, so that no more than one setup
	// has to be in memory.
	Sheets iter.Seq2[sheet.Sheet, error]
	Points map[string]Point // coordinates by name, where a figure has them; may be nil
}

// Write writes the document as one LandXML 1.2 file. Errors are those of w and of
// the walk.
func Write(w io.Writer, d Document) error {
	f := &file{doc: d, enc: xml.NewEncoder(w)}
	f.enc.Indent("", "  ")
	var err error
	if f.survey, err = look(d.Sheets); err != nil {
		return err
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return fmt.Errorf("cannot write LandXML: %w", err)
	}
	f.document()
	if f.err == nil {
		f.err = f.enc.Close()
	}
	if f.err == nil {
		_, f.err = io.WriteString(w, "\n")
	}
	if f.err != nil {
		return fmt.Errorf("cannot write LandXML: %w", f.err)
	}
	return nil
}

// A file is a LandXML file being written; after the first error nothing more is.
type file struct {
	doc    Document
	survey survey
	enc    *xml.Encoder
	setups int // instrument setups so far
	groups int // observation groups so far
	names  int // reduced observations so far
	err    error
}

func (f *file) put(element any) {
	if f.err == nil {
		f.err = f.enc.Encode(element)
	}
}

func (f *file) open(name string, attrs ...string) xml.StartElement {
	e := xml.StartElement{Name: xml.Name{Local: name}}
	for i := 0; i+1 < len(attrs); i += 2 {
		e.Attr = append(e.Attr, xml.Attr{Name: xml.Name{Local: attrs[i]}, Value: attrs[i+1]})
	}
	if f.err == nil {
		f.err = f.enc.EncodeToken(e)
	}
	return e
}

func (f *file) close(e xml.StartElement) {
	if f.err == nil {
		f.err = f.enc.EncodeToken(e.End())
	}
}

// drillNote marks what was made up.
const drillNote = "A drill: the readings are made up and were never observed."

func (f *file) document() {
	made := f.doc.Made.UTC()
	root := f.open("LandXML", "xmlns", namespace, "version", "1.2", "language", "English", "readOnly", "false",
		"date", made.Format(time.DateOnly), "time", made.Format("15:04:05Z"))
	angular := "decimal dd.mm.ss"
	if f.survey.gon {
		angular = "grads"
	}
	f.put(units{Metric: metric{Area: "squareMeter", Linear: "meter", Volume: "cubicMeter", Temperature: "celsius",
		Pressure: "HPA", Angular: angular, Direction: angular}})
	p := project{Name: clean(f.doc.Title), Desc: clean(strings.Join(f.survey.about, "; "))}
	if f.survey.drill {
		p.Desc = strings.TrimSpace(drillNote + " " + p.Desc)
	}
	f.put(p)
	f.put(application{Name: "readback", Version: clean(f.doc.Program), TimeStamp: timeText(made)})
	f.put(f.points())
	for i, part := range f.survey.parts {
		f.part(i+1, part)
	}
	f.close(root)
}

// points lists every name of the file once, so that each pntRef names a point;
// coordinates stand where they are known and are numbers.
func (f *file) points() cgPoints {
	at := map[string]string{}
	var ps cgPoints
	for n := range f.survey.names {
		if p, ok := f.doc.Points[n]; ok {
			at[clean(n)] = coordinates(p)
			ps.note(p)
		} else if _, ok := at[clean(n)]; !ok {
			at[clean(n)] = ""
		}
	}
	for _, n := range slices.Sorted(maps.Keys(at)) {
		ps.Points = append(ps.Points, cgPoint{Name: n, Text: at[n]})
	}
	return ps
}

// note says in which system the coordinates are.
func (ps *cgPoints) note(p Point) {
	what := "North, east and elevation in metres, in the system of the known stations."
	if p.Local {
		what = "Local coordinates in metres, of a figure that closes: its first station was given 0 0, and nothing ties it to known stations."
	}
	if p.Local && p.LocalElev {
		what += " Elevations are over the first station."
	}
	if len(what) > len(ps.Desc) {
		ps.Desc = what
	}
}

func coordinates(p Point) string {
	n, e := metresText(p.North), metresText(p.East)
	if n == "" || e == "" {
		return ""
	}
	h := ""
	if p.Elev != nil {
		h = metresText(*p.Elev)
	}
	return strings.TrimSpace(n + " " + e + " " + h)
}

// part writes the Survey of one instrument and one observer. Its times are those of
// observing; where none is known it has none.
func (f *file) part(number int, p part) {
	id := fmt.Sprintf("in%d", number)
	h := surveyHeader{
		Name: clean(fmt.Sprintf("%s, part %d", f.doc.Title, number)), Type: "surveyed", Surveyor: clean(p.observer), People: p.people,
		Notes: []string{"horizAngle of a raw observation and circle of a backsight are circle readings: clockwise from an arbitrary zero. No azimuth is given."},
	}
	var attrs []string
	if !p.start.IsZero() {
		attrs = []string{"date", p.start.UTC().Format(time.DateOnly)}
		h.StartTime, h.EndTime = timeText(p.start), timeText(p.end)
	}
	if p.undated > 0 {
		h.Notes = append(h.Notes, fmt.Sprintf("Of %d setups the time of observing is not known; they were keyed up to %s.", p.undated, timeText(p.keyed)))
	}
	e := f.open("Survey", attrs...)
	f.put(h)
	f.put(f.equipment(id, p.instrument))
	for s, err := range f.doc.Sheets {
		if f.err == nil {
			f.err = err
		}
		if f.err != nil {
			return
		}
		if s.Setup.Number > 0 && keyOf(s.Setup.Spec) == p.key {
			f.put(f.setup(id, s))
		}
	}
	f.close(e)
}

func (f *file) equipment(id string, i spec.Instrument) equipment {
	d := instrumentDetails{ID: id, Model: clean(i.Name), Serial: clean(i.Serial)}
	if i.Sigma > 0 {
		d.Precision = f.angle(i.Sigma)
		d.Notes = append(d.Notes, "horizAnglePrecision is the stated standard deviation of one direction on both faces, in the angular unit of this file.")
	}
	d.Features = []feature{{Name: "instrument", Properties: []property{
		{"least count", f.angle(i.LeastCount)},
		{"unit of the circle", i.Unit.String()},
		{"vertical circle graduated from", i.Circle.String()},
	}}}
	return equipment{Details: d}
}

// angle writes an angle in the unit of the file.
func (f *file) angle(a reduce.Angle) string { return angleText(a, f.survey.gon) }
