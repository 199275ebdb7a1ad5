package tui

import (
	"fmt"
	"runtime/debug"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// BenchmarkLargestStation takes the last readings of the largest stations of every
// shape that can be observed, rounds added on Hold among them, through all that the
// program works between the key and the record: check, fold, verdict, what is called
// next. The summary is not among it: it is kept when the setup is left. Each shape is
// tried sound and with a slip that holds the tripod, σ stated and not. The limit is
// 5 ms of processor time a reading; told is the best of the tries, the others show
// what else the machine had to do.
func BenchmarkLargestStation(b *testing.B) {
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program has it
	for _, x := range [][2]int{{2, 30}, {6, 30}, {12, 17}, {24, 8}, {34, 6}, {48, 4}, {60, 3}} {
		for _, stated := range []reduce.Angle{2 * reduce.Arcsecond, -1} {
			for _, slip := range []reduce.Angle{0, 20 * reduce.Arcsecond} {
				name := fmt.Sprintf("%dx%d", x[0], x[1])
				if stated < 0 {
					name += "-unstated"
				}
				if slip > 0 {
					name += "-slip"
				}
				b.Run(name, func(b *testing.B) {
					s, last := largest(b, x[0], x[1], stated, slip)
					least := time.Hour
					for b.Loop() {
						least = min(least, bookAll(b, s, last))
					}
					b.ReportMetric(float64(least)/float64(len(last))/1e6, "ms/reading")
				})
			}
		}
	}
}

// largest is a station but for its last readings of a circle, and those.
func largest(b *testing.B, targets, rounds int, stated, slip reduce.Angle) (booking.Setup, []booking.Reading) {
	const last = 20
	s, err := observer.New(observer.Options{Seed: 5, Targets: targets, Rounds: rounds, CloseHalves: true, Stated: stated}).Book()
	if err != nil {
		b.Fatal(err)
	}
	var rs []booking.Reading
	for _, r := range s.Readings {
		if r.Slot.Quantity == spec.Horizontal {
			rs = append(rs, r)
		}
	}
	if slip != 0 {
		r := &rs[len(rs)/3]
		r.Value += int64(slip)
		r.Text = r.Direction().Format(s.Spec.Instrument.Unit, s.Spec.Instrument.Places())
	}
	n := len(rs) - last
	s.Readings = append([]booking.Reading(nil), rs[:n]...)
	s.LastSeq = rs[n-1].Seq
	return s, rs[n:]
}

// bookAll books readings one after the other and gives the processor time it took.
func bookAll(b *testing.B, s booking.Setup, rs []booking.Reading) time.Duration {
	start := testdata.Processor()
	w := workOut(s, check.Known{}, nil, false)
	for _, r := range rs {
		e := event.ReadingBooked{Slot: r.Slot, Text: r.Text, Value: r.Value, By: r.By}
		e.Findings = w.exp.Check(e.Value)
		next, err := w.setup.Apply(event.Entry{Seq: r.Seq, At: r.At, Setup: s.Number, Event: e})
		if err != nil {
			b.Fatal(err)
		}
		w = workOut(next, check.Known{}, nil, false)
	}
	return testdata.Processor() - start
}
