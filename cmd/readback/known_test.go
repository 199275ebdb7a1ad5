package main

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestKnown_Command(t *testing.T) {
	dir := t.TempDir()
	book, places := filepath.Join(dir, "dam.book"), filepath.Join(dir, "known.csv")
	put(t, places, "name,E,N,H\nWeir,2000.5,1000.25,101.5\nSpire,2100,1200,\n")
	if code, out, errs := said("known", book, places, "--bearing", "Weir,Mast,45 10 20", "--bearing", "Weir,Alder,50.5 gon"); code != exitFine || !strings.Contains(out, "known stations 2, known bearings 2") {
		t.Fatalf("exit %d %s%s", code, out, errs)
	}
	code, out, _ := said("known", book)
	want := "dam.book: known stations 2, known bearings 2.\nWeir,2000.500,1000.250,101.500\nSpire,2100.000,1200.000,\nWeir to Mast: 45°10′20″\nWeir to Alder: 45°27′00″\n"
	if code != exitFine || out != want {
		t.Errorf("exit %d\n%s", code, out)
	}
	for bearing, says := range map[string]string{"Weir,Mast": "expected FROM,TO,BEARING", "Weir,Weir,45 10 20": "the names of two stations", "Weir,Mast,45 70 20": "--bearing"} {
		if code, out, errs := said("known", book, "--bearing", bearing); code != exitUsage || out != "" || !strings.Contains(errs, says) {
			t.Errorf("%s: exit %d %s%s", bearing, code, out, errs)
		}
	}
	put(t, places, "name,E,N\nWeir,\"2000,5\",1000\n")
	if code, _, errs := said("known", book, places); code != exitUsage || !strings.Contains(errs, "line 2, column 6") {
		t.Errorf("exit %d %s", code, errs)
	}
}

// Bearings within a quadrant, counted from south, and in other units are kept as counted
// from north, and printed as the book says (definitions; a bearing of S 45 10 20 E is
// 180° less that).
func TestKnown_BearingsOtherwiseCounted(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "dam.book")
	call(t, "", "known", book, "--bearing", "A,B,N 45 10 20 E", "--bearing", "A,C,S 45 10 20 E", "--bearing", "A,D,S 45 10 20 W", "--bearing", "A,E,N 45 10 20 W", "--bearing", "A,F,1600 mil", "--bearing", "A,G,12.5 deg").must(t, exitFine)
	call(t, "", "known", book, "--from-south", "--bearing", "A,H,45 10 20").must(t, exitFine)
	for _, want := range []string{"A to B: 45°10′20″\n", "A to C: 134°49′40″\n", "A to D: 225°10′20″\n", "A to E: 314°49′40″\n", "A to F: 90°00′00″\n", "A to G: 12°30′00″\n", "A to H: 225°10′20″\n"} {
		if got := call(t, "", "known", book).must(t, exitFine).out; !strings.Contains(got, want) {
			t.Errorf("no %q in %s", want, got)
		}
	}
	call(t, "", "limits", book, "--bearing-zero", "180").must(t, exitFine)
	if got := call(t, "", "known", book).must(t, exitFine).out; !strings.Contains(got, "A to H: 45°10′20″ from south\n") {
		t.Error(got)
	}
	for _, args := range [][]string{{"limits", book, "--bearing-zero", "90"}, {"known", book, "--bearing", "A,B,N 95 0 0 E"}} {
		if code, out, errs := said(args...); code != exitUsage || !strings.Contains(errs, "expected") {
			t.Errorf("%q: exit %d %s%s", args, code, out, errs)
		}
	}
	day := filepath.Join(dir, "ring")
	call(t, "", "import", day, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	places := filepath.Join(dir, "known.csv")
	put(t, places, "name,E,N,H\nWeir,2000,1000,\nSpire,2100,1000,\n")
	call(t, "", "known", day, places).must(t, exitFine)
	north := call(t, "", "figure", day).must(t, exitFine).out
	south := call(t, "", "figure", day, "--bearing-zero", "180").must(t, exitFine).out
	if !strings.Contains(north, "the RO Spire bears 90°00′00″") || !strings.Contains(south, "the RO Spire bears 270°00′00″") || !strings.Contains(south, "Bearings are counted from south, clockwise.") || strings.Contains(north, "from south") {
		t.Errorf("%s\n%s", north, south)
	}
}
