package landxml

import (
	"encoding/xml"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/sheet"
	"example.org/readback/reduce"
)

// Namespace is the namespace of LandXML 1.2.
const Namespace = "http://www.landxml.org/schema/LandXML-1.2"

// A Point is a position in metres; Elev is nil where no height is known.
type Point struct {
	North, East float64
	Elev        *float64
}

// Write writes the setups of the binder as one LandXML 1.2 file. points gives
// coordinates by name, where a figure has them; it may be nil. Errors are those
// of w.
func Write(w io.Writer, b sheet.Binder, points map[string]Point) error {
	f := &file{binder: b, enc: xml.NewEncoder(w)}
	f.enc.Indent("", "  ")
	for _, s := range b.Sheets {
		if s.Setup.Number > 0 {
			f.sheets = append(f.sheets, s)
		}
	}
	f.gon = len(f.sheets) > 0 && !slices.ContainsFunc(f.sheets, func(s sheet.Sheet) bool {
		return s.Setup.Spec.Instrument.Unit != reduce.GonUnit
	})
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return fmt.Errorf("cannot write LandXML: %w", err)
	}
	f.document(points)
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
	binder sheet.Binder
	sheets []sheet.Sheet // setups that were opened
	enc    *xml.Encoder
	gon    bool // angles in grads
	setups int  // instrument setups so far
	groups int  // observation groups so far
	names  int  // reduced observations so far
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

func (f *file) document(points map[string]Point) {
	made := f.binder.Printed.UTC()
	root := f.open("LandXML", "xmlns", Namespace, "version", "1.2", "language", "English", "readOnly", "false",
		"date", made.Format(time.DateOnly), "time", made.Format("15:04:05Z"))
	angular := "decimal dd.mm.ss"
	if f.gon {
		angular = "grads"
	}
	f.put(units{Metric: metric{Area: "squareMeter", Linear: "meter", Volume: "cubicMeter", Temperature: "celsius",
		Pressure: "HPA", Angular: angular, Direction: angular}})
	p := project{Name: clean(f.binder.Title())}
	if f.drill() {
		p.Desc = drillNote
	}
	f.put(p)
	f.put(application{Name: "readback", Version: clean(f.binder.Program), TimeStamp: timeText(made)})
	f.put(f.points(points))
	for i, survey := range f.surveys() {
		f.survey(i+1, survey)
	}
	f.close(root)
}

// drill tells whether a setup of the file belongs to a drill.
func (f *file) drill() bool {
	return slices.ContainsFunc(f.sheets, func(s sheet.Sheet) bool { return s.Book.Drill })
}

// points lists every name of the file once, so that each pntRef names a point;
// coordinates stand where they are known and are numbers.
func (f *file) points(known map[string]Point) cgPoints {
	names := map[string]string{}
	for _, s := range f.sheets {
		for _, n := range append(s.Setup.Spec.Names(), s.Setup.Spec.Station) {
			names[clean(n)] = coordinates(known[n], hasPoint(known, n))
		}
	}
	var ps cgPoints
	for _, n := range slices.Sorted(maps.Keys(names)) {
		ps.Points = append(ps.Points, cgPoint{Name: n, Text: names[n]})
	}
	return ps
}

func hasPoint(known map[string]Point, name string) bool {
	_, ok := known[name]
	return ok
}

func coordinates(p Point, known bool) string {
	n, e := metresText(p.North), metresText(p.East)
	if !known || n == "" || e == "" {
		return ""
	}
	h := ""
	if p.Elev != nil {
		h = metresText(*p.Elev)
	}
	return strings.TrimSpace(n + " " + e + " " + h)
}

// surveys sorts the setups by instrument, in the order the instruments appear:
// the equipment of a Survey is one instrument.
func (f *file) surveys() [][]sheet.Sheet {
	at := map[booking.Instrument]int{}
	var surveys [][]sheet.Sheet
	for _, s := range f.sheets {
		i, ok := at[s.Setup.Spec.Instrument]
		if !ok {
			i = len(surveys)
			at[s.Setup.Spec.Instrument] = i
			surveys = append(surveys, nil)
		}
		surveys[i] = append(surveys[i], s)
	}
	return surveys
}

func (f *file) survey(number int, sheets []sheet.Sheet) {
	id := fmt.Sprintf("in%d", number)
	e := f.open("Survey", "date", sheets[0].Setup.Opened.UTC().Format(time.DateOnly))
	f.put(f.header(number, sheets))
	f.put(f.equipment(id, sheets[0].Setup.Spec.Instrument))
	for _, s := range sheets {
		f.put(f.setup(id, s))
	}
	f.close(e)
}

func (f *file) header(number int, sheets []sheet.Sheet) surveyHeader {
	h := surveyHeader{Name: clean(fmt.Sprintf("%s, instrument %d", f.binder.Title(), number)), Type: "surveyed"}
	h.Notes = append(h.Notes, "horizAngle of a raw observation and circle of a backsight are circle readings: clockwise from an arbitrary zero. No azimuth is given.")
	start, end := sheets[0].Setup.Opened, sheets[0].Setup.Opened
	seen := map[personnel]bool{}
	for _, s := range sheets {
		for _, p := range []personnel{{clean(s.Setup.Spec.Observer), "observer"}, {clean(s.Setup.Spec.Booker), "booker"}} {
			if p.Name != "" && !seen[p] {
				seen[p] = true
				h.People = append(h.People, p)
			}
		}
		if s.Setup.Opened.Before(start) {
			start = s.Setup.Opened
		}
		if t := lastTime(s.Setup); t.After(end) {
			end = t
		}
	}
	h.Surveyor = clean(sheets[0].Setup.Spec.Observer)
	h.StartTime, h.EndTime = timeText(start), timeText(end)
	return h
}

// lastTime is when the tripod was lifted, or the last reading booked.
func lastTime(s booking.Setup) time.Time {
	t := s.Opened
	if n := len(s.Readings); n > 0 {
		t = s.Readings[n-1].At
	}
	if s.Lift != nil {
		t = s.Lift.At
	}
	return t
}

func (f *file) equipment(id string, i booking.Instrument) equipment {
	d := instrumentDetails{ID: id, Model: clean(i.Name), Serial: clean(i.Serial)}
	if i.Sigma > 0 {
		d.Precision = angleText(i.Sigma, f.gon)
		d.Notes = append(d.Notes, "horizAnglePrecision is the stated standard deviation of one direction on both faces, in the angular unit of this file.")
	}
	d.Features = []feature{{Name: "instrument", Properties: []property{
		{"least count", angleText(i.LeastCount, f.gon)},
		{"unit of the circle", i.Unit.String()},
		{"vertical circle graduated from", i.Circle.String()},
	}}}
	return equipment{Details: d}
}
