package season

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/readback/booking/check"
)

var cellN = flag.Int("celln", 0, "")
var cellS = flag.Int("cells", 0, "")
var cellSeed = flag.Uint64("cellseed", 1, "")

func TestCellsDev(t *testing.T) {
	if *cellN == 0 {
		t.Skip()
	}
	for i, c := range Cells() {
		if *cellS > 0 && i%*cellS != 0 {
			continue
		}
		t0 := time.Now()
		s, err := c.TrySound(*cellN, *cellSeed)
		if err != nil {
			t.Fatal(err)
		}
		flag := ""
		if float64(s.Held) > .04*float64(s.N) || float64(s.Named) > .03*float64(s.N) {
			flag = "  <<<"
		}
		fmt.Printf("%-70s held %5.1f named %5.1f %v %v%s\n", c, 100*float64(s.Held)/float64(s.N), 100*float64(s.Named)/float64(s.N), s.By, time.Since(t0)/time.Duration(s.N), flag)
	}
}

func BenchmarkJudgeUnstated(b *testing.B) {
	c := Cell{2, 1000000, 5, 3, false}
	s, _ := c.observer(rand.New(rand.NewPCG(1, 1))).Book()
	for b.Loop() {
		check.Judge(s)
	}
}

func TestSpoilDev(t *testing.T) {
	if *cellN == 0 {
		t.Skip()
	}
	for _, x := range Spoilers() {
		for _, stated := range []bool{true, false} {
			var sum Spoiled
			worst, where := 0.0, ""
			worstW, whereW := 0.0, ""
			for i, c := range Cells() {
				if c.Stated != stated || *cellS > 0 && i%*cellS != 0 {
					continue
				}
				r, err := c.TrySpoiled(x, *cellN, *cellSeed)
				if err != nil {
					t.Fatal(err)
				}
				sum.N += r.N
				sum.Held += r.Held
				sum.Named += r.Named
				sum.WrongAlone += r.WrongAlone
				sum.PlainHeld += r.PlainHeld
				sum.PlainNamed += r.PlainNamed
				sum.LiftedAlone += r.LiftedAlone
				if d := 100 * float64(r.PlainHeld-r.Held) / float64(r.N); d > worst {
					worst, where = d, c.String()
				}
				if d := 100 * float64(r.WrongAlone) / float64(r.N); d > worstW {
					worstW, whereW = d, c.String()
				}
			}
			p := func(n int) float64 { return 100 * float64(n) / float64(sum.N) }
			fmt.Printf("spoil %-26s stated %-5v held %5.1f named %5.1f wrong %4.1f | plain held %5.1f named %5.1f | lifted alone %4.1f worst %4.1f %s | wrong %4.1f %s\n", x.Name, stated, p(sum.Held), p(sum.Named), p(sum.WrongAlone), p(sum.PlainHeld), p(sum.PlainNamed), p(sum.LiftedAlone), worst, where, worstW, whereW)
		}
	}
}
