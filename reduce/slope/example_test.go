package slope_test

import (
	"fmt"

	"example.org/readback/reduce"
	"example.org/readback/reduce/slope"
)

// F27, question 5, target K: feet, no curvature or refraction.
func ExampleReduce() {
	z, _ := reduce.ParseDMS("86 14 58")
	hd, dh := slope.Reduce(254.39, reduce.QuarterTurn-z, 5.17, 6.00, 1)
	fmt.Printf("%.3f %.3f\n", hd, 3988.38+dh)
	// Output: 253.845 4004.190
}
