package landxml

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/day"
	"example.org/readback/booking/page/sheet"
	"example.org/readback/reduce"
	"example.org/readback/testdata/crew"
)

func written(t *testing.T, d Document) string {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, d); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// cases are files that between them use everything that is written.
func cases(t *testing.T) map[string]string {
	h := 101.25
	drill := document()
	drill.Sheets = walk([]sheet.Sheet{{Book: day.Book{Drill: true}, Setup: mast(t)}})
	two := document(weir(t), mast(t))
	two.Points = map[string]Point{"Weir": {North: 1000.5, East: 2000.25, Elev: &h, Local: true, LocalElev: true}, "Alder": {North: math.NaN()}, "Spire": {North: 3, East: 4}}
	odd := weirSpec()
	odd.Station, odd.RO, odd.Targets = "1 <&\"'> \n\t字", "Sp\x01ire", []string{"a b", "\u202e", "\xff"}
	empty := crew.Open(t, 3, odd).Setup
	return map[string]string{
		"two instruments": written(t, two),
		"gon only":        written(t, drill),
		"nothing booked":  written(t, document(empty, booking.Setup{})),
		"no setups":       written(t, document()),
	}
}

func TestWrite_FollowsTheSchema(t *testing.T) {
	for name, doc := range cases(t) {
		t.Run(name, func(t *testing.T) { validate(t, doc) })
	}
}

// validate holds files against the published schema with xmllint, which is not
// part of the project: the test skips where it, or the schema, is missing.
func validate(t *testing.T, docs ...string) {
	t.Helper()
	xmllint, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("xmllint is not installed: apt-get install libxml2-utils")
	}
	schema, err := filepath.Abs(filepath.Join("..", "..", "..", "..", "shared", "schema", "LandXML-1.2.xsd"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(schema); err != nil {
		t.Skip("the schema LandXML-1.2.xsd is not in ../shared/schema beside the repository")
	}
	dir := t.TempDir()
	args := []string{"--noout", "--schema", schema}
	for i, doc := range docs {
		name := filepath.Join(dir, fmt.Sprintf("%d.xml", i+1))
		if err := os.WriteFile(name, []byte(doc), 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, name)
	}
	if len(docs) == 0 {
		return
	}
	if msg, err := exec.Command(xmllint, args...).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, grepFaults(string(msg)))
	}
}

// grepFaults leaves out the files that are valid.
func grepFaults(msg string) string {
	var out []string
	for _, l := range strings.Split(msg, "\n") {
		if !strings.HasSuffix(l, " validates") {
			out = append(out, l)
		}
	}
	return strings.Join(out[:min(len(out), 20)], "\n")
}

func TestWrite_WhatTheSchemaLetsPass(t *testing.T) {
	for name, doc := range cases(t) {
		if err := faultIn(doc); err != nil {
			t.Errorf("%s: %v\n%s", name, err, doc)
		}
	}
}

// Each fault put into a good file is found, so that a pass means something. The
// list is what a schema validator was seen to let pass.
func TestCheck_FindsFaults(t *testing.T) {
	good := written(t, document(weir(t)))
	if err := faultIn(good); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string][2]string{
		"dangling identity":    {`instrumentDetailsID="in1"`, `instrumentDetailsID="in9"`},
		"dangling setup":       {`setupID="st1"`, `setupID="st7"`},
		"no number":            {`instrumentHeight="1.523"`, `instrumentHeight="NaN"`},
		"infinite":             {`slopeDistance="512.34"`, `slopeDistance="INF"`},
		"99 seconds":           {`horizAngle="45.1025"`, `horizAngle="45.1099"`},
		"60 minutes":           {`horizAngle="45.1025"`, `horizAngle="45.6000"`},
		"one digit of seconds": {`horizAngle="45.1025"`, `horizAngle="45.102"`},
		"no units":             {`angularUnit="decimal dd.mm.ss"`, ``},
		"point twice":          {`<CgPoint name="Alder">`, `<CgPoint name="Spire">`},
		"point not there":      {`pntRef="Alder"`, `pntRef="Elder"`},
		"time without zone":    {`timeStamp="2026-05-04T17:30:00Z"`, `timeStamp="2026-05-04T17:30:00"`},
		"identity twice":       {`id="g2"`, `id="g1"`},
		"other namespace":      {`<CgPoint name="Alder">`, `<CgPoint name="Alder" xmlns="urn:x">`},
	} {
		bad := strings.Replace(good, change[0], change[1], 1)
		if bad == good {
			t.Errorf("%s: %s is not in the file", name, change[0])
		} else if err := faultIn(bad); err == nil {
			t.Errorf("%s is not found", name)
		}
	}
}

// What was booked stands in the file: one raw observation a reading, faces as the
// schema means them, struck readings kept.
func TestWrite_Readings(t *testing.T) {
	s := weir(t)
	doc := written(t, document(s))
	raw, struck := 0, 0
	for _, r := range s.Readings {
		if r.Slot.Quantity.Angular() {
			raw++
		}
		if !r.Stands() {
			struck++
		}
	}
	if got := strings.Count(doc, "<RawObservation "); got != raw {
		t.Errorf("%d raw observations of %d circle readings", got, raw)
	}
	if got := strings.Count(doc, `unused="true"`); got != struck || strings.Count(doc, `status="deleted"`) != struck {
		t.Errorf("%d unused of %d struck", got, struck)
	}
	for _, want := range []string{
		`setID="1" horizAngle="45.102" unused="true" directFace="true"`,
		`horizAngle="225.1035" directFace="false"`,
		`targetHeight="1.6" slopeDistance="512.34" zenithAngle="88.201" directFace="true"`,
		`<Backsight circle="0.0515">`,
		`horizAnglePrecision="0.0002"`,
		`<Property label="keyed" value="45 10 25"></Property>`,
		`wrong edge &amp; ␇ &lt;bell&gt;`,
	} {
		want = strings.NewReplacer(`"45.102"`, `"45.1020"`, `"88.201"`, `"88.2010"`).Replace(want)
		if !strings.Contains(doc, want) {
			t.Errorf("the file lacks %s", want)
		}
	}
	if t.Failed() {
		t.Log(doc)
	}
}

func TestWrite_HeightNotMeasuredIsSaid(t *testing.T) {
	doc := written(t, document(mast(t)))
	if !strings.Contains(doc, `instrumentHeight="0"`) || !strings.Contains(doc, "The instrument height was not measured") {
		t.Error("0 stands for a height without a word about it")
	}
	// A horizon circle: V = 1.2345 gon on face left is a zenith angle of 98.7655,
	// 198.7655 on face right one of 301.2345 (TRADE: α = V, α = 200 − V).
	for _, want := range []string{`zenithAngle="98.7655" directFace="true"`, `zenithAngle="301.2345" directFace="false"`, `angularUnit="grads"`} {
		if !strings.Contains(doc, want) {
			t.Errorf("the file lacks %s\n%s", want, doc)
		}
	}
}

func TestAngleText(t *testing.T) {
	for _, c := range []struct {
		a    reduce.Angle
		gon  bool
		want string
	}{
		{45*reduce.Degree + 30*reduce.Arcminute + 25*reduce.Arcsecond, false, "45.3025"}, // the schema's own example
		{12500 * reduce.Arcsecond / 1000, false, "0.00125"},
		{0, false, "0.0000"},
		{reduce.Turn - 1, false, "359.5959999999"},
		{59*reduce.Arcsecond + 950_000, false, "0.005995"},
		{reduce.Gon, true, "1"},
		{reduce.Gon + reduce.Gon/10000, true, "1.0001"},
		{0, true, "0"},
	} {
		if got := angleText(c.a, c.gon); got != c.want {
			t.Errorf("%d: %s, want %s", c.a, got, c.want)
		}
	}
}

func TestWrite_IsWellFormed(t *testing.T) {
	for name, doc := range cases(t) {
		var any struct{}
		if err := xml.Unmarshal([]byte(doc), &any); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A book that cannot be read to its end gives an error, not half a file that
// looks whole.
func TestWrite_ErrorOfTheWalk(t *testing.T) {
	damaged := errors.New("damaged")
	for after := range 4 {
		d := document(weir(t))
		whole := d.Sheets
		walks := 0
		d.Sheets = func(yield func(sheet.Sheet, error) bool) {
			walks++
			for s, err := range whole {
				if walks > after/2 && after%2 == 0 {
					err = damaged
				}
				if !yield(s, err) {
					return
				}
			}
			if walks > after/2 {
				yield(sheet.Sheet{}, damaged)
			}
		}
		if err := Write(io.Discard, d); !errors.Is(err, damaged) {
			t.Errorf("after %d: %v", after, err)
		}
	}
}
