//go:build !linux

package testdata

import "time"

var start = time.Now()

// Processor is the time of the clock where that of the processors is not asked for.
func Processor() time.Duration { return time.Since(start) }

// Thread is the same.
func Thread() time.Duration { return time.Since(start) }
