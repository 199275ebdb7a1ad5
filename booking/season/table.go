package season

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/readback/booking/check/slip"
)

// A Table is what a season measured.
type Table struct {
	Stations int
	Seed     uint64

	slips, clean, rough, stated tally
	found                       [2][]trial
	two                         couple
}

// String prints the table as text.
func (t Table) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Season of %d stations for each part, seed %d. 3 to 10 targets, 2 to 4 rounds, verticals; least count 5″,\ndefault limits, noise of one reading 2″, collimation 15″, tilt 5″, index error 10″, altitudes 4° (one standard deviation each).\n\n", t.Stations, t.Seed)
	t.atEntry(&b)
	t.cleanReadings(&b)
	t.culprits(&b)
	t.ends(&b)
	t.byKind(&b)
	return b.String()
}

func line(b *strings.Builder, what string, a, of int, rest string) {
	share := "   –  "
	if of > 0 {
		share = fmt.Sprintf("%5.1f %%", 100*float64(a)/float64(of))
	}
	fmt.Fprintf(b, "  %-58s %7s  %6d of %6d  %s\n", what, share, a, of, rest)
}

func (t Table) atEntry(b *strings.Builder) {
	s := &t.slips
	fmt.Fprintf(b, "Slips at entry: one reading in 30 (assumed), %d slips, %d of them where nothing is expected\n", s.slips, s.noExpectation)
	line(b, "only circle setting or right face expected: marked", s.roughlyMarked, s.roughly, "not counted in the next three")
	line(b, "readings outside the entry limit: marked", s.beyondMarked, s.beyond, "aim: all")
	line(b, "slips larger than the entry limit: marked", s.overEntryMarked, s.overEntry, "noise brings some inside it")
	line(b, "slips larger than the limit for rounds: marked", s.overRoundsMarked, s.overRounds, "aim: 97 %")
	fmt.Fprintf(b, "  marked at digit (median of %d)  %30d\n", len(s.digits), s.median())
	line(b, "cause named, of those marked", s.named, s.marked, "aim: 70 %")
	line(b, "the cause named is right, of those named", s.right, s.named, "aim: 85 %")
	line(b, "a wrong cause is named, of those marked", s.wrong, s.marked, "aim: 5 % or less")
	fmt.Fprintf(b, "  slips that passed and were struck later by their pair: %d\n\n", s.foundLater)
}

func (t Table) cleanReadings(b *strings.Builder) {
	fmt.Fprintf(b, "Clean readings marked, of those with an expectation\n")
	for _, x := range []struct {
		what string
		t    *tally
		aim  string
	}{{"noise 2″ as stated", &t.clean, "aim: 1 in 2,000"}, {"noise 5″, 2″ stated", &t.rough, ""}, {"noise 5″ as stated", &t.stated, ""}} {
		rate := "none"
		if x.t.falseMarks > 0 {
			rate = fmt.Sprintf("1 in %d", x.t.expected/x.t.falseMarks)
		}
		fmt.Fprintf(b, "  %-58s %s  (%d of %d)  %s\n", x.what, rate, x.t.falseMarks, x.t.expected, x.aim)
	}
	b.WriteString("\n")
}

func (t Table) culprits(b *strings.Builder) {
	for i, lc := range []string{"1″", "5″"} {
		fmt.Fprintf(b, "One slip that got through, after round 2: σ 2″, limit 10″, 4 to 8 directions, readings to %s, per cent\n", lc)
		fmt.Fprintf(b, "  %-26s %7s %9s %10s %7s %7s %7s %7s\n", "size", "n", "largest w", "likeliest", "first", "alone", "wrong", "none")
		for _, x := range t.found[i] {
			size := fmt.Sprintf("%g × limit", x.factor)
			if x.digits {
				size += ", in the digits"
			}
			if x.factor == 0 {
				size = "no slip"
			}
			p := func(n int) float64 { return 100 * float64(n) / float64(max(x.n, 1)) }
			if x.factor == 0 {
				fmt.Fprintf(b, "  %-26s %7d %9s %10s %7s %7s %7.1f %7.1f\n", size, x.n, "", "", "", "", p(x.wrong), p(x.none))
				continue
			}
			fmt.Fprintf(b, "  %-26s %7d %9.1f %10.1f %7.1f %7.1f %7.1f %7.1f\n", size, x.n, p(x.largest), p(x.likeliest), p(x.first), p(x.alone), p(x.wrong), p(x.none))
		}
	}
	b.WriteString("  largest w: plain largest normalised residual; likeliest: the tool when it must name one; first, alone: what it\n  reports; wrong: another reading named alone. Aims: first 99.5 at 3 ×, 98 at 1.5 ×; likeliest above largest w at 1 ×; wrong 0.5.\n")
	line(b, "two slips of 3 × the limit in one station: both named", t.two.both, t.two.n, "aim: 90 %")
	b.WriteString("\n")
}

func (t Table) ends(b *strings.Builder) {
	fmt.Fprintf(b, "How stations end\n")
	line(b, "clean stations on Hold (season without slips)", t.clean.cleanHold, t.clean.cleanStations, "")
	line(b, "  of them on Lift after one remedy", t.clean.cleanHoldHelped, t.clean.cleanHold, "")
	line(b, "clean stations on Lift with a suspect named", t.clean.cleanNamed, t.clean.cleanStations, "the price of holding on a suspect")
	line(b, "spoiled stations, of those with slips", t.slips.spoiledStations, t.slips.stations, "a slip larger than 10″ stands in a used round or a vertical")
	line(b, "spoiled stations on Lift", t.slips.spoiledLift, t.slips.spoiledStations, "the worst that can happen")
	line(b, "  of them in the vertical circle alone", t.slips.spoiledLiftUpright, t.slips.spoiledLift, "")
	line(b, "  of them with a suspect named beside the verdict", t.slips.spoiledLiftWarned, t.slips.spoiledLift, "")
	line(b, "  of them mended by its remedy", t.slips.spoiledLiftHelped, t.slips.spoiledLift, "")
	b.WriteString("\n")
}

func (t Table) byKind(b *strings.Builder) {
	fmt.Fprintf(b, "By kind, where something was expected\n  %-32s %6s %7s %7s %7s\n", "kind", "made", "marked", "named", "right")
	kinds := make([]slip.Kind, 0, len(t.slips.kinds))
	for k := range t.slips.kinds {
		kinds = append(kinds, k)
	}
	slices.SortFunc(kinds, func(a, c slip.Kind) int {
		return cmp.Or(cmp.Compare(t.slips.kinds[c].made, t.slips.kinds[a].made), cmp.Compare(a, c))
	})
	for _, k := range kinds {
		x := t.slips.kinds[k]
		name := string(k)
		if k == slip.Unknown {
			name = "(a poor sight: no known kind)"
		}
		fmt.Fprintf(b, "  %-32s %6d %7d %7d %7d\n", name, x.made, x.marked, x.named, x.right)
	}
}
