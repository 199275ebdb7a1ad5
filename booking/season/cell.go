package season

import (
	"fmt"
	"math"
	"math/rand/v2"

	"example.org/readback/booking/observer"
	"example.org/readback/reduce"
)

// A Cell is one instrument and one programme that the verdict is tried on.
type Cell struct {
	Sigma      float64 // seconds: of one direction on both faces in one round
	LeastCount reduce.Angle
	Targets    int // the RO not counted
	Rounds     int
	Stated     bool // the crew states Sigma
}

// Cells are the instruments and programmes of the table: σ 1, 2, 5″; least count 1,
// 5, 10″ and 0.1 mgon; 3, 5, 8 targets; 2, 3, 4 rounds; σ stated and not. The smallest
// and the largest programme come first, and in each the coarsest readings: a table
// that is cut short has the ends.
func Cells() []Cell {
	var list []Cell
	for _, p := range [][2]int{{3, 2}, {8, 4}, {5, 3}, {3, 4}, {8, 2}, {3, 3}, {5, 2}, {5, 4}, {8, 3}} {
		for _, stated := range []bool{false, true} {
			for _, lc := range []reduce.Angle{10 * reduce.Arcsecond, 5 * reduce.Arcsecond, reduce.Milligon / 10, reduce.Arcsecond} {
				for _, sigma := range []float64{1, 2, 5} {
					list = append(list, Cell{sigma, lc, p[0], p[1], stated})
				}
			}
		}
	}
	return list
}

// String names the cell.
func (c Cell) String() string {
	stated := "stated"
	if !c.Stated {
		stated = "not stated"
	}
	return fmt.Sprintf("σ %g″ %s, least count %s, %d targets, %d rounds", c.Sigma, stated, c.LeastCount.FormatSize(c.unit()), c.Targets, c.Rounds)
}

// unit is gon where the least count is no whole seconds.
func (c Cell) unit() reduce.Unit {
	if c.LeastCount%reduce.Arcsecond != 0 {
		return reduce.GonUnit
	}
	return reduce.DMS
}

// observer returns an observer on a station of the cell.
func (c Cell) observer(rng *rand.Rand, faults ...observer.Fault) *observer.Observer {
	o := observer.Options{
		Seed: rng.Uint64(), Unit: c.unit(), Targets: c.Targets, Rounds: c.Rounds, LeastCount: c.LeastCount,
		Sigma: reduce.FromSeconds(c.Sigma * math.Sqrt2), CloseHalves: rng.IntN(2) == 0, Hilly: true, Faults: faults,
	}
	if !c.Stated {
		o.Stated = -1
	}
	return observer.New(o)
}

// names returns the names of the cell's stations, the RO first: they are the same
// for every seed.
func (c Cell) names() []string {
	return observer.New(observer.Options{Targets: c.Targets}).Spec.Names()
}
