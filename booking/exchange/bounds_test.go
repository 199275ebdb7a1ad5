package exchange

import (
	"fmt"
	"strings"
	"testing"

	"example.org/readback/booking/spec"
)

const head = "setup,station,round,face,target,quantity,reading,unit\n"

// Beyond its bounds a file is refused where it passes them, with line and column.
func TestBounds_AreRefusedWhereTheyArePassed(t *testing.T) {
	many := func(n int, row func(i int) string) string {
		var b strings.Builder
		b.WriteString(head)
		for i := range n {
			b.WriteString(row(i))
		}
		return b.String()
	}
	for _, c := range []struct{ name, file, want string }{
		{"a quotation mark left open", head + "1,Weir,1,FL,Spire,horizontal,0 12 25,dms\n1,Weir,1,FL,\"" + strings.Repeat("Alder\n", 400_000), "line 3, column 1 (setup): the row that begins here is longer than 1 MiB"},
		{"a long cell", head + "1,Weir,1,FL," + strings.Repeat("A", 1<<20) + ",horizontal,0 12 25,dms\n", "line 2, column 1 (setup): the row that begins here is longer than 1 MiB"},
		{"too many targets", many(15_000, func(i int) string { return fmt.Sprintf("1,Weir,1,FL,T%d,horizontal,0 12 25,dms\n", i) }),
			fmt.Sprintf("line %d, column 5 (target): \"T%d\" is one target more than setup 1 can have", spec.MaxTargets+3, spec.MaxTargets+1)},
		{"too many rows", many(100_000, func(i int) string { return "1,Weir,1,FL,Spire,horizontal,0 12 25,dms\n" }), fmt.Sprintf("line %d, column 1 (setup): setup 1 has more than", mostSetupRows+2)},
	} {
		if said := said(c.file); !strings.Contains(said, c.want) {
			t.Errorf("%s: %.300s\nexpected %s", c.name, said, c.want)
		}
	}
}

// Setups may take turns row by row: each reads as if its rows stood together.
func TestOpen_SetupsMayTakeTurns(t *testing.T) {
	row := func(setup int, face, target, reading string) string {
		return fmt.Sprintf("%d,S%d,1,%s,%s,horizontal,%s,dms\n", setup, setup, face, target, reading)
	}
	var turns, together strings.Builder
	turns.WriteString(head)
	together.WriteString(head)
	rows := func(setup int) []string {
		return []string{row(setup, "FL", "Spire", "0 12 25"), row(setup, "FL", "Alder", fmt.Sprintf("48 31 %02d", setup)),
			row(setup, "FR", "Alder", fmt.Sprintf("228 31 %02d", setup)), row(setup, "FR", "Spire", "180 12 30")}
	}
	for k := range 4 {
		for setup := 3; setup >= 1; setup-- {
			turns.WriteString(rows(setup)[k] + "\n")
		}
	}
	for setup := 1; setup <= 3; setup++ {
		together.WriteString(strings.Join(rows(setup), ""))
	}
	a, err := readAll(strings.NewReader(turns.String()), "turns.csv")
	if err != nil {
		t.Fatal(err)
	}
	b, err := readAll(strings.NewReader(together.String()), "together.csv")
	if err != nil {
		t.Fatal(err)
	}
	if a.Len() != 3 || b.Len() != 3 {
		t.Fatal(a.Len(), b.Len())
	}
	for i := range 3 {
		p, errP := a.Reader().Paper(i, Options{})
		q, errQ := b.Reader().Paper(i, Options{})
		if errP != nil || errQ != nil {
			t.Fatal(errP, errQ)
		}
		s, _ := p.Setup()
		r, _ := q.Setup()
		if fmt.Sprintf("%+v", s) != fmt.Sprintf("%+v", r) {
			t.Errorf("setup %d:\n%+v\n%+v", i+1, s, r)
		}
	}
	wrong := strings.Replace(turns.String(), "228 31 02", "228 61 02", 1)
	if _, err = readAll(strings.NewReader(wrong), "turns.csv"); err == nil || !strings.Contains(err.Error(), "line 16, column 7 (reading)") {
		t.Errorf("a fault in a row whose neighbours are of other setups: %v", err)
	}
}
