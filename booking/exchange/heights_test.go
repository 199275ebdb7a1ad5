package exchange

import (
	"strings"
	"testing"

	"example.org/readback/booking/check"
	"example.org/readback/booking/reduction"
)

// A mark that is sighted for its height only is in no round: the rounds are
// complete without it.
func TestPapers_HeightsOnly(t *testing.T) {
	const file = `setup,station,round,face,target,quantity,reading,unit
1,Weir,1,FL,Spire,horizontal,0 05 10,dms
1,Weir,1,FL,Alder,horizontal,45 10 20,dms
1,Weir,1,FR,Alder,horizontal,225 10 25,dms
1,Weir,1,FR,Spire,horizontal,180 05 15,dms
1,Weir,2,FL,Spire,horizontal,90 05 10,dms
1,Weir,2,FL,Alder,horizontal,135 10 20,dms
1,Weir,2,FR,Alder,horizontal,315 10 25,dms
1,Weir,2,FR,Spire,horizontal,270 05 15,dms
1,Weir,,FL,Knoll,vertical,87 15 20,dms
1,Weir,,FR,Knoll,vertical,272 44 50,dms
`
	f, err := readAll(strings.NewReader(file), "heights.csv")
	if err != nil {
		t.Fatal(err)
	}
	papers, err := f.papers(Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := papers[0].Setup()
	if err != nil {
		t.Fatal(err)
	}
	if v := check.Judge(s); !v.Lift {
		t.Errorf("on Hold: %q", v.Reasons())
	}
	r := reduction.Of(s)
	if len(r.Verticals) != 1 || r.Verticals[0].Target != "Knoll" || len(s.Spec.Targets) != 1 {
		t.Errorf("%+v, targets %q", r.Verticals, s.Spec.Targets)
	}
}
