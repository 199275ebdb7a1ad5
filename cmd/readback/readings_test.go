package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A called is what one run of the program left behind.
type called struct {
	code     int
	out, err string
}

// call runs the program in this process with text on standard input.
func call(t testing.TB, stdin string, args ...string) called {
	t.Helper()
	in, err := os.CreateTemp(t.TempDir(), "stdin")
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	if _, err := in.WriteString(stdin); err != nil {
		t.Fatal(err)
	}
	if _, err := in.Seek(0, 0); err != nil {
		t.Fatal(err)
	}
	home := t.TempDir()
	var out, errs bytes.Buffer
	code := runAgain(args, &Context{In: in, Out: &out, Err: &errs, Getenv: func(k string) string {
		if k == "HOME" {
			return home
		}
		return ""
	}})
	return called{code, out.String(), errs.String()}
}

func (c called) must(t testing.TB, code int) called {
	t.Helper()
	if c.code != code {
		t.Fatalf("exit code %d, want %d\n%s%s", c.code, code, c.out, c.err)
	}
	return c
}

func example(name string) string { return filepath.Join("..", "..", "testdata", "readings", name) }

func read(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// F16, a Chinese university's question bank: the printed directions, whatever
// the verdict.
func TestReduce_Published(t *testing.T) {
	got := call(t, "", "reduce", example("F16-closed-horizon.csv")).must(t, exitFine)
	for _, want := range []string{"60°20′39.0″", "225°16′24.0″", "290°11′57.0″", "Verdict: Hold", "s₀ = 14.5″", "common practice"} {
		if !strings.Contains(got.out, want) {
			t.Errorf("no %s in\n%s", want, got.out)
		}
	}
	if got.err != "" {
		t.Errorf("said %q", got.err)
	}
}

func TestReduce_JSONFromStandardInput(t *testing.T) {
	text := read(t, example("two-rounds.csv"))
	got := call(t, text, "reduce", "-", "--json", "--least-count", "10").must(t, exitFine)
	var doc struct {
		Setups []struct {
			Setup      int
			Station    string
			Reference  string
			Directions []struct {
				Target    string
				Direction string
				Agrees    bool
			}
			Verdict string
			Reasons []string
		}
	}
	if err := json.Unmarshal([]byte(got.out), &doc); err != nil {
		t.Fatal(err)
	}
	s := doc.Setups[0]
	if s.Setup != 1 || s.Station != "X" || s.Reference != "A" || len(s.Directions) != 2 || s.Verdict != "lift" || s.Reasons == nil {
		t.Errorf("%+v", s)
	}
	if d := s.Directions[1]; d.Target != "C" || d.Direction != "83°55′10.0″" || !d.Agrees {
		t.Errorf("%+v", d)
	}
}

// Every limit of a setup has an option: each turns Lift into Hold.
func TestReduce_Limits(t *testing.T) {
	day := example("brackenfold-day.csv")
	if got := call(t, "", "reduce", day).must(t, exitFine); strings.Contains(got.out, "Hold") {
		t.Fatalf("the day is on Hold by itself:\n%s", got.out)
	}
	for _, option := range []string{"--limit-rounds", "--limit-misclosure", "--limit-2c", "--limit-index"} {
		got := call(t, "", "reduce", day, option, "0.5").must(t, exitFine)
		if !strings.Contains(got.out, "Hold") || !strings.Contains(got.out, "given on the command line") {
			t.Errorf("%s 0.5 changes nothing:\n%s", option, got.out)
		}
	}
	call(t, "", "reduce", day, "--limit-figure", "10").must(t, exitFine)
}

// With the deviations stated those of distance and height stand beside them:
// 3 mm + 2 mm per km, and 2″ at the distance (reduce.SlopeSD has its own tests).
func TestReduce_DeviationsOfDistances(t *testing.T) {
	day := example("brackenfold-day.csv")
	if got := call(t, "", "reduce", day, "--sigma", "2", "--distance-sd", "3", "--distance-ppm", "2").must(t, exitFine); !strings.Contains(got.out, "sd mm") {
		t.Errorf("no deviations:\n%s", got.out)
	}
	if got := call(t, "", "reduce", day, "--sigma", "2").must(t, exitFine); strings.Contains(got.out, "sd mm") {
		t.Errorf("deviations of nothing:\n%s", got.out)
	}
	if got := call(t, "", "reduce", day, "--distance-sd=-3").must(t, exitUsage); !strings.Contains(got.err, "from 0 to 1000") {
		t.Error(got.err)
	}
}

func TestReduce_BadInput(t *testing.T) {
	day := example("brackenfold-day.csv")
	bad := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(bad, []byte(strings.Replace(read(t, day), "48 31 10", "48 61 10", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		args []string
		says []string
	}{
		{[]string{"reduce", bad}, []string{bad, "line 4", "column 7 (reading)", "minutes go to 59", "expected"}},
		{[]string{"reduce", bad, "--json"}, []string{"line 4"}},
		{[]string{"reduce", filepath.Join(t.TempDir(), "none.csv")}, []string{"none.csv"}},
		{[]string{"reduce", t.TempDir()}, []string{"directory"}},
		{[]string{"reduce", day, "--least-count", "0"}, []string{"least count"}},
		{[]string{"reduce", day, "--least-count", "five"}, []string{"least count", `"five"`}},
		{[]string{"reduce", day, "--limit-rounds", "-1"}, []string{"-1"}},
		{[]string{"reduce", day, "--circle", "nadir"}, []string{"circle"}},
		{[]string{"reduce"}, []string{"file"}},
		{[]string{"import", filepath.Join(t.TempDir(), "b"), bad, "--booker", "Tam Okoro"}, []string{"line 4"}},
		{[]string{"import", filepath.Join(t.TempDir(), "b"), day}, []string{"booker"}},
		{[]string{"import", filepath.Join(t.TempDir(), "b"), day, "--booker", " "}, []string{"booker"}},
		{[]string{"export", filepath.Join(t.TempDir(), "none")}, []string{"none"}},
		{[]string{"export", day}, []string{day}},
	} {
		got := call(t, "", tt.args...).must(t, exitUsage)
		if got.out != "" {
			t.Errorf("%q wrote %q", tt.args, got.out)
		}
		for _, s := range tt.says {
			if !strings.Contains(got.err, s) {
				t.Errorf("%q says %q, not %q", tt.args, got.err, s)
			}
		}
	}
}

// A day on paper becomes setups; exported, imported into another book and
// exported again it is the same, reading for reading, and so are its reductions.
func TestImportExport(t *testing.T) {
	dir := t.TempDir()
	one, two := filepath.Join(dir, "one"), filepath.Join(dir, "two")
	day := example("brackenfold-day.csv")
	got := call(t, "", "import", one, day, "--booker", "Tam Okoro", "--observer", "Ines Holm", "--instrument", "T-5", "--serial", "4471").must(t, exitFine)
	if got.out != "Setup 1: Weir, 35 readings, lift.\nSetup 2: Alder, 12 readings, lift.\n" {
		t.Errorf("said %q", got.out)
	}
	csv := call(t, "", "export", one).must(t, exitFine).out
	call(t, csv, "import", two, "-", "--booker", "Tam Okoro").must(t, exitFine)
	if again := call(t, "", "export", two).must(t, exitFine).out; observedOf(t, again) != observedOf(t, csv) {
		t.Errorf("exported again:\n%s\nwas\n%s", again, csv)
	}
	own := withoutBook(call(t, "", "export", one, "--as", "json").must(t, exitFine).out)
	if reduced := call(t, csv, "reduce", "-", "--json").must(t, exitFine).out; reduced != own {
		t.Errorf("reduce of the export:\n%s\nthe book's own:\n%s", reduced, own)
	}
	if paper := call(t, "", "reduce", day, "--json").must(t, exitFine).out; paper != own {
		t.Errorf("reduce of the paper:\n%s\nthe book's own:\n%s", paper, own)
	}
	call(t, "", "audit", one).must(t, exitFine)
	if n := strings.Count(call(t, "", "export", one, "--as", "jsonl").must(t, exitFine).out, "\n"); n != 53 {
		t.Errorf("%d events", n) // the book, 2 setups, 47 readings, 1 strike, 2 lifts
	}
	if x := call(t, "", "export", one, "--as", "landxml").must(t, exitFine).out; !strings.Contains(x, "</LandXML>") {
		t.Errorf("no LandXML:\n%s", x)
	}
	if d := call(t, "", "export", one, "--as", "directions").must(t, exitFine).out; !strings.Contains(d, "2,Alder,Weir,Chapel,60.86350,gon,") {
		t.Errorf("directions:\n%s", d)
	}
}

func TestImport_TwiceBooksOnce(t *testing.T) {
	book := filepath.Join(t.TempDir(), "book")
	day := example("brackenfold-day.csv")
	call(t, "", "import", book, day, "--booker", "Tam Okoro").must(t, exitFine)
	before := call(t, "", "export", book, "--as", "jsonl").out
	got := call(t, "", "import", book, day, "--booker", "Tam Okoro").must(t, exitNo)
	if !strings.Contains(got.err, "already, from setup 1 on: nothing was booked") {
		t.Errorf("said %q", got.err)
	}
	if after := call(t, "", "export", book, "--as", "jsonl").out; after != before {
		t.Error("something was booked all the same")
	}
	call(t, "", "import", book, example("two-rounds.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	if csv := call(t, "", "export", book).out; !strings.Contains(csv, "\r\n3,X,1,FL,A,") {
		t.Errorf("the third setup is not there:\n%s", csv)
	}
}

// A name that a script left empty, or that no file can have, is refused, and nothing is left where it was called.
func TestUsage_ImpossibleNames(t *testing.T) {
	dir := t.TempDir()
	day, err := filepath.Abs(example("brackenfold-day.csv"))
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	call(t, "", "import", "dam", day, "--booker", "Tam Okoro").must(t, exitFine)
	before, _ := os.ReadDir(dir)
	long := strings.Repeat("x", 300)
	for _, args := range [][]string{
		{"export", long}, {"import", long, day, "--booker", "Tam Okoro"}, {"gather", long, "dam"}, {"restore", "dam.jsonl", long},
		{"export", ""}, {"audit", ""}, {"import", "", day, "--booker", "Tam Okoro"}, {"gather", "", "dam"}, {"restore", "dam.jsonl", ""}, {"describe", "", "--job", "x"},
	} {
		got := call(t, "", args...).must(t, exitUsage)
		if !strings.Contains(got.err, "no file can have this name") {
			t.Errorf("%q: %s", args, got.err)
		}
	}
	if after, _ := os.ReadDir(dir); len(after) != len(before) {
		t.Errorf("left behind: %v", after)
	}
}

func TestImport_BadFileMakesNoBook(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"bad":     "setup,station,round,face,target,quantity,reading,unit\n1,Weir,1,FL,Spire,horizontal,x,dms\n",
		"nothing": "setup,station,round,face,target,quantity,reading,unit\n7,Weir,,,,instrument height,1.5,m\n",
	} {
		book := filepath.Join(dir, name)
		got := call(t, text, "import", book, "-", "--booker", "Tam Okoro").must(t, exitUsage)
		if !strings.Contains(got.err, "line 2") {
			t.Errorf("%s says %q", name, got.err)
		}
		if left, _ := filepath.Glob(book + "*"); len(left) > 0 {
			t.Errorf("%s left %v", name, left)
		}
	}
}

// observedOf is what a readings file says of the observations: without the columns
// that say which book and crew they came from.
func observedOf(t *testing.T, text string) string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(rows[0]) != 16 || rows[0][12] != "observer" || rows[0][15] != "book_id" {
		t.Fatalf("%v: %.300s", err, text)
	}
	for i := range rows {
		rows[i] = rows[i][:12]
	}
	return fmt.Sprintf("%q", rows)
}

// The rows of an export say which crew and which book they came from, by name and by
// the first digits of its identity, as an audit says it.
func TestExport_RowsSayWhereFrom(t *testing.T) {
	file := filepath.Join(t.TempDir(), "dam.readback")
	call(t, "", "import", file, example("brackenfold-day.csv"), "--booker", "Tam Okoro", "--observer", "Ines Holm").must(t, exitFine)
	id := regexp.MustCompile(`identity ([0-9a-f]{16})`).FindStringSubmatch(call(t, "", "audit", file).must(t, exitFine).out)[1]
	for as, want := range map[string]string{"csv": ",Ines Holm,Tam Okoro,dam.readback," + id + "\r\n", "directions": ",Ines Holm,2026-05-04T08:02:00Z,dam.readback,Tam Okoro," + id + ",,,,,,\r\n"} {
		out := call(t, "", "export", file, "--as", as).must(t, exitFine).out
		rows := strings.Count(out, "\r\n") - 1
		if n := strings.Count(out, want[strings.Index(want, id):]); n != rows || rows < 5 || !strings.Contains(out, want) {
			t.Errorf("%s: %d of %d rows end in %q:\n%.1500s", as, n, rows, want, out)
		}
	}
}

// An import that was cut off goes on where it stopped.
func TestImport_GoesOn(t *testing.T) {
	dir := t.TempDir()
	day := example("brackenfold-day.csv")
	whole := filepath.Join(dir, "whole")
	call(t, "", "import", whole, day, "--booker", "Tam Okoro").must(t, exitFine)
	csv := call(t, "", "export", whole).out
	lines := strings.SplitAfter(call(t, "", "export", whole, "--as", "jsonl").out, "\n")
	for _, n := range []int{1, 2, 20, 41, 52} {
		cut, journal := filepath.Join(dir, "cut"), filepath.Join(dir, "cut.jsonl.txt")
		for _, old := range []string{cut, cut + ".jsonl", cut + ".reserve"} {
			os.Remove(old)
		}
		if err := os.WriteFile(journal, []byte(strings.Join(lines[:n], "")), 0o600); err != nil {
			t.Fatal(err)
		}
		call(t, "", "restore", journal, cut).must(t, exitFine)
		call(t, "", "import", cut, day, "--booker", "Tam Okoro").must(t, exitFine)
		if got := call(t, "", "export", cut).must(t, exitFine).out; observedOf(t, got) != observedOf(t, csv) {
			t.Errorf("after %d events:\n%s\nwant\n%s", n, got, csv)
		}
		call(t, "", "audit", cut).must(t, exitFine)
	}
}

func TestExport_File(t *testing.T) {
	dir := t.TempDir()
	book, out := filepath.Join(dir, "book"), filepath.Join(dir, "out.csv")
	call(t, "", "import", book, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	want := call(t, "", "export", book).out
	if err := os.WriteFile(out, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := call(t, "", "export", book, "-o", out).must(t, exitUsage); read(t, out) != "old" || !strings.Contains(got.err, "--replace") {
		t.Errorf("wrote over a file that stood there: %s", got.err)
	}
	got := call(t, "", "export", book, "-o", out, "--replace").must(t, exitFine)
	if got.out != "" || read(t, out) != want {
		t.Errorf("said %q, wrote %q", got.out, read(t, out))
	}
	call(t, "", "export", book, "-o", filepath.Join(dir, "none", "out.csv")).must(t, exitNo)
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// The setups of an office book have numbers that run on: what it exports reads
// back, and imports.
func TestExport_OfficeBook(t *testing.T) {
	dir := t.TempDir()
	east, west, office := filepath.Join(dir, "east"), filepath.Join(dir, "west"), filepath.Join(dir, "office")
	call(t, "", "import", east, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	call(t, "", "import", west, example("two-rounds.csv"), "--booker", "Ines Holm").must(t, exitFine)
	call(t, "", "gather", office, east, west).must(t, exitFine)
	csv := call(t, "", "export", office).must(t, exitFine).out
	own := withoutBook(call(t, "", "export", office, "--as", "json").must(t, exitFine).out)
	if reduced := call(t, csv, "reduce", "-", "--json").must(t, exitFine).out; reduced != own {
		t.Errorf("reduce of the export:\n%s\nthe book's own:\n%s", reduced, own)
	}
	if n := strings.Count(own, `"setup": `); n != 3 {
		t.Errorf("%d setups", n)
	}
	call(t, csv, "import", filepath.Join(dir, "again"), "-", "--booker", "Tam Okoro").must(t, exitFine)
	call(t, csv, "import", office, "-", "--booker", "Tam Okoro").must(t, exitNo)
}

// withoutBook leaves out of JSON what a file of readings does not tell: the book and
// its crew.
func withoutBook(text string) string {
	return regexp.MustCompile(`(?m)^ "(book|book_name|observer|booker)": .*\n|^ +"by": .*\n`).ReplaceAllString(text, "")
}

// A reading that a live check would have stopped is booked all the same, with
// what the check says stored beside it, not confirmed by anyone; the setup ends
// lifted on Hold, with the reason.
func TestImport_StoresWhatTheChecksSay(t *testing.T) {
	book := filepath.Join(t.TempDir(), "book")
	got := call(t, "", "import", book, example("brackenfold-slip.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	if got.out != "Setup 1: Weir, 21 readings, hold.\n" {
		t.Errorf("said %q", got.out)
	}
	events := call(t, "", "export", book, "--as", "jsonl").out
	for _, want := range []string{`"findings":[{`, `"severity":3`, `"despite":"Keyed later from brackenfold-slip.csv`, `"keyed_afterwards":{"by":"Tam Okoro","file":"brackenfold-slip.csv"}`} {
		if !strings.Contains(events, want) {
			t.Errorf("no %s in\n%s", want, events)
		}
	}
	if strings.Contains(events, `"confirmed":true`) {
		t.Error("nobody confirmed anything")
	}
}

// Characters that turn text round or take no place reach no terminal: a name that
// holds them is printed without them by every command that prints names.
func TestReduce_PrintsNothingThatTurnsText(t *testing.T) {
	const head, odd = "setup,station,round,face,target,quantity,reading,unit,remark\n", "Al\u202eder\u200b"
	var rows strings.Builder
	for _, r := range []string{"FL,Spire,horizontal,0 12 25", "FL," + odd + ",horizontal,48 31 10", "FR," + odd + ",horizontal,228 31 20", "FR,Spire,horizontal,180 12 35"} {
		rows.WriteString("1,We\u2066ir,1," + r + ",dms,\u202d\ufeffnear\n")
	}
	book := filepath.Join(t.TempDir(), "book")
	outs := []string{call(t, head+rows.String(), "reduce", "-").must(t, exitFine).out,
		call(t, head+rows.String(), "import", book, "-", "--booker", "T\u202eam").must(t, exitFine).out}
	for _, args := range [][]string{{"figure", book}, {"health", book}, {"sheet", book, "--text"}, {"audit", book}, {"season", book}, {"season", book, "--anew"}} {
		got := call(t, "", args...).must(t, exitFine)
		outs = append(outs, got.out+got.err)
	}
	outs = append(outs, call(t, head+strings.Replace(rows.String(), "48 31 10", "48 61 10", 1), "reduce", "-").must(t, exitUsage).err)
	gone := filepath.Join(t.TempDir(), "no\u202e\u200bsuch")
	for _, args := range [][]string{{"reduce", gone}, {"levels", book, gone}, {"export", book, "--as", "sql", "--since", gone}, {"figure", gone}} {
		got := call(t, "", args...).must(t, exitUsage).err
		if !strings.Contains(got, `no\u202e\u200bsuch`) {
			t.Errorf("%s does not name the file: %+q", args[0], got)
		}
		outs = append(outs, got)
	}
	for i, out := range outs {
		if at := strings.IndexAny(out, "\u202e\u202d\u2066\u200b\ufeff"); at >= 0 {
			t.Errorf("output %d: %+q", i, out[max(0, at-30):min(len(out), at+30)])
		}
	}
}
