package exchange

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// written returns setups as a readings file.
func written(t testing.TB, setups ...booking.Setup) string {
	t.Helper()
	var b bytes.Buffer
	w := NewWriter(&b)
	for _, s := range setups {
		s.Spec.Observer, s.Spec.Booker = "", "" // a file read back does not say who observed
		if err := w.Setup(s, Source{}); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// papers reads a readings file into setups.
func papers(t testing.TB, text string) []Paper {
	t.Helper()
	f, err := readAll(strings.NewReader(text), "test.csv")
	if err != nil {
		t.Fatal(err)
	}
	ps, err := f.papers(Options{})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return ps
}

func setups(t testing.TB, text string) []booking.Setup {
	t.Helper()
	var ss []booking.Setup
	for _, p := range papers(t, text) {
		s, err := p.Setup()
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		ss = append(ss, s)
	}
	return ss
}

// A crew books a setup as on the instrument.
type crew struct {
	t   *testing.T
	s   booking.Setup
	seq uint64
}

func newCrew(t *testing.T, change func(*spec.Spec)) *crew {
	lc := 5 * reduce.Arcsecond
	spec := spec.Spec{
		Station: "Weir", RO: "Spire", Targets: []string{"Alder", "Quarry"},
		Instrument: spec.Instrument{Name: "T-5", Serial: "4471", LeastCount: lc, Unit: reduce.DMS, Circle: faces.Zenith},
		Observer:   "Ines Holm", Booker: "Tam Okoro", Rounds: 2, Plan: spec.FreePlan, CloseHalves: true,
		ClosingRule: faces.ClosingMean, Limits: spec.DefaultLimits(lc), LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction,
	}
	if change != nil {
		change(&spec)
	}
	c := &crew{t: t}
	open, err := booking.Open(spec)
	c.do(open, err)
	return c
}

func (c *crew) do(e event.Event, err error) uint64 {
	c.t.Helper()
	if err != nil {
		c.t.Fatal(err)
	}
	c.seq++
	at := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC).Add(time.Duration(c.seq) * 20 * time.Second)
	if c.s, err = c.s.Apply(event.Entry{Seq: c.seq, At: at, Setup: 1, Event: e}); err != nil {
		c.t.Fatal(err)
	}
	return c.seq
}

// key books readings at the pointings that are called.
func (c *crew) key(texts ...string) (seq uint64) {
	c.t.Helper()
	for _, text := range texts {
		e, err := check.Read(c.s, programme.Expect(c.s).Slot, text, true, check.Known{})
		seq = c.do(e, err)
	}
	return seq
}

func (c *crew) strike(seq uint64, why string) {
	c.t.Helper()
	e, err := c.s.Strike(seq, why)
	c.do(e, err)
}

// What was exported reads back to the same reductions, and exports to the same
// file again: every reading, struck ones too, in every turn a day can take.
func TestExportReadsBack(t *testing.T) {
	days := map[string]func(c *crew){
		"a target hidden on face left and read later in the half": func(c *crew) {
			c.key("01225")
			skip, err := c.s.Skip(programme.Expect(c.s).Slot, false, "haze")
			c.do(skip, err)
			c.key("1330745", "01230", "0483110", "1801240", "3130755", "2283120", "1801235")
			c.key("901405", "1383250", "2230925", "901405", "2701415", "430935", "3183305", "2701420")
		},
		"several reference objects": func(c *crew) {
			spec := c.s.Spec
			spec.MoreROs = []string{"Quarry"}
			e, err := c.s.Amend(spec, nil, "")
			c.do(e, err)
			c.key("01225", "0483110", "1330745", "01230", "1330750", "3130750", "1801240", "3130755", "2283120", "1801235")
			struck := c.key("901405", "1383250", "2230925", "901405", "2230930", "430930")
			c.strike(struck, "wrong edge")
			c.key("430930", "2701415", "430935", "3183305", "2701420")
		},
		"one angle by repetition, a sum read again": func(c *crew) {
			agreed := c.s.Spec
			agreed.Targets, agreed.CloseHalves, agreed.Order, agreed.Repetitions = agreed.Targets[:1], false, spec.ByRepetition, 6
			e, err := c.s.Amend(agreed, nil, "")
			c.do(e, err)
			c.key("01225", "0483110")
			c.strike(c.key("2900500"), "misread")
			c.key("2900655", "1801240", "2283120", "1100650")
			c.key("901405", "1383250", "200840", "2701415", "3183305", "2000900")
			e2, err := c.s.LeaveOut(2, "a trial")
			c.do(e2, err)
			c.key("1801405", "2283250", "1100840", "01415", "0483305", "2900905")
			e3, err := c.s.AgainHalf(3, faces.FR)
			c.do(e3, err)
			c.key("01420", "0483305", "2900910")
		},
		"two closed rounds": func(c *crew) {
			c.key("01225", "0483110", "1330745", "01230", "1801240", "3130755", "2283120", "1801235")
			c.key("901405", "1383250", "2230925", "901405", "2701415", "430935", "3183305", "2701420")
		},
		"opening sight struck at the end of the half and read again": func(c *crew) {
			first := c.key("01225")
			c.key("0483110", "1330745", "01230")
			c.strike(first, "wrong edge")
			c.key("01235", "1801240", "3130755", "2283120", "1801235")
		},
		"closing sight of face right struck after the opening one": func(c *crew) {
			c.key("01225", "0483110", "1330745", "01230")
			first := c.key("1801240")
			c.key("3130755", "2283120", "1801235")
			c.strike(first, "wrong edge")
			c.key("1801250")
		},
		"left in the middle of face right": func(c *crew) {
			c.key("01225", "0483110", "1330745", "01230", "1801240", "3130755")
		},
		"a target struck twice": func(c *crew) {
			c.key("01225")
			c.strike(c.key("0483111"[:6]+"0"), "misread")
			c.strike(c.key("0483120"), "misread again")
			c.key("0483110", "1330745", "01230", "1801240", "3130755", "2283120", "1801235")
		},
		"a void round": func(c *crew) {
			c.key("01225", "0483110", "1330745", "01230", "1801240")
			e, err := c.s.VoidRound(programme.Expect(c.s).Slot, "tripod knocked")
			c.do(e, err)
			c.key("01325", "0483210", "1330845", "01330", "1801340", "3130855", "2283220", "1801335")
			c.key("901405", "1383250", "2230925", "901405", "2701415", "430935", "3183305", "2701420")
		},
		"a round left out": func(c *crew) {
			c.key("01225", "0483110", "1330745", "01230", "1801240", "3130755", "2283120", "1801235")
			c.key("901405", "1383350", "2230925", "901405", "2701415", "430935", "3183405", "2701420")
			c.key("1801405", "2283250", "3130925", "1801405", "01415", "1330935", "0483305", "01420")
			e, err := c.s.LeaveOut(2, "Alder a minute off on both faces")
			c.do(e, err)
		},
		"the reference object hidden at first": func(c *crew) {
			e, err := c.s.Skip(programme.Expect(c.s).Slot, false, "lorry")
			c.do(e, err)
			c.key("0483110", "1330745", "01230", "01225", "1801240", "3130755", "2283120", "1801235")
			c.key("901405", "1383250", "2230925", "901405", "2701415", "430935", "3183305", "2701420")
		},
		"a target hidden in the first round": func(c *crew) {
			c.key("01225")
			for range 2 {
				e, err := c.s.Skip(programme.Expect(c.s).Slot, true, "crane")
				c.do(e, err)
				c.key("1330745", "01230", "1801240", "3130755")
				e, err = c.s.Skip(programme.Expect(c.s).Slot, true, "crane")
				c.do(e, err)
				break
			}
			c.key("1801235")
			c.key("901405", "1383250", "2230925", "901405", "2701415", "430935", "3183305", "2701420")
		},
	}
	for name, day := range days {
		t.Run(name, func(t *testing.T) {
			c := newCrew(t, nil)
			day(c)
			text := written(t, c.s)
			back := setups(t, text)[0]
			if again := written(t, back); again != text {
				t.Errorf("exported again:\n%s\nwas\n%s", again, text)
			}
			same(t, c.s, back)
		})
	}
}

// same holds the reductions of two setups to each other.
func same(t *testing.T, a, b booking.Setup) {
	t.Helper()
	if !reflect.DeepEqual(a.Spec.Names(), b.Spec.Names()) {
		t.Fatalf("names %v, back %v", a.Spec.Names(), b.Spec.Names())
	}
	ra, rb := reduction.Of(a), reduction.Of(b)
	if !reflect.DeepEqual(ra.Directions, rb.Directions) || ra.S0 != rb.S0 || ra.Dof != rb.Dof || !reflect.DeepEqual(ra.TwoC, rb.TwoC) {
		t.Errorf("reductions differ:\n%+v\n%+v", ra, rb)
	}
	for i := range ra.Rounds {
		if ra.Rounds[i].Used() != rb.Rounds[i].Used() || ra.Rounds[i].RO != rb.Rounds[i].RO || ra.Rounds[i].Complete != rb.Rounds[i].Complete ||
			!reflect.DeepEqual(ra.Rounds[i].Closings, rb.Rounds[i].Closings) {
			t.Errorf("round %d differs:\n%+v\n%+v", i+1, ra.Rounds[i], rb.Rounds[i])
		}
	}
	if va, vb := check.Judge(a), check.Judge(b); !reflect.DeepEqual(va, vb) {
		t.Errorf("verdict differs:\n%+v\n%+v", va, vb)
	}
}

// Heights, distances, remarks, and names that a spreadsheet would take for
// formulas.
func TestExportReadsBack_Everything(t *testing.T) {
	c := newCrew(t, func(s *spec.Spec) {
		s.Targets = []string{"=2+3", "'-x", "Böschung, \"oben\""}
		s.Verticals, s.Distances, s.CloseHalves = true, true, false
	})
	e, err := check.Read(c.s, spec.Slot{Quantity: spec.InstrumentHeight}, "1.562", false, check.Known{})
	c.do(e, err)
	for range 2 {
		seq := c.key("01225", "0483110", "1330745", "2000000", "200005"[:1]+"00005", "3130755", "2283120", "1801235")
		r, err := c.s.Remark(seq, "@first line\nsecond line")
		c.do(r, err)
		r, err = c.s.Remark(seq, "and another")
		c.do(r, err)
	}
	for programme.Expect(c.s).Phase == programme.InVerticals {
		if programme.Expect(c.s).Slot.Face == faces.FL {
			c.key("883010")
		} else {
			c.key("2712940")
		}
	}
	for programme.Expect(c.s).Phase == programme.InDistances {
		c.key("142.3185")
	}
	e, err = check.Read(c.s, spec.Slot{Quantity: spec.InstrumentHeight, Closing: true}, "1.561", false, check.Known{})
	c.do(e, err)
	again := func(k spec.Slot, text string) uint64 {
		k, err := c.s.Again(k)
		if err != nil {
			t.Fatal(err)
		}
		e, err := check.Read(c.s, k, text, true, check.Known{})
		return c.do(e, err)
	}
	again(spec.Slot{Quantity: spec.Slope, Target: "=2+3"}, "142.3195")
	wrong := again(spec.Slot{Quantity: spec.Slope, Target: "=2+3"}, "142.4185")
	out, err := c.s.LeaveOutReading(wrong, "the prism was turned away")
	c.do(out, err)
	again(spec.Slot{Quantity: spec.InstrumentHeight}, "1.563")
	again(spec.Slot{Quantity: spec.Vertical, Face: faces.FR, Target: "'-x"}, "2712930")
	c.key("883020")
	text := written(t, c.s)
	back := setups(t, text)[0]
	if again := written(t, back); again != text {
		t.Errorf("exported again:\n%s\nwas\n%s", again, text)
	}
	same(t, c.s, back)
	va, vb := reduction.Of(c.s).Verticals, reduction.Of(back).Verticals
	if reduction.Repeats(c.s)[2].N != 2 || !reflect.DeepEqual(len(reduction.Repeats(c.s)), len(reduction.Repeats(back))) {
		t.Errorf("repeats %+v, %+v", reduction.Repeats(c.s), reduction.Repeats(back))
	}
	if len(va) != 4 || len(vb) != 4 || va[1].Rise != vb[1].Rise || !va[1].HasRise || va[2].Index != vb[2].Index {
		t.Errorf("verticals differ:\n%+v\n%+v", va, vb)
	}
	for _, dangerous := range []string{",=", ",-", ",+", ",@", "\"@", "\"="} {
		if strings.Contains(text, dangerous) {
			t.Errorf("a spreadsheet takes %q for a formula:\n%s", dangerous, text)
		}
	}
}

// A half observed again, a single sight of the RO that closes its half read again,
// and a half left out come back as they were.
func TestExportReadsBack_AHalfAgain(t *testing.T) {
	c := newCrew(t, nil)
	half := func(face faces.Face) {
		e, err := c.s.AgainHalf(1, face)
		c.do(e, err)
	}
	c.key("01225", "0483110", "1330745", "01230")
	half(faces.FL)
	c.key("01230", "0483115", "1330740", "01225")
	c.key("1801240", "3130755", "2283120", "1801235")
	half(faces.FR)
	c.key("1801250", "3130815", "2283135", "1801250")
	half(faces.FR)
	c.key("1801235", "3130750", "2283125", "1801240")
	out, err := c.s.LeaveOutHalf(1, faces.FR, 1, "a gust of wind")
	if err != nil || len(out) != 4 {
		t.Fatal(out, err)
	}
	for _, e := range out {
		c.do(e, nil)
	}
	k, err := c.s.Again(spec.Slot{Quantity: spec.Horizontal, Round: 1, Face: faces.FL, Target: c.s.Spec.RO, Closing: true})
	if err != nil {
		t.Fatal(err)
	}
	e, err := check.Read(c.s, k, "01235", false, check.Known{})
	c.do(e, err)
	text := written(t, c.s)
	back := setups(t, text)[0]
	if again := written(t, back); again != text || !strings.Contains(text, ",1c closing,FL,") {
		t.Errorf("exported again:\n%s\nwas\n%s", again, text)
	}
	same(t, c.s, back)
	halves := reduction.RepeatedHalves(back)
	if len(halves) != 2 || len(halves[0].Sights) != 4 || len(halves[1].Sights) != 4 || len(halves[0].Sights[3].Readings) != 3 {
		t.Errorf("%+v\n%s", halves, text)
	}
	// The mean of 0°12′30″, 25″ and 35″, and its spread, by hand.
	if w := halves[0].Sights[3]; w.Mean.Angle() != 12*reduce.Arcminute+30*reduce.Arcsecond || w.Spread != 10*reduce.Arcsecond {
		t.Errorf("mean %v, spread %v", w.Mean, w.Spread)
	}
}

// The example files say the same when they are written and read again.
func TestExamplesReadBack(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "readings", "*.csv"))
	if err != nil || len(files) < 8 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		first := setups(t, string(text))
		once := written(t, first...)
		second := setups(t, once)
		if twice := written(t, second...); once != twice {
			t.Errorf("%s: written twice:\n%s\nwas\n%s", file, twice, once)
		}
		for i := range first {
			same(t, first[i], second[i])
		}
	}
}

// Quoted cells may be written with decimal commas; written again they have full
// stops, and the values are the same.
func TestDecimalCommas(t *testing.T) {
	const head = "setup,station,round,face,target,quantity,reading,unit\n"
	comma := head + "1,Weir,1,FL,Spire,horizontal,\"12,3456\",gon\n1,Weir,1,FR,Spire,horizontal,\"212,3458\",gon\n1,Weir,,,Spire,slope,\"120,502\",m\n"
	var got []string
	for _, r := range rows(setups(t, comma)[0]) {
		got = append(got, r.Text)
	}
	if want := "12.3456 212.3458 120.502"; strings.Join(got, " ") != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// An amended setup keeps every reading and its reductions in the file; what was put right
// stands as a remark on the reading before it, and is there again when it is read back.
func TestAmended_IsWrittenAsARemark(t *testing.T) {
	c := newCrew(t, func(s *spec.Spec) { s.RO = "Spier" })
	c.key("000510", "451020", "1200010")
	agreed := c.s.Spec
	agreed.RO = "Spire"
	e, err := c.s.Amend(agreed, []spec.Rename{{From: "Spier", To: "Spire"}}, "misspelt")
	c.do(e, err)
	c.key("000515", "1800520", "3000015", "2251025", "1800525")
	text := written(t, c.s)
	back := setups(t, text)[0]
	if again := written(t, back); again != text {
		t.Errorf("exported again:\n%s\nwas\n%s", again, text)
	}
	same(t, c.s, back)
	lines := strings.Split(text, "\r\n")
	if len(back.Readings) != 8 || !strings.Contains(lines[3], "The setup was amended: Spier is now Spire. Reason: misspelt") || strings.Count(text, "Spier") != 1 {
		t.Error(text)
	}
}

// A setup struck as a whole keeps its struck readings in the file and says why; read back
// none is lost and none stands. The setup after it keeps its number.
func TestStruckWhole_KeepsItsStruckReadings(t *testing.T) {
	c := newCrew(t, nil)
	c.key("000510")
	e, err := c.s.Strike(c.s.Readings[0].Seq, "wrong mark")
	c.do(e, err)
	v, err := c.s.StrikeWhole("opened by mistake")
	c.do(v, err)
	next := newCrew(t, nil)
	next.key("000510", "451020", "1200010", "000515")
	next.s.Number = 3
	text := written(t, c.s, next.s)
	if lines := strings.Split(text, "\r\n"); !strings.Contains(lines[1], "wrong mark,The setup was struck as a whole: opened by mistake") {
		t.Error(text)
	}
	back := setups(t, text)
	if len(back) != 2 || len(back[0].Readings) != 1 || back[0].Readings[0].Struck == nil || len(back[1].Readings) != 4 {
		t.Fatalf("%+v", back)
	}
	if again := written(t, back[0]); !strings.HasPrefix(text, strings.TrimSuffix(again, "\r\n")) {
		t.Errorf("exported again:\n%s\nwas\n%s", again, text)
	}
}
