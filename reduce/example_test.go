package reduce_test

import (
	"fmt"

	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

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
