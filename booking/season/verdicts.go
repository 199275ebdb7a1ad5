package season

import (
	"fmt"
	"io"
	"math"
	"runtime"
	"sync"
)

// Verdicts tries the verdict on sound and on spoiled stations of every cell, so
// many of each cell (and of each spoiler) from each of the seeds, and prints the
// tables: by cell, what share of the sound stations is held and named; by spoiler,
// what share is held and named beside the plain rule and the optimum in the same
// stations, and in which cell that is the most below the plain rule; and what share
// of the spoiled stations is lifted. It works on all processors; the tables do not
// depend on how many there are. Cells are begun in their order as long as more says
// so: a table that was cut short tells the cells it has.
func Verdicts(w io.Writer, sound, spoiled int, seeds []uint64, cells []Cell, more func() bool) error {
	spoilers := Spoilers()
	fmt.Fprintf(w, "Sound stations, seeds %v, per cent (aims: held 4, named 3); plain: held by the largest normalised residual at a risk of 2\n", seeds)
	trials, err := tryAll(w, cells, spoilers, sound, spoiled, seeds, more)
	if err != nil {
		return err
	}
	if len(trials) < len(cells) {
		fmt.Fprintf(w, "  cut short: %d of %d cells\n", len(trials), len(cells))
	}
	soundEnds(w, trials)
	spoiledTable(w, trials, spoilers)
	liftedTable(w, trials, spoilers)
	return nil
}

// tryAll tries the cells side by side and prints the line of each as soon as those
// before it are done.
func tryAll(w io.Writer, cells []Cell, spoilers []spoiler, sound, spoiled int, seeds []uint64, more func() bool) ([]outcome, error) {
	trials, errs := make([]outcome, len(cells)), make([]error, len(cells))
	done := make([]chan struct{}, len(cells))
	for i := range done {
		done[i] = make(chan struct{})
	}
	next := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				trials[i], errs[i] = cells[i].Try(spoilers, sound, spoiled, seeds)
				close(done[i])
			}
		})
	}
	begun := make(chan int, 1)
	go func() {
		n := 0
		for n < len(cells) && more() {
			next <- n
			n++
		}
		close(next)
		wait.Wait()
		begun <- n
		for _, d := range done[n:] {
			close(d)
		}
	}()
	for i := range cells {
		<-done[i]
		if trials[i].Sound.N == 0 || errs[i] != nil {
			break
		}
		soundLine(w, trials[i])
	}
	n := <-begun
	for _, err := range errs[:n] {
		if err != nil {
			return nil, err
		}
	}
	return trials[:n], nil
}

func soundLine(w io.Writer, t outcome) {
	fmt.Fprintf(w, "  %-68s n %5d  held %4.1f  named %4.1f  plain %4.1f\n", t.Cell, t.Sound.N,
		share(t.Sound.Held, t.Sound.N), share(t.Sound.Named, t.Sound.N), share(t.Sound.PlainHeld, t.Sound.N))
}

// soundEnds says how many cells miss their aims, three standard errors allowed.
func soundEnds(w io.Writer, trials []outcome) {
	held, named := 0, 0
	for _, t := range trials {
		held += one(t.Sound.Held > atMost(t.Sound.N, 0.04))
		named += one(t.Sound.Named > atMost(t.Sound.N, 0.03))
	}
	fmt.Fprintf(w, "  cells, of %d, in which more are held than 4 in 100, three standard errors allowed: %d; named more than 3: %d\n", len(trials), held, named)
}

// atMost is how many of n may be taken at a risk, three standard errors allowed.
func atMost(n int, risk float64) int {
	return int(float64(n)*risk + 3*math.Sqrt(float64(n)*risk*(1-risk)))
}

func spoiledTable(w io.Writer, trials []outcome, spoilers []spoiler) {
	fmt.Fprint(w, "\nSpoiled stations of all cells, per cent; beside them the largest normalised residual, Pope's where σ is not stated; held at the\nrisk of the verdict, by it and by the optimum, which knows σ, pattern and size; and the cells in which the verdict is the most below the plain rule (at its own risk,\nor at the verdict's where the plain one holds more sound stations than it says), ± one standard error of the difference on the same stations, with the number of\ncells in which it is more than 2 points below, three standard errors allowed\n")
	fmt.Fprintf(w, "  %-26s %-11s %6s %6s %6s %6s | %6s %6s | %6s %7s | %s\n", "", "σ", "n", "held", "named", "wrong", "held", "named", "alike", "optimum", "most below: held; named")
	for i, x := range spoilers {
		for _, stated := range []bool{true, false} {
			spoiledLine(w, x, i, stated, trials)
		}
	}
}

// sum adds up the stations of one spoiler.
func sum(trials []outcome, i int, stated bool) (all spoiled) {
	for _, t := range trials {
		if t.Cell.Stated == stated {
			all = all.plus(t.Spoiled[i])
		}
	}
	return all
}

func spoiledLine(w io.Writer, x spoiler, i int, stated bool, trials []outcome) {
	all := sum(trials, i, stated)
	if all.N == 0 {
		return
	}
	var held, named worst
	for _, t := range trials {
		if t.Cell.Stated == stated {
			r := t.rival(i)
			held.see(r.HeldAlone, r.LiftsAlone, t.Spoiled[i].N, t.Cell)
			named.see(r.NamedAlone, r.Unnamed, t.Spoiled[i].N, t.Cell)
		}
	}
	fmt.Fprintf(w, "  %-26s %-11s %6d %6.1f %6.1f %6.1f | %6.1f %6.1f | %6.1f %7s | %s; %s\n", x.Name, statedWord(stated), all.N, share(all.Held, all.N), share(all.Named, all.N),
		share(all.WrongAlone, all.N), share(all.Plain.Held, all.N), share(all.Plain.Named, all.N), share(all.Alike.Held, all.N), x.optimal(all.Optimum, all.N), held, named)
}

// liftedTable prints what share of the spoiled stations is lifted.
func liftedTable(w io.Writer, trials []outcome, spoilers []spoiler) {
	fmt.Fprint(w, "\nSpoiled and lifted, per cent: by the verdict, by the plain rule (at the verdict's risk where it holds more sound stations than it says), by the\noptimum; and by how much more than by the plain rule, ± one standard error of the difference on the same stations\n")
	for i, x := range spoilers {
		for _, stated := range []bool{true, false} {
			all := sum(trials, i, stated)
			if all.N == 0 {
				continue
			}
			r := rivalOf(trials, i, stated)
			points, se := behind(r.HeldAlone, r.LiftsAlone, all.N)
			fmt.Fprintf(w, "  %-26s %-11s n %6d  spoiled and lifted %5.1f  plain %5.1f  optimum %5s  more %5.1f ± %.1f\n", x.Name, statedWord(stated), all.N,
				100-share(all.Held, all.N), 100-share(r.Held, all.N), x.optimal(all.N-all.Optimum, all.N), points, se)
		}
	}
}

func statedWord(stated bool) string {
	if stated {
		return "stated"
	}
	return "not stated"
}

// optimal is what the optimum comes to, where there is one.
func (x spoiler) optimal(n, of int) string {
	if x.patterns == nil {
		return "-"
	}
	return fmt.Sprintf("%.1f", share(n, of))
}

// plainKeepsItsRisk tells whether the plain rule holds no more sound stations than
// it says, three standard errors allowed. Where it does not (readings much coarser
// than they are sighted, σ not stated) it is compared at the risk of the verdict.
func (s sound) plainKeepsItsRisk() bool { return s.PlainHeld <= atMost(s.N, plainRisk) }

// rival is the plain rule that the verdict is held against for a spoiler.
func (t outcome) rival(i int) rival {
	if t.Sound.plainKeepsItsRisk() {
		return t.Spoiled[i].Plain
	}
	return t.Spoiled[i].Alike
}

func rivalOf(trials []outcome, i int, stated bool) (all rival) {
	for _, t := range trials {
		if t.Cell.Stated == stated {
			all = all.plus(t.rival(i))
		}
	}
	return all
}

// worst is the cell in which something was the most below the plain rule.
type worst struct {
	by, se float64
	cell   *Cell
	beyond int // cells that are more than allowed below, three standard errors allowed
}

// allowed is how many points the verdict may lie below the plain rule in a cell.
const allowed = 2

func (w *worst) see(rival, here, n int, c Cell) {
	by, se := behind(rival, here, n)
	w.beyond += one(by-3*se > allowed)
	if by > w.by {
		w.by, w.se, w.cell = by, se, &c
	}
}

// String says by how much and where, and in how many cells it is too much.
func (w worst) String() string {
	if w.cell == nil {
		return "nowhere"
	}
	return fmt.Sprintf("%.1f ± %.1f (%s) %d", w.by, w.se, w.cell.brief(), w.beyond)
}

// brief names the cell by its numbers.
func (c Cell) brief() string {
	lc := c.LeastCount.FormatSize(c.unit())
	return fmt.Sprintf("%g″, %s, %d, %d", c.Sigma, lc, c.Targets, c.Rounds)
}

func (s spoiled) plus(o spoiled) spoiled {
	return spoiled{s.N + o.N, s.Held + o.Held, s.Named + o.Named, s.WrongAlone + o.WrongAlone,
		s.Plain.plus(o.Plain), s.Alike.plus(o.Alike), s.Optimum + o.Optimum}
}

func share(a, of int) float64 { return 100 * float64(a) / float64(max(of, 1)) }
