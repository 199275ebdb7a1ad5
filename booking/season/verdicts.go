package season

import (
	"fmt"
	"strings"
)

// Verdicts tries the verdict on n sound stations of every cell and on a tenth of
// that for every spoiler, from each of the seeds, and prints the tables: by cell,
// what share of the sound stations is held and named; by spoiler, what share is
// held and named beside the plain rule in the same stations, and in which cell that
// is the most below it.
func Verdicts(n int, seeds []uint64, cells []Cell) (string, error) {
	var b strings.Builder
	fmt.Fprintf(&b, "Sound stations, %d of each cell, seeds %v, per cent (aims: held 4, named 3)\n", n*len(seeds), seeds)
	for _, c := range cells {
		var all sound
		for _, seed := range seeds {
			s, err := c.TrySound(n, seed)
			if err != nil {
				return "", err
			}
			all.N, all.Held, all.Named = all.N+s.N, all.Held+s.Held, all.Named+s.Named
		}
		fmt.Fprintf(&b, "  %-68s held %4.1f  named %4.1f\n", c, share(all.Held, all.N), share(all.Named, all.N))
	}
	b.WriteString("\nSpoiled stations of all cells, per cent; beside them the largest normalised residual, Pope's where σ is not stated\n")
	fmt.Fprintf(&b, "  %-26s %-11s %6s %6s %6s | %6s %6s | %s\n", "", "σ", "held", "named", "wrong", "held", "named", "most below it")
	for _, x := range Spoilers() {
		for _, stated := range []bool{true, false} {
			if err := spoiledLine(&b, x, stated, max(n/10, 1), seeds, cells); err != nil {
				return "", err
			}
		}
	}
	return b.String(), nil
}

func spoiledLine(b *strings.Builder, x spoiler, stated bool, n int, seeds []uint64, cells []Cell) error {
	var all spoiled
	below, where := 0.0, ""
	for _, c := range cells {
		if c.Stated != stated {
			continue
		}
		var of spoiled
		for _, seed := range seeds {
			r, err := c.TrySpoiled(x, n, seed)
			if err != nil {
				return err
			}
			of = of.plus(r)
		}
		all = all.plus(of)
		if d := share(of.PlainHeld-of.Held, of.N); d > below {
			below, where = d, c.String()
		}
	}
	if all.N == 0 {
		return nil
	}
	word := "stated"
	if !stated {
		word = "not stated"
	}
	fmt.Fprintf(b, "  %-26s %-11s %6.1f %6.1f %6.1f | %6.1f %6.1f | %4.1f %s\n", x.Name, word, share(all.Held, all.N), share(all.Named, all.N),
		share(all.WrongAlone, all.N), share(all.PlainHeld, all.N), share(all.PlainNamed, all.N), below, where)
	return nil
}

func (s spoiled) plus(o spoiled) spoiled {
	return spoiled{s.N + o.N, s.Held + o.Held, s.Named + o.Named, s.WrongAlone + o.WrongAlone, s.PlainHeld + o.PlainHeld, s.PlainNamed + o.PlainNamed, s.LiftedAlone + o.LiftedAlone}
}

func share(a, of int) float64 { return 100 * float64(a) / float64(max(of, 1)) }
