package testdata

import (
	"time"

	"golang.org/x/sys/unix"
)

// Processor is what this process has used of all processors, collecting garbage
// included: a busy machine lengthens the time of the clock, and this hardly.
func Processor() time.Duration { return used(unix.CLOCK_PROCESS_CPUTIME_ID) }

// Thread is what this thread has used of a processor: what runs beside the benchmark
// does not count. Lock the goroutine to its thread first.
func Thread() time.Duration { return used(unix.CLOCK_THREAD_CPUTIME_ID) }

func used(clock int32) time.Duration {
	var t unix.Timespec
	if err := unix.ClockGettime(clock, &t); err != nil {
		return 0
	}
	return time.Duration(t.Nano())
}
