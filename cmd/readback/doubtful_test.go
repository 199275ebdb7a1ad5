package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// A field test names the setups that are on Hold, or were lifted so, and leaves them
// out; asked for, they count.
func TestFieldtest_LeavesOutDoubtfulSetups(t *testing.T) {
	book := filepath.Join(t.TempDir(), "slip.readback")
	call(t, "", "import", book, example("brackenfold-slip.csv"), "--booker", "Tam Okoro")
	got := call(t, "", "fieldtest", book)
	if want := "Setup 1 (Weir) is left out: it was lifted on Hold. --held counts them too"; got.code != exitUsage || got.out != "" || !strings.Contains(got.err, want) {
		t.Errorf("exit %d, %s%s", got.code, got.out, got.err)
	}
	held := call(t, "", "fieldtest", book, "--held").must(t, exitFine).out
	if !strings.Contains(held, "Setups: 1\n") || strings.Contains(held, "left out") {
		t.Errorf("asked for: %s", held)
	}
}

// A lifted setup keeps the verdict that was said; judged anew by today's rule, both
// are printed, with the reasons where it holds.
func TestSeason_JudgesAnewWhenAsked(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ file, plain, anew string }{
		{"brackenfold-slip.csv", "Setup 1 (Weir): it was lifted on Hold.", "Setup 1 (Weir): said hold, by today's rule hold. The rounds do not agree on Quarry"},
		{"brackenfold-day.csv", "Weir", "Setup 1 (Weir): said lift, by today's rule lift.\n"},
	} {
		book := filepath.Join(dir, strings.TrimSuffix(c.file, ".csv")+".readback")
		call(t, "", "import", book, example(c.file), "--booker", "Tam Okoro")
		plain, anew := call(t, "", "season", book).must(t, exitFine).out, call(t, "", "season", book, "--anew").must(t, exitFine).out
		if !strings.Contains(plain, c.plain) || strings.Contains(plain, "today's rule") || !strings.Contains(anew, c.anew) {
			t.Errorf("%s\n%s", plain, anew)
		}
	}
}

// Where a file of readings in gon states no least count, it is the step of its
// readings: four decimals are 0.1 mgon, three in steps of five are 5 mgon.
func TestReduce_LeastCountOfGonReadings(t *testing.T) {
	for _, c := range []struct{ readings, want string }{
		{"10.0012 210.0034 90.1235 290.1256 150.2223 350.2245", "least count 0.1 mgon;"},
		{"10.000 210.005 90.125 290.120 150.220 350.225", "least count 5 mgon;"},
	} {
		f := strings.Fields(c.readings)
		text := "setup,station,round,face,target,quantity,reading,unit\n"
		for i, v := range f {
			text += "1,X,1," + []string{"FL", "FR"}[i%2] + "," + string(rune('A'+i/2)) + ",horizontal," + v + ",gon\n"
		}
		file := filepath.Join(t.TempDir(), "gon.csv")
		put(t, file, text)
		if got := call(t, "", "reduce", file); !strings.Contains(got.out, c.want) {
			t.Errorf("want %q: exit %d %s%s", c.want, got.code, got.err, got.out)
		}
		if got := call(t, "", "reduce", file, "--least-count", "1"); strings.Contains(got.out, c.want) {
			t.Errorf("stated, the readings' step counts still: %s", got.out)
		}
	}
}
