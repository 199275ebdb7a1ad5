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
