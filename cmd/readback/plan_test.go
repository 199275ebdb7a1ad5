package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The office's plan goes into a book, is listed with what is done of it, and a
// plan that does not read leaves the book as it was.
func TestPlan_LoadedAndFollowed(t *testing.T) {
	dir := t.TempDir()
	book, plan := filepath.Join(dir, "dam.book"), filepath.Join(dir, "monday.csv")
	readings := filepath.Join(dir, "weir.csv")
	write := func(path, text string) {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(plan, "station,RO,targets,rounds,day\nWeir,Spire,Gannet; Alder,2,2026-05-04\nGannet,Weir,Alder,2,2026-05-04\nAlder,Gannet,Weir,,\n")
	write(readings, "setup,station,round,face,target,quantity,reading,unit\n1,Weir,1,FL,Spire,horizontal,0 00 10,dms\n1,Weir,1,FR,Spire,horizontal,180 00 10,dms\n"+
		"1,Weir,1,FL,Gannet,horizontal,10 00 10,dms\n1,Weir,1,FR,Gannet,horizontal,190 00 10,dms\n")
	if code, out, errs := said("plan", book, plan); code != exitFine || !strings.Contains(out, "a plan of 3 setups") {
		t.Fatal(code, out, errs)
	}
	if code, out, errs := said("import", book, readings, "--observer", "Ines Holm", "--booker", "Tam Okoro"); code != exitFine {
		t.Fatal(code, out, errs)
	}
	_, out, errs := said("plan", book)
	if !strings.Contains(errs, "read and proven, last hash") {
		t.Errorf("the list does not say what it rests on: %s", errs)
	}
	for _, want := range []string{"planned setups 3", "2026-05-04 Weir, RO Spire, to Gannet, Alder: done, setup 1", "Gannet, RO Weir, to Alder: next", "Alder, RO Gannet, to Weir: open"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in\n%s", want, out)
		}
	}
	write(plan, "station,RO,targets\nWeir,Weir,Alder\n")
	if code, _, errs := said("plan", book, plan); code != exitUsage || !strings.Contains(errs, "line 2, column 2 (ro)") {
		t.Error(code, errs)
	}
	if _, again, _ := said("plan", book); again != out {
		t.Error("a plan that does not read changed the book")
	}
}

// Before anything is read the plan is foreseen: by hand, a point at right angles from
// two held marks, 100 m north of one, each direction 10″ in two rounds without centring,
// lies within what the two rays give. Nothing is booked, and a file stands for the plan.
func TestPlan_ForeseenBeforeTheFirstReading(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	book := filepath.Join(dir, "dam.book")
	known := file("known.csv", "name,E,N\nWeir,0,0\nAlder,100,100\n")
	near := file("near.csv", "name,E,N\nMast,0,100\n")
	week := file("week.csv", "station,ro,targets,rounds\nWeir,Alder,Mast,2\nAlder,Weir,Mast,2\n")
	call(t, "", "known", book, known).must(t, exitFine)
	call(t, "", "limits", book, "--known-sd", "0", "--centring", "0").must(t, exitFine)
	before := call(t, "", "plan", book).must(t, exitFine)
	args := []string{"plan", book, week, "--foresee", "--near", near, "--direction-sd", "10", "--want-mm", "10"}
	out := call(t, "", args...).must(t, exitFine).out
	// An angle of two directions, each 10″/√2, has 10″: across 100 m that is 4.848 mm.
	// The rays cross at a right angle: both half axes are 2.4477 × 4.848 = 11.9 mm; with
	// three rounds 9.7 mm.
	joined := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{"Mast 0.000 100.000 4.8 4.8 11.9 11.9", "Weakest place: Mast, within 11.9 mm", "It takes 3 rounds at every setup: the weakest is then within 9.7 mm.", "Nothing checks: "} {
		if !strings.Contains(joined, want) {
			t.Errorf("%q is not in\n%s", want, out)
		}
	}
	if j := call(t, "", append(args, "--json")...).must(t, exitFine).out; !strings.Contains(j, `"weakest_semi_major_95_m": 0.011867`) || !strings.Contains(j, `"rounds": 3`) {
		t.Error(j)
	}
	if after := call(t, "", "plan", book).must(t, exitFine); after.out != before.out || !strings.Contains(after.out, "planned setups 0") {
		t.Error("foreseeing booked something:", after.out)
	}
	if errs := call(t, "", "plan", book, week, "--foresee").must(t, exitUsage).err; !strings.Contains(errs, "Mast has no coordinates") {
		t.Error(errs)
	}
	call(t, "", "plan", book, week, "--near", near).must(t, exitUsage)
}
