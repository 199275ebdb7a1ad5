package reduce_test

import (
	"fmt"

	"example.org/readback/reduce"
	"example.org/readback/reduce/precision"
)

// F24: surveying handout "Reading, booking and calculating angles".
func ExampleAdjustStation() {
	angle := func(s string) reduce.Direction {
		a, err := reduce.ParseDMS(s)
		if err != nil {
			fmt.Println(err)
		}
		return reduce.DirectionAt(a)
	}
	mean := func(fl, fr string) reduce.Direction { return reduce.PairMean(angle(fl), angle(fr)) }
	st, err := reduce.AdjustStation([]reduce.Sight{
		{Round: 0, Target: 0, Mean: mean("0 03 50", "180 04 30")},
		{Round: 0, Target: 1, Mean: mean("83 58 50", "264 00 00")},
		{Round: 1, Target: 0, Mean: mean("45 12 30", "225 13 30")},
		{Round: 1, Target: 1, Mean: mean("129 07 30", "309 08 40")},
	}, 2, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(st.Directions[1], "dof", st.Dof)
	fmt.Printf("one direction %.1f, a mean direction %.1f, the angle %.1f\n", st.S0, st.MeanSD(1), st.SD(0, 1))
	// Output:
	// 83°55′10″ dof 1
	// one direction 5.0, a mean direction 3.5, the angle 5.0
}

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

// F27, question 5, target K: feet, no curvature or refraction.
func ExampleSlopeReduce() {
	z, _ := reduce.ParseDMS("86 14 58")
	hd, dh := reduce.SlopeReduce(254.39, reduce.QuarterTurn-z, 5.17, 6.00, 1)
	fmt.Printf("%.3f %.3f\n", hd, 3988.38+dh)
	// Output: 253.845 4004.190
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
