package faces_test

import (
	"fmt"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// F16, round 1 on B: 2c and mean.
func ExamplePairMean() {
	fl, _ := reduce.ParseDMS("60 23 36")
	fr, _ := reduce.ParseDMS("240 23 42")
	left, right := reduce.DirectionAt(fl), reduce.DirectionAt(fr)
	fmt.Println(faces.TwoC(left, right), faces.PairMean(left, right))
	// Output: −0°00′06″ 60°23′39″
}

// F6: structural.community topic 233.
func ExampleVerticalPair() {
	fl, _ := reduce.ParseDMS("69 58 30")
	fr, _ := reduce.ParseDMS("290 02 00")
	alt, index := faces.VerticalPair(fl, fr, faces.Zenith)
	fmt.Println(alt, index)
	// Output: 20°01′45″ 0°00′15″
}
