package season

import (
	"fmt"
	"math"
	"runtime"
	"strings"
	"sync"
)

// Verdicts tries the verdict on sound and on spoiled stations of every cell, so
// many of each cell (and of each spoiler) from each of the seeds, and prints the
// tables: by cell, what share of the sound stations is held and named; by spoiler,
// what share is held and named beside the plain rule and the optimum in the same
// stations, and in which cell that is the most below the plain rule. It works on
// all processors; the table does not depend on how many there are.
func Verdicts(sound, spoiled int, seeds []uint64, cells []Cell) (string, error) {
	spoilers := Spoilers()
	trials, err := tryAll(cells, spoilers, sound, spoiled, seeds)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	soundTable(&b, trials, seeds)
	spoiledTable(&b, trials, spoilers)
	return b.String(), nil
}

// tryAll tries the cells side by side.
func tryAll(cells []Cell, spoilers []spoiler, sound, spoiled int, seeds []uint64) ([]outcome, error) {
	trials, errs := make([]outcome, len(cells)), make([]error, len(cells))
	next := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for i := range next {
				trials[i], errs[i] = cells[i].Try(spoilers, sound, spoiled, seeds)
			}
		}()
	}
	for i := range cells {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return trials, nil
}

func soundTable(b *strings.Builder, trials []outcome, seeds []uint64) {
	fmt.Fprintf(b, "Sound stations, seeds %v, per cent (aims: held 4, named 3); plain: held by the largest normalised residual at a risk of 2\n", seeds)
	for _, t := range trials {
		fmt.Fprintf(b, "  %-68s n %5d  held %4.1f  named %4.1f  plain %4.1f\n", t.Cell, t.Sound.N,
			share(t.Sound.Held, t.Sound.N), share(t.Sound.Named, t.Sound.N), share(t.Sound.PlainHeld, t.Sound.N))
	}
}

func spoiledTable(b *strings.Builder, trials []outcome, spoilers []spoiler) {
	b.WriteString("\nSpoiled stations of all cells, per cent; beside them the largest normalised residual, Pope's where σ is not stated; held at the\nrisk of the verdict, by it and by the optimum, which knows σ, pattern and size; and the cells in which the verdict is the most below the plain rule (at its own risk\nwhere that holds more sound stations than it says)\n")
	fmt.Fprintf(b, "  %-26s %-11s %6s %6s %6s %6s | %6s %6s | %6s %7s | %s\n", "", "σ", "n", "held", "named", "wrong", "held", "named", "alike", "optimum", "most below: held, named")
	for i, x := range spoilers {
		for _, stated := range []bool{true, false} {
			spoiledLine(b, x, i, stated, trials)
		}
	}
}

func spoiledLine(b *strings.Builder, x spoiler, i int, stated bool, trials []outcome) {
	var all spoiled
	var held, named worst
	for _, t := range trials {
		if t.Cell.Stated != stated {
			continue
		}
		r := t.Spoiled[i]
		all = all.plus(r)
		if !t.Sound.plainKeepsItsRisk() {
			held.see(share(r.PlainAlike-r.Held, r.N), t.Cell)
			continue
		}
		held.see(share(r.PlainHeld-r.Held, r.N), t.Cell)
		named.see(share(r.PlainNamed-r.Named, r.N), t.Cell)
	}
	if all.N == 0 {
		return
	}
	word, optimum := "stated", "-"
	if !stated {
		word = "not stated"
	}
	if x.patterns != nil {
		optimum = fmt.Sprintf("%.1f", share(all.Optimum, all.N))
	}
	fmt.Fprintf(b, "  %-26s %-11s %6d %6.1f %6.1f %6.1f | %6.1f %6.1f | %6.1f %7s | %s; %s\n", x.Name, word, all.N, share(all.Held, all.N), share(all.Named, all.N),
		share(all.WrongAlone, all.N), share(all.PlainHeld, all.N), share(all.PlainNamed, all.N), share(all.PlainAlike, all.N), optimum, held, named)
}

// plainKeepsItsRisk tells whether the plain rule holds no more sound stations than
// it says, three standard errors allowed. Where it does not (readings much coarser
// than they are sighted, σ not stated) it is compared at the risk of the verdict.
func (s sound) plainKeepsItsRisk() bool {
	n := float64(s.N)
	return float64(s.PlainHeld) <= n*plainRisk+3*math.Sqrt(n*plainRisk*(1-plainRisk))
}

// worst is the cell in which something was the worst.
type worst struct {
	by   float64
	cell *Cell
}

func (w *worst) see(by float64, c Cell) {
	if by > w.by {
		w.by, w.cell = by, &c
	}
}

// String says by how much and where.
func (w worst) String() string {
	if w.cell == nil {
		return "nowhere"
	}
	return fmt.Sprintf("%.1f (%s)", w.by, w.cell.brief())
}

// brief names the cell by its numbers.
func (c Cell) brief() string {
	lc := c.LeastCount.FormatSize(c.unit())
	return fmt.Sprintf("%g″, %s, %d, %d", c.Sigma, lc, c.Targets, c.Rounds)
}

func (s spoiled) plus(o spoiled) spoiled {
	return spoiled{s.N + o.N, s.Held + o.Held, s.Named + o.Named, s.WrongAlone + o.WrongAlone,
		s.PlainHeld + o.PlainHeld, s.PlainNamed + o.PlainNamed, s.PlainAlike + o.PlainAlike, s.Optimum + o.Optimum, s.LiftedAlone + o.LiftedAlone}
}

func share(a, of int) float64 { return 100 * float64(a) / float64(max(of, 1)) }
