//go:build !linux

package adjust

import "time"

var benchStart = time.Now()

// threadTime is the time of the clock where a thread's own cannot be had.
func threadTime() time.Duration { return time.Since(benchStart) }
