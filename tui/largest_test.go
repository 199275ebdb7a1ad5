package tui

import (
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/observer"
)

// BenchmarkLargestStation takes the last readings of the largest stations that can be
// opened, 12 targets in 24 rounds and 60 in 4, through all that the program works
// between the key and the record: check, fold, verdict, what is called next. The
// summary is not among it: it is kept when the setup is left. The limit is 5 ms of
// processor time a reading; it is told beside what a usual station, 6 targets in 4
// rounds, takes in the same run.
func BenchmarkLargestStation(b *testing.B) {
	const last = 40
	stand := func(targets, rounds int) (booking.Setup, []booking.Reading) {
		s, err := observer.New(observer.Options{Seed: 5, Targets: targets, Rounds: rounds, CloseHalves: true}).Book()
		if err != nil {
			b.Fatal(err)
		}
		var rs []booking.Reading
		for _, r := range s.Readings {
			if r.Slot.Quantity == booking.Horizontal {
				rs = append(rs, r)
			}
		}
		n := len(rs) - last
		s.Readings = append([]booking.Reading(nil), rs[:n]...)
		s.LastSeq = rs[n-1].Seq
		return s, rs[n:]
	}
	book := func(s booking.Setup, rs []booking.Reading) time.Duration {
		start := time.Now()
		w := workOut(s, check.Known{}, nil, false)
		for _, r := range rs {
			e := booking.ReadingBooked{Slot: r.Slot, Text: r.Text, Value: r.Value, By: r.By}
			e.Findings = w.exp.Check(e.Value)
			next, err := w.setup.Apply(booking.Entry{Seq: r.Seq, At: r.At, Setup: s.Number, Event: e})
			if err != nil {
				b.Fatal(err)
			}
			w = workOut(next, check.Known{}, nil, false)
		}
		return time.Since(start)
	}
	large, more := stand(12, booking.MaxRounds)
	wide, rest := stand(booking.MaxTargets, 4)
	usual, others := stand(6, 4)
	var took [3]time.Duration
	for b.Loop() {
		took[0] += book(large, more)
		took[1] += book(usual, others)
		took[2] += book(wide, rest)
	}
	per := float64(took[0]) / float64(b.N) / last
	b.ReportMetric(per/1e6, "ms/reading")
	b.ReportMetric(float64(took[2])/float64(b.N)/last/1e6, "ms/reading-60-targets")
	b.ReportMetric(float64(took[0])/float64(took[1]), "times-usual")
}
