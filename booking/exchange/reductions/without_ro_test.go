package reductions

import (
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/exchange"
)

// withoutSpire is two complete rounds that agree and a third without the
// reference object, in which Mast lies off by mast (seconds as written).
func withoutSpire(mast string) string {
	return `setup,station,round,face,target,quantity,reading,unit
1,Weir,1,FL,Spire,horizontal,0 00 00,dms
1,Weir,1,FL,Alder,horizontal,45 00 00,dms
1,Weir,1,FL,Mast,horizontal,250 00 00,dms
1,Weir,1,FR,Mast,horizontal,70 00 00,dms
1,Weir,1,FR,Alder,horizontal,225 00 00,dms
1,Weir,1,FR,Spire,horizontal,180 00 00,dms
1,Weir,2,FL,Spire,horizontal,90 00 00,dms
1,Weir,2,FL,Alder,horizontal,135 00 00,dms
1,Weir,2,FL,Mast,horizontal,340 00 00,dms
1,Weir,2,FR,Mast,horizontal,160 00 00,dms
1,Weir,2,FR,Alder,horizontal,315 00 00,dms
1,Weir,2,FR,Spire,horizontal,270 00 00,dms
1,Weir,3,FL,Alder,horizontal,225 00 00,dms
1,Weir,3,FL,Mast,horizontal,70 ` + mast + `,dms
1,Weir,3,FR,Mast,horizontal,250 ` + mast + `,dms
1,Weir,3,FR,Alder,horizontal,45 00 00,dms
`
}

// first reads the first setup of a readings file, and whether it is named.
func first(t *testing.T, text string) (booking.Setup, bool) {
	t.Helper()
	f, err := exchange.Open(strings.NewReader(text), int64(len(text)), "a test")
	if err != nil {
		t.Fatal(err)
	}
	p, err := f.Reader().Paper(0, exchange.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := p.Setup()
	if err != nil {
		t.Fatal(err)
	}
	return s, p.Named
}

func worked(t *testing.T, text string) Setup {
	t.Helper()
	return Of(first(t, text))
}

// A round without the reference object moves the means, so it must agree with
// the others on its angles (ours, no source).
func TestRoundWithoutRO(t *testing.T) {
	if j := worked(t, withoutSpire("00 10")); strings.Contains(strings.Join(j.Reasons, " "), "lacks") {
		t.Errorf("10″ within the limit: %s, %q", j.Verdict, j.Reasons)
	}
	j := worked(t, withoutSpire("01 40"))
	want := "Round 3 lacks Spire. Rounds 1 and 3 do not agree on the angle from Alder to Mast: difference 100″, limit 12.5″."
	if j.Verdict != "hold" || j.Reasons[0] != want {
		t.Errorf("100″: %s, %q", j.Verdict, j.Reasons)
	}
}

// A direction that only one round reduces to the reference object has no spread,
// though another round without it counts for the mean.
func TestSpread_NeedsTwoReductions(t *testing.T) {
	text := withoutSpire("00 00")
	second := strings.Index(text, "1,Weir,2,FL,Spire")
	third := strings.Index(text, "1,Weir,3,FL,Alder")
	j := worked(t, text[:second]+strings.ReplaceAll(text[third:], "Weir,3", "Weir,2"))
	for _, d := range j.Directions {
		if d.Spread != nil || d.Agrees != nil {
			t.Errorf("%s: spread %v, agrees %v", d.Target, d.Spread, d.Agrees)
		}
	}
	if j.Dof == nil || *j.Dof != 1 {
		t.Errorf("degrees of freedom: %v, want 1", j.Dof)
	}
}
