//go:build unix && !aix && !solaris && !android

package store

import (
	"os"
	"syscall"
)

// unlock gives back the lock on a book whose handle has to be abandoned. The
// file stays mapped, so closing alone would not give it back.
func unlock(f *os.File) error {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_UN)
}
