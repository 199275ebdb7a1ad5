package check

import (
	"errors"
	"strings"
	"testing"

	"example.org/readback/booking"
)

// What the figures of a book hold against lifting is Hold like a check of the
// setup itself: it needs a reason, and both are kept.
func TestLiftTripod_OverAFigureThatMisses(t *testing.T) {
	b := newBench(t, testSpec())
	for _, k := range []string{
		"0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15",
		"90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15",
	} {
		b.key(k)
	}
	if !Judge(b.s).Lift {
		t.Fatal(Judge(b.s).Reasons())
	}
	const miss = "The coordinates miss by 1.001 m in 990.877 m: 1 in 990; the limit is 1 in 5000."
	if _, err := Lift(b.s, " ", miss); !errors.Is(err, booking.ErrRefused) || !strings.Contains(err.Error(), "write why") {
		t.Errorf("lifted without a reason: %v", err)
	}
	e, err := Lift(b.s, "the light is going", miss)
	if err != nil || e.Verdict != "hold" || len(e.Reasons) != 1 || e.Reasons[0] != miss || e.Despite != "the light is going" {
		t.Errorf("%v: %+v", err, e)
	}
	if e, err = Lift(b.s, "not needed"); err != nil || e.Verdict != "lift" || e.Despite != "" {
		t.Errorf("%v: %+v", err, e)
	}
}
