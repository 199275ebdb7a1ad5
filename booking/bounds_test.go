package booking_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

// wide is a spec that can be opened but for its size.
func wide(targets, rounds int) spec.Spec {
	s := spec.FirstSpec()
	s.Station, s.RO, s.Observer, s.Booker, s.Instrument.Name = "Weir", "Spire", "Ines Vale", "Tam Okoro", "T2"
	s.Verticals, s.Rounds = false, rounds
	for i := range targets {
		s.Targets = append(s.Targets, fmt.Sprintf("Stake %d", i+1))
	}
	return s
}

// A setup is as large as its readings can be checked while the observer waits; what
// was observed already is taken at any size.
func TestOpen_Directions(t *testing.T) {
	for _, x := range []struct {
		targets, rounds int
		opens           bool
	}{{12, 12, true}, {60, 2, true}, {24, 6, true}, {6, 24, true}, {13, 12, false}, {60, 3, false}, {7, 24, false}} {
		_, err := booking.Open(wide(x.targets, x.rounds))
		if x.opens != (err == nil) {
			t.Errorf("%d targets in %d rounds: %v", x.targets, x.rounds, err)
		}
		most := fmt.Sprintf("that is %d rounds for so many targets", 144/x.targets)
		if err != nil && !strings.Contains(err.Error(), most) {
			t.Errorf("%v does not say %q", err, most)
		}
		paper := wide(x.targets, x.rounds)
		paper.KeyedAfterwards = &spec.KeyedAfterwards{File: "paper.csv"}
		if _, err := booking.Open(paper); err != nil {
			t.Errorf("from paper: %v", err)
		}
	}
}

// A setup of before the bound is read, and amended without being made larger.
func TestAmend_LargerThanCanBeOpened(t *testing.T) {
	s, err := booking.Fold([]event.Entry{{Seq: 2, At: time.Unix(1, 0), Setup: 1, Event: event.SetupOpened{Spec: wide(59, 24)}}})
	if err != nil {
		t.Fatal(err)
	}
	spec := wide(59, 24)
	spec.Weather = "haze"
	if _, err := s.Amend(spec, nil, ""); err != nil {
		t.Errorf("the weather: %v", err)
	}
	spec.Targets = append(spec.Targets, "Stake 60")
	var bad error
	if _, bad = s.Amend(spec, nil, ""); bad == nil || !strings.Contains(bad.Error(), "60 targets in 24 rounds") {
		t.Errorf("one target more: %v", bad)
	}
}

// Rounds are added on Hold, one at least whatever the targets, until as many are used as
// a reading can be judged by; what is left out makes room.
func TestAddRound_UntilTheSetupIsFull(t *testing.T) {
	for _, x := range []struct{ targets, rounds, most int }{{60, 2, 3}, {12, 12, 17}, {6, 24, 30}, {2, 2, 30}} {
		s, err := booking.Fold([]event.Entry{{Seq: 2, At: time.Unix(1, 0), Setup: 1, Event: event.SetupOpened{Spec: wide(x.targets, x.rounds)}}})
		if err != nil {
			t.Fatal(err)
		}
		for n := range x.most {
			if n >= x.rounds {
				if _, err := s.AddRound("Hold"); err != nil {
					t.Errorf("%d targets: round %d: %v", x.targets, n+1, err)
				}
			}
			s.Rounds = append(s.Rounds, booking.Round{Number: n + 1})
		}
		_, err = s.AddRound("Hold")
		if want := fmt.Sprintf("a setup holds no more than %d", x.most); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%d targets in %d rounds: %v, want %q", x.targets, x.most, err, want)
		}
		s.Rounds[0].LeftOut = &event.RoundLeftOut{}
		if _, err = s.AddRound("Hold"); err != nil {
			t.Errorf("%d targets, a round left out: %v", x.targets, err)
		}
	}
}
