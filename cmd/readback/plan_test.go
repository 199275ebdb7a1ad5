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
	_, out, _ := said("plan", book)
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
