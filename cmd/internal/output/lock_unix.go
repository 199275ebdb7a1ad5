//go:build unix

package output

import (
	"os"

	"golang.org/x/sys/unix"
)

// lock marks a part file as one whose writer lives.
func lock(f *os.File) { _ = unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB) }

// Release removes a file that was held, unless its holder lives, and tells whether
// it did.
func Release(path string) bool {
	f, err := os.OpenFile(path, os.O_RDONLY|unix.O_NOFOLLOW|unix.O_NONBLOCK, 0)
	if err != nil {
		return false
	}
	defer f.Close()
	return unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB) == nil && os.Remove(path) == nil
}
