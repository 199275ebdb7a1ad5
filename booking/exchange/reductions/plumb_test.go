package reductions

import (
	"strings"
	"testing"

	"example.org/readback/booking/exchange"
)

// A sight straight up has an altitude and no gradient.
func TestPlumbSight(t *testing.T) {
	text := "setup,station,round,face,target,quantity,reading,unit\n" +
		"1,Weir,,FL,Mast,vertical,0 00 00,dms\n1,Weir,,FR,Mast,vertical,0 00 00,dms\n"
	j := worked(t, text)
	if v := j.Verticals[0]; v.Gradient != nil || v.AltitudeDeg == nil || *v.AltitudeDeg != 90 {
		t.Errorf("%+v", v)
	}
	f, err := exchange.Open(strings.NewReader(text), int64(len(text)), "a test")
	if err != nil {
		t.Fatal(err)
	}
	papers, err := f.Papers(exchange.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := papers[0].Setup()
	if err != nil {
		t.Fatal(err)
	}
	var table strings.Builder
	if err := Table(&table, s, papers[0].Named); err != nil || strings.Contains(table.String(), "Inf") || !strings.Contains(table.String(), "plumb") {
		t.Errorf("%v\n%s", err, table.String())
	}
}
