package adjust

import (
	"time"

	"golang.org/x/sys/unix"
)

// threadTime is the processor time this thread has used: what runs beside the
// benchmark does not count. Lock the goroutine to its thread first.
func threadTime() time.Duration {
	var t unix.Timespec
	if err := unix.ClockGettime(unix.CLOCK_THREAD_CPUTIME_ID, &t); err != nil {
		return 0
	}
	return time.Duration(t.Nano())
}
