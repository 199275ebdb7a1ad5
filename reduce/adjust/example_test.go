package adjust_test

import (
	"fmt"

	"example.org/readback/reduce"
	"example.org/readback/reduce/adjust"
	"example.org/readback/reduce/faces"
)

// F24: surveying handout "Reading, booking and calculating angles".
func ExampleSights() {
	angle := func(s string) reduce.Direction {
		a, err := reduce.ParseDMS(s)
		if err != nil {
			fmt.Println(err)
		}
		return reduce.DirectionAt(a)
	}
	mean := func(fl, fr string) reduce.Direction { return faces.PairMean(angle(fl), angle(fr)) }
	st, err := adjust.Sights([]adjust.Sight{
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
