package reduce_test

import (
	"fmt"

	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

// F16, round 1 on B: 2c and mean.
func ExamplePairMean() {
	fl, _ := reduce.ParseDMS("60 23 36")
	fr, _ := reduce.ParseDMS("240 23 42")
	left, right := reduce.DirectionAt(fl), reduce.DirectionAt(fr)
	fmt.Println(reduce.TwoC(left, right), reduce.PairMean(left, right))
	// Output: −0°00′06″ 60°23′39″
}

// F6: structural.community topic 233.
func ExampleVerticalPair() {
	fl, _ := reduce.ParseDMS("69 58 30")
	fr, _ := reduce.ParseDMS("290 02 00")
	alt, index := reduce.VerticalPair(fl, fr, reduce.Zenith)
	fmt.Println(alt, index)
	// Output: 20°01′45″ 0°00′15″
}

func ExampleParseKeyed() {
	for _, s := range []string{"1234512", "123 45", "123 60 12"} {
		a, err := reduce.ParseKeyed(s, reduce.DMS, reduce.Arcsecond)
		fmt.Println(a, err)
	}
	// Output:
	// 123°45′12″ <nil>
	// 0°00′00″ "123 45": degrees, minutes and seconds are three parts (character 7)
	// 0°00′00″ "123 60 12": 60 minutes: minutes go to 59 (character 5)
}

// What another round buys: σ = 5″, four targets, risk 0.001, power 0.80.
func ExampleDetectableAfterRounds() {
	for n := 1; n <= 4; n++ {
		fmt.Printf("%d rounds: %.0f\n", n, precision.DetectableAfterRounds(n, 4, 5, 0.001, 0.80))
	}
	// Output:
	// 1 rounds: +Inf
	// 2 rounds: 34
	// 3 rounds: 29
	// 4 rounds: 28
}
