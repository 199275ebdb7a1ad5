//go:build unix && !aix && !solaris && !android

package disk

import (
	"os"
	"syscall"
)

// Unlock gives back the lock on a book whose handle has to be abandoned. The
// file stays mapped, so closing alone would not give it back.
func Unlock(f *os.File) error {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_UN)
}
