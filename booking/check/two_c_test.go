package check

import (
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/observer"
	"example.org/readback/reduce"
)

// A trunnion axis tilted by 10″ makes 2c differ by 2·10″·tan 40° = 17″ on a sight
// of 40° (2c(h) = 2(c₀/cos h + i·tan h), common practice): a sound instrument isn't held
// for it once the altitudes are booked; a pair 60″ off still is, by name.
func TestVerdict_TwoCAfterItsModel(t *testing.T) {
	book := func(faults ...observer.Fault) booking.Setup {
		o := observer.New(observer.Options{Seed: 5, Targets: 4, Rounds: 3, Sigma: reduce.Arcsecond / 2, LeastCount: reduce.Arcsecond, Faults: faults})
		o.Collim, o.Tilt = 10*reduce.Arcsecond, 10*reduce.Arcsecond
		o.Lines[2].Altitude = 40 * reduce.Degree
		s, err := o.Book()
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	s := book()
	if raw := s.Reduce().TwoC; raw.Width() <= s.LimitsNow().TwoC.Value {
		t.Fatalf("the sight is not steep enough: %v", raw)
	}
	if v := Judge(s); !v.Lift {
		t.Errorf("sound: %q", v.Reasons())
	}
	mark := s.Spec.Targets[0]
	v := Judge(book(observer.Fault{Round: 2, Face: reduce.FL, Target: mark, By: 60 * reduce.Arcsecond}))
	for _, c := range v.Checks {
		if c.Name == "2c" && (c.Met || !strings.Contains(c.Again, mark+" in round 2")) {
			t.Errorf("60″ off: %+v", c)
		}
	}
	if v.Lift {
		t.Error("60″ off: lifted")
	}
}
