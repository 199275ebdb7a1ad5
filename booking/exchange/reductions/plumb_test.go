package reductions

import (
	"strings"
	"testing"
)

// A sight straight up has an altitude and no gradient.
func TestPlumbSight(t *testing.T) {
	text := "setup,station,round,face,target,quantity,reading,unit\n" +
		"1,Weir,,FL,Mast,vertical,0 00 00,dms\n1,Weir,,FR,Mast,vertical,0 00 00,dms\n"
	j := worked(t, text)
	if v := j.Verticals[0]; v.Gradient != nil || v.AltitudeDeg == nil || *v.AltitudeDeg != 90 {
		t.Errorf("%+v", v)
	}
	s, named := first(t, text)
	var table strings.Builder
	if err := new(Printer).Table(&table, s, named); err != nil || strings.Contains(table.String(), "Inf") || !strings.Contains(table.String(), "plumb") {
		t.Errorf("%v\n%s", err, table.String())
	}
}
