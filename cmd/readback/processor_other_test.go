//go:build !linux

package main

import "time"

var processStart = time.Now()

// processorTime is the time of the clock where that of the processor is not asked for.
func processorTime() time.Duration { return time.Since(processStart) }
