package store

import (
	"flag"
	"math/rand/v2"
	"testing"
)

var seedFlag = flag.Uint64("seed", 1, "seed of the random tests")

// newRand gives a source of chance that the printed seed repeats.
func newRand(t testing.TB, n uint64) *rand.Rand {
	t.Logf("seed %d, draw %d", *seedFlag, n)
	return rand.New(rand.NewPCG(*seedFlag, n))
}
