package tui

import (
	"fmt"
	"math"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking/day"
	"example.org/readback/booking/network"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// twoHundred are setups on a lattice of 200 stations, each sighting its neighbours.
func twoHundred() network.Input {
	in := network.Input{Settings: network.DefaultSettings()}
	const side = 15
	at := func(i int) (e, n float64) {
		return 1000 + 200*float64(i%side) + 17*math.Sin(float64(7*i)), 2000 + 200*float64(i/side) + 17*math.Cos(float64(5*i))
	}
	for i := range 200 {
		m := day.Summary{Setup: i + 1, Station: fmt.Sprint("P", i), Instrument: spec.Instrument{Name: "T-5", LeastCount: reduce.Arcsecond, Unit: reduce.DMS, Sigma: 2 * reduce.Arcsecond}}
		for _, d := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, -1}} {
			x, y := i%side+d[0], i/side+d[1]
			if j := y*side + x; x >= 0 && x < side && y >= 0 && j < 200 {
				e, n := at(i)
				te, tn := at(j)
				m.Sights = append(m.Sights, day.SightLine{Target: fmt.Sprint("P", j), Rounds: 2, Direction: reduce.DirectionAt(reduce.FromRadians(math.Atan2(te-e, tn-n)).Normalize()), Horizontal: math.Hypot(te-e, tn-n)})
			}
		}
		in.Setups = append(in.Setups, m)
	}
	return in
}

// BenchmarkKey_FiguresOf200 presses keys while the figures of a book of 200 stations are
// worked beside them, over and over, and turn by turn while they rest: a key waits for no
// adjustment. It reports the medians and the slowest of a hundred, and how long one
// working takes.
func BenchmarkKey_FiguresOf200(b *testing.B) {
	in := twoHundred()
	from := time.Now()
	network.Work(in)
	figures := time.Since(from)
	d := full(newDriver(b, &fakePort{}, Options{}))
	d.size(100, 30)
	keys := []tea.Msg{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("2")}, tea.KeyMsg{Type: tea.KeyBackspace}}
	var took [2][]time.Duration
	for i := 0; b.Loop(); i++ {
		var stop atomic.Bool
		done := make(chan struct{})
		beside := i % 2
		if beside == 1 {
			in.Stop = stop.Load
			go func() {
				for !stop.Load() {
					network.Work(in)
				}
				close(done)
			}()
		} else {
			close(done)
		}
		for range 100 {
			from := time.Now()
			d.app.Update(keys[len(took[beside])%2])
			_ = d.app.View()
			took[beside] = append(took[beside], time.Since(from))
			time.Sleep(time.Millisecond) // nobody keys without a pause
		}
		stop.Store(true)
		<-done
	}
	b.ReportMetric(float64(figures.Milliseconds()), "ms/figures")
	for k, name := range []string{"resting", "working"} {
		if slices.Sort(took[k]); len(took[k]) > 0 {
			b.ReportMetric(float64(took[k][len(took[k])/2].Microseconds()), "µs/"+name)
			b.ReportMetric(float64(took[k][len(took[k])*99/100].Microseconds()), "µs99/"+name)
		}
	}
}
