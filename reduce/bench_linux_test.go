package reduce

import (
	"syscall"
	"time"
)

// threadTime is the processor time this thread has used: what runs beside the
// benchmark does not count. Lock the goroutine to its thread first.
func threadTime() time.Duration {
	const thisThread = 1 // RUSAGE_THREAD
	var u syscall.Rusage
	if err := syscall.Getrusage(thisThread, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
