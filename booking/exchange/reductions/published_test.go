package reductions

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/exchange"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/testdata"
)

// open reads the setups of a file in testdata/readings; SOURCES.md there names
// where its figures were printed.
func open(t *testing.T, name string, o exchange.Options) []booking.Setup {
	t.Helper()
	in, err := os.Open(filepath.Join("..", "..", "..", "testdata", "readings", name))
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	info, err := in.Stat()
	if err != nil {
		t.Fatal(err)
	}
	f, err := exchange.Open(in, info.Size(), name)
	if err != nil {
		t.Fatal(err)
	}
	var setups []booking.Setup
	for i := range f.Len() {
		p, err := f.Reader().Paper(i, o)
		if err != nil {
			t.Fatal(err)
		}
		s, err := p.Setup()
		if err != nil {
			t.Fatal(err)
		}
		setups = append(setups, s)
	}
	return setups
}

func dms(t *testing.T, text string) reduce.Angle {
	t.Helper()
	return testdata.Parsed(t, reduce.ParseDMS, text)
}

// near holds a figure against a printed one: half a unit of its last digit.
func near(t *testing.T, what string, got *Number, want, lastDigit float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s is missing, want %v", what, want)
		return
	}
	if math.Abs(float64(*got)-want) > lastDigit/2+1e-9 {
		t.Errorf("%s = %v, want %v", what, *got, want)
	}
}

func TestPublishedDirections(t *testing.T) {
	tests := []struct {
		file string
		lc   exchange.Decimal
		want map[string]string // printed final directions
		s0   float64           // seconds, 0: not given
		last float64           // last digit of s0
		dof  int
	}{
		// F16: printed directions; s0 recomputed by the definition of ISO 17123-3 (from memory)
		{"F16-closed-horizon.csv", "6", map[string]string{"B": "60 20 39", "C": "225 16 24", "D": "290 11 57"}, 14.49, 0.01, 3},
		{"F16-closed-horizon.csv", "", map[string]string{"B": "60 20 39", "C": "225 16 24", "D": "290 11 57"}, 14.49, 0.01, 3},
		{"F16-as-observed.csv", "", map[string]string{"B": "60 20 39", "C": "225 16 24", "D": "290 11 57"}, 14.49, 0.01, 3},
		{"F16-faces-in-turn.csv", "", map[string]string{"B": "60 20 39", "C": "225 16 24", "D": "290 11 57"}, 14.49, 0.01, 3},
		// S13: recomputed by independent least squares; the plain mean would give C 225 16 36
		{"S13-incomplete.csv", "", map[string]string{"B": "60 20 39", "C": "225 16 22", "D": "290 11 57"}, 17.664, 0.001, 2},
		{"S13-third-round.csv", "", map[string]string{"B": "60 20 39.171", "C": "225 16 22.971", "D": "290 11 57"}, 12.504, 0.001, 4},
		// F17: one round
		{"F17-one-round.csv", "", map[string]string{"B": "69 19 12"}, 0, 0, 0},
		// F24, both versions; s0 recomputed
		{"F24-large-collimation.csv", "", map[string]string{"Y": "17 18 35", "Z": "83 55 10"}, 7.07, 0.01, 2},
		{"two-rounds.csv", "10", map[string]string{"B": "17 18 35", "C": "83 55 10"}, 7.07, 0.01, 2},
		// CIVE 316, University of Washington
		{"average-angle.csv", "1", map[string]string{"C": "20 10 13"}, 0, 0, 0},
	}
	for _, tt := range tests {
		t.Run(tt.file+" "+string(tt.lc), func(t *testing.T) {
			j := Of(open(t, tt.file, exchange.Options{LeastCount: tt.lc})[0], true)
			if len(j.Directions) != len(tt.want) {
				t.Fatalf("directions %+v", j.Directions)
			}
			for _, d := range j.Directions {
				got := Number(float64(d.DirectionDeg) * 3600)
				last := 1.0
				if tt.file == "S13-third-round.csv" {
					last = 0.001
				}
				near(t, "direction of "+d.Target, &got, dms(t, tt.want[d.Target]).Seconds(), last)
			}
			if *j.Dof != tt.dof {
				t.Errorf("dof %d, want %d", *j.Dof, tt.dof)
			}
			if tt.s0 == 0 {
				if j.SDDirection != nil || j.Directions[0].SD != nil || j.Directions[0].Spread != nil || j.Directions[0].Agrees != nil {
					t.Errorf("one round has a spread or a standard deviation: %+v", j)
				}
				return
			}
			near(t, "s0", j.SDDirection, tt.s0, tt.last)
		})
	}
}

// F16: 2c and means of the pairs, closing included, however the file lists face
// right; F24: the large collimation must not move the means.
func TestPublishedPairs(t *testing.T) {
	f16 := [][]struct {
		twoC float64
		mean string
	}{
		{{-6, "0 02 33"}, {-6, "60 23 39"}, {-12, "225 19 12"}, {6, "290 14 51"}, {-6, "0 02 39"}},
		{{6, "90 03 27"}, {18, "150 23 39"}, {12, "315 19 36"}, {6, "20 15 03"}, {6, "90 03 21"}},
	}
	for _, file := range []string{"F16-closed-horizon.csv", "F16-as-observed.csv", "F16-faces-in-turn.csv"} {
		j := Of(open(t, file, exchange.Options{})[0], true)
		for i, round := range f16 {
			if n := len(j.Rounds[i].Pointings); n != len(round) {
				t.Fatalf("%s: round %d has %d pointings", file, i+1, n)
			}
			for k, want := range round {
				p := j.Rounds[i].Pointings[k]
				near(t, file+" 2c of "+p.Target, p.TwoC, want.twoC, 1)
				mean := Number(float64(*p.Mean) * 3600)
				near(t, file+" mean of "+p.Target, &mean, dms(t, want.mean).Seconds(), 1e-3)
				if p.Closing != (k == 4) {
					t.Errorf("%s: pointing %d: closing is %v", file, k, p.Closing)
				}
			}
		}
	}
	j := Of(open(t, "two-rounds.csv", exchange.Options{})[0], true)
	for i, round := range [][]string{{"0 04 10", "17 22 40", "83 59 25"}, {"45 13 00", "62 31 40", "129 08 05"}} {
		for k, want := range round {
			mean := Number(float64(*j.Rounds[i].Pointings[k].Mean) * 3600)
			near(t, "mean", &mean, dms(t, want).Seconds(), 1e-3)
		}
	}
}

// F16: spreads of 48″, 24″ and 36″ fail a limit of 24″ for B and D only.
func TestPublishedRejection(t *testing.T) {
	s := open(t, "F16-closed-horizon.csv", exchange.Options{LeastCount: "6", Rounds: "24", LimitsFrom: "a test"})[0]
	j := Of(s, true)
	for i, want := range []struct {
		spread float64
		agrees bool
	}{{48, false}, {24, true}, {36, false}} {
		near(t, "spread", j.Directions[i].Spread, want.spread, 1)
		if *j.Directions[i].Agrees != want.agrees {
			t.Errorf("%s agrees: %v", j.Directions[i].Target, *j.Directions[i].Agrees)
		}
	}
	if j.Verdict != "hold" || len(j.Reasons) < 2 {
		t.Errorf("verdict %s, %q", j.Verdict, j.Reasons)
	}
}

// S5, the other published closing rule, on F16 round 1; recomputed with as many
// intervals as the round has directions.
func TestPublishedSpreadRule(t *testing.T) {
	j := Of(open(t, "F16-closed-horizon.csv", exchange.Options{ClosingRule: faces.ClosingSpread})[0], true)
	for i, want := range []string{"60 21 04.5", "225 16 36", "290 12 13.5"} {
		got := Number(float64(*j.Rounds[0].Pointings[i+1].Direction) * 3600)
		near(t, "direction", &got, dms(t, want).Seconds(), 0.1)
	}
}

func TestPublishedVerticals(t *testing.T) {
	noCurvature := 1.0 // the sources leave curvature and refraction out
	o := exchange.Options{Refraction: &noCurvature}
	foot := 0.3048
	j := Of(open(t, "vertical-pair.csv", o)[0], false) // structural.community 233: +20 01 45, sum 360 00 30
	near(t, "altitude", j.Verticals[0].AltitudeDeg, 20+1.0/60+45.0/3600, 1.0/3600)
	near(t, "index", j.Verticals[0].Index, 15, 1)
	if j.Verticals[0].Altitude != "20°01′45.0″" || j.Reference != "" {
		t.Errorf("%+v", j)
	}
	j = Of(open(t, "F5-index-error.csv", o)[0], false) // Mahun: each reading is corrected by +4 00 00 to 70 and 290
	near(t, "altitude", j.Verticals[0].AltitudeDeg, 20, 1.0/3600)
	near(t, "index", j.Verticals[0].Index, -4*3600, 1)
	f27 := open(t, "F27-zenith-pairs.csv", o) // R27, recomputed: zenith angle, correction to each reading
	for i, want := range []struct {
		zenith     string
		correction float64
	}{{"88 51 00", -10}, {"89 44 25", 11}, {"83 06 52", 40}, {"88 49 19", -8}, {"90 01 55.5", -17.5}} {
		v := Of(f27[i], false).Verticals[0]
		near(t, "altitude", v.AltitudeDeg, 90-dms(t, want.zenith).Degrees(), 0.1/3600)
		near(t, "index", v.Index, -want.correction, 0.1)
	}
	q3 := Of(f27[3], false).Verticals[0] // elevation 3910.71 → 3925.969 ft
	near(t, "height difference", q3.Rise, (3925.969-3910.71)*foot, 0.001*foot)
	near(t, "slope", q3.Slope, 821.45*foot, 0.001)
	q4 := Of(f27[4], false).Verticals[0] // V −0.1050 ft before the heights
	near(t, "height difference", q4.Rise, (-0.1050+4.89-5.73)*foot, 0.0001*foot)
}

// Facts of the trade (common practice, no source): face left 92°34′35″ is
// −2°34′35″; 93°25′20″ is −3°25′20″ and −5.980 %; 95°41′35″ is −9.969 %; 45° is
// 100 %. Each is booked with the face-right reading of an instrument without
// index error.
func TestTradeFacts_Verticals(t *testing.T) {
	const head = "setup,station,round,face,target,quantity,reading,unit\n"
	for _, tt := range []struct {
		fl, fr, altitude string
		percent          float64
	}{
		{"92 34 35", "267 25 25", "−2°34′35.0″", math.NaN()},
		{"93 25 20", "266 34 40", "−3°25′20.0″", -5.980},
		{"95 41 35", "264 18 25", "−5°41′35.0″", -9.969},
		{"45 00 00", "315 00 00", "45°00′00.0″", 100},
	} {
		text := head + "1,Weir,,FL,Mast,vertical," + tt.fl + ",dms\n1,Weir,,FR,Mast,vertical," + tt.fr + ",dms\n"
		s, _ := first(t, text)
		v := Of(s, false).Verticals[0]
		if v.Altitude != tt.altitude || *v.Index != 0 {
			t.Errorf("%s: altitude %s, index %v", tt.fl, v.Altitude, *v.Index)
		}
		if !math.IsNaN(tt.percent) {
			near(t, tt.fl, v.Gradient, tt.percent, 0.001)
		}
	}
}

// The directions file: a row for the reference object and for each target,
// nothing in the cells of what does not exist.
func TestDirections(t *testing.T) {
	var b strings.Builder
	w, err := NewDirectionsWriter(&b)
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"two-rounds.csv", "F17-one-round.csv", "vertical-pair.csv"} {
		if err := w.Setup(open(t, file, exchange.Options{LeastCount: "10"})[0], exchange.Source{Name: "dam"}, false); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	want := strings.Join([]string{
		"setup,station,reference,target,direction,unit,direction_deg,sd_sec,spread_sec,rounds,agrees,altitude_deg,horizontal_m,height_difference_m,verdict,observer,observed,book,booker,book_id,displayed_m,air_m,prism_m,to_level_m,sea_level_m,scale_m",
		"1,X,A,A,0 00 00.0,dms,0,,,2,,,,,lift,,,dam,,,,,,,,",
		"1,X,A,B,17 18 35.0,dms,17.3097222222,7.071068,10,2,true,,,,lift,,,dam,,,,,,,,",
		"1,X,A,C,83 55 10.0,dms,83.9194444444,7.071068,10,2,true,,,,lift,,,dam,,,,,,,,",
		"1,M,A,A,0 00 00.0,dms,0,,,1,,,,,hold,,,dam,,,,,,,,",
		"1,M,A,B,69 19 12.0,dms,69.32,,,1,,,,,hold,,,dam,,,,,,,,",
		"1,O,T,T,,,,,,,,20.0291666667,,,hold,,,dam,,,,,,,,", ""}, "\r\n")
	if b.String() != want {
		t.Errorf("wrote\n%s\nwant\n%s", b.String(), want)
	}
}
