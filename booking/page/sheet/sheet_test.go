package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"html"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/page"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/testdata"
	"example.org/readback/testdata/crew"
)

// goldens are the made-up setups whose sheets are kept.
func TestSheet_Golden(t *testing.T) {
	b := binder("brackenfold.book", smallSetup(t))
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 80); err != nil {
		t.Fatal(err)
	}
	golden(t, "weir.html", doc.Bytes())
	golden(t, "weir.txt", text.Bytes())
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("..", "..", "..", "testdata", "sheet", name)
	if *testdata.Update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from the golden sheet at byte %d; look at it, then run go test ./booking/page/sheet -update", name, firstDifference(got, want))
	}
}

func firstDifference(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

// Every reading stands on the sheet in both forms, struck ones marked.
func TestSheet_EveryReading(t *testing.T) {
	s := longSetup(t)
	b := binder("long.book", s)
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 80); err != nil {
		t.Fatal(err)
	}
	w := &writer{setup: s}
	struck := 0
	for _, r := range s.Readings {
		want := w.reading(r)
		inText := want
		if !r.Stands() {
			struck++
			want, inText = "<del>"+want+"</del>", "~"+want+"~"
		}
		if !strings.Contains(doc.String(), want) {
			t.Errorf("HTML lacks %s of %s", want, r.Slot)
		}
		if !strings.Contains(text.String(), inText) {
			t.Errorf("text lacks %s of %s", inText, r.Slot)
		}
	}
	if struck == 0 || strings.Count(doc.String(), "<del>") != struck {
		t.Errorf("%d readings struck, %d struck through", struck, strings.Count(doc.String(), "<del>"))
	}
	for i, l := range strings.Split(text.String(), "\n") {
		if page.Width(l) > 80 {
			t.Errorf("line %d is %d columns wide: %s", i+1, page.Width(l), l)
		}
	}
}

// Names are data wherever they stand: in the body, in the style sheet's margin
// strings and in the drawings.
func TestSheet_HostileNames(t *testing.T) {
	spec := smallSpec()
	spec.Station = `"; } </style><script>alert(1)</script>`
	spec.RO = "Sp\x1b[2Jire\u202e"
	spec.Targets = []string{"A\nB", "<b>x</b>", "字字"}
	spec.Verticals, spec.Distances, spec.CloseHalves = false, false, false
	c := crew.Open(t, 1, spec)
	c.Key("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b := binder(`a: b</title><script>\"; }.book`, c.Setup)
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 80); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"<script", "\x1b", "\u202e", "<b>x", "ZgotmplZ", "</style><"} {
		if strings.Contains(doc.String(), bad) {
			t.Errorf("HTML holds %q", bad)
		}
	}
	if strings.Count(doc.String(), "</style>") != 1 {
		t.Error("a name ends the style sheet")
	}
	for _, bad := range []string{"\x1b", "\u202e"} {
		if strings.Contains(text.String(), bad) {
			t.Errorf("text holds %q", bad)
		}
	}
	for _, want := range []string{"A␊B", "Sp␛[2Jire⟨U+202E⟩", "字字"} {
		if !strings.Contains(text.String(), want) || !strings.Contains(html.UnescapeString(doc.String()), want) {
			t.Errorf("a sheet lacks %q", want)
		}
	}
}

func TestSheet_DrillIsMarked(t *testing.T) {
	b := binder("drill.book", smallSetup(t))
	b.Sheets[0].Book.Drill = true
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 72); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(doc.String(), `content: "DRILL`) || !strings.Contains(text.String(), drillMark) {
		t.Error("the drill is not marked")
	}
}

// An empty setup, and one with no target but the RO, print without a figure.
func TestSheet_NothingBooked(t *testing.T) {
	agreed := smallSpec()
	c := crew.Open(t, 1, agreed)
	agreed.Targets, agreed.KeyedAfterwards = nil, &spec.KeyedAfterwards{By: "Tam Okoro", File: "weir.csv"}
	d := crew.Open(t, 2, agreed)
	d.Key("0 05 10")
	b := binder("empty.book", c.Setup, d.Setup, booking.Setup{})
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 80); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(doc.String(), "NaN") || strings.Contains(text.String(), "NaN") {
		t.Error("a figure that is none is printed")
	}
}

// Every element of the page is closed where it should be.
func TestSheet_IsWellFormed(t *testing.T) {
	var doc bytes.Buffer
	if err := binder("x.book", smallSetup(t), longSetup(t)).HTML(&doc); err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(&doc)
	d.Entity = xml.HTMLEntity
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// A circle in gon: readings in gon as booked, small angles in milligon.
func TestSheet_Gon(t *testing.T) {
	agreed := smallSpec()
	agreed.Targets, agreed.CloseHalves, agreed.Distances = []string{"Alder"}, false, false
	agreed.Instrument = spec.Instrument{Name: "G-1", LeastCount: reduce.Gon / 1000, Unit: reduce.GonUnit, Circle: faces.Horizon, Sigma: reduce.Gon / 1000}
	c := crew.Open(t, 1, agreed)
	c.Key("0.051", "51.234", "251.235", "200.055", "100.051", "151.236", "351.235", "300.052")
	c.Key("1.234", "398.765", "201.234", "198.768")
	b := binder("gon.book", c.Setup)
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 72); err != nil {
		t.Fatal(err)
	}
	// 2c = wrap(0.051 − 200.055 − 200) = −4 mgon (TRADE 2).
	for _, want := range []string{"351.235", "2c mgon", "Spire 0.051 200.055 −4.0", "least count 0.001 gon"} {
		if !strings.Contains(squeeze(text.String()), want) {
			t.Errorf("the sheet lacks %q:\n%s", want, text.String())
		}
	}
}

// A reading that is out is named with the sentence booking has for it.
func TestSheet_Suspects(t *testing.T) {
	spec := smallSpec()
	spec.CloseHalves, spec.Verticals, spec.Distances = false, false, false
	c := crew.Open(t, 1, spec)
	c.Key("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 55", "300 30 10", "225 10 30", "180 05 20")
	c.Key("90 05 10", "135 10 20", "210 30 00", "340 00 45", "160 00 55", "31 30 10", "315 10 30", "270 05 20")
	found := check.Suspects(c.Setup)
	if len(found) == 0 {
		t.Fatal("a whole degree is not suspected")
	}
	b := binder("x.book", c.Setup)
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 200); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{strings.TrimRight(found[0].Text, ".?"), strings.TrimSuffix(check.Culprits(c.Setup).Remedy.Text, ".")} {
		if !strings.Contains(html.UnescapeString(doc.String()), want) || !strings.Contains(squeeze(text.String()), want) {
			t.Errorf("a sheet lacks %q:\n%s", want, text.String())
		}
	}
}

// A day booked on paper is marked, and only the times written on paper are times
// of readings: when it was keyed in says nothing about them.
func TestSheet_KeyedAfterwards(t *testing.T) {
	agreed := smallSpec()
	agreed.Targets, agreed.CloseHalves, agreed.Verticals, agreed.Distances = []string{"Alder"}, false, false, false
	agreed.KeyedAfterwards = &spec.KeyedAfterwards{By: "Tam Okoro", File: "day.csv"}
	c := crew.Open(t, 1, agreed)
	for _, at := range []string{"2026-05-01T09:30:00Z", ""} {
		e, err := check.Read(c.Setup, programme.Expect(c.Setup).Slot, "0 05 10", true, check.Known{})
		e.ReadAt = at
		c.Do(e, err)
	}
	c.Strike("not legible")
	b := binder("x.book", c.Setup)
	var doc, text bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 120); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"keyed by Tam Okoro from day.csv on 4 May 2026, 08:00 UTC", "FL 09:30", "Fri 1 May 2026, 09:30 UTC", "Struck Tam Okoro: not legible."} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the sheet lacks %q:\n%s", want, text.String())
		}
	}
	if n := strings.Count(doc.String(), "KEYED"); n != 1 || !strings.Contains(doc.String(), "Nothing was checked while the tripod stood.") {
		t.Error("margin and banner do not say that it was keyed afterwards")
	}
	for _, wrong := range []string{"08:00:", "08:01", "To settle it"} {
		if strings.Contains(text.String(), wrong) {
			t.Errorf("%q is of the keying, not of the observing:\n%s", wrong, text.String())
		}
	}
}

// A setup that cannot be read ends the sheet with the error, whichever form it has; and a
// binder that walks its setups gives what one that holds them gives.
func TestSheet_Walks(t *testing.T) {
	b := binder("brackenfold.book", smallSetup(t), longSetup(t))
	walked, bad := b, errors.New("the disk is gone")
	broken := b
	walked.Sheets, walked.Walk = nil, b.each()
	broken.Walk = func(yield func(Sheet, error) bool) { _ = yield(b.Sheets[0], nil) && yield(Sheet{}, bad) }
	for form, write := range map[string]func(Binder, io.Writer) error{
		"HTML": Binder.HTML, "text": func(b Binder, w io.Writer) error { return b.Text(w, 80) },
	} {
		var held, read strings.Builder
		if err := errors.Join(write(b, &held), write(walked, &read)); err != nil || held.String() != read.String() {
			t.Errorf("%s: a walked binder differs: %v", form, err)
		}
		if err := write(broken, io.Discard); !errors.Is(err, bad) {
			t.Errorf("%s: a setup that cannot be read is not an error: %v", form, err)
		}
	}
}
