//go:build unix

package output

import (
	"os"

	"golang.org/x/sys/unix"
)

// lock marks a part file as one whose writer lives.
func lock(f *os.File) { _ = unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB) }

// removeUnlocked removes a part file unless its writer lives.
func removeUnlocked(path string) {
	f, err := os.OpenFile(path, os.O_RDONLY|unix.O_NOFOLLOW|unix.O_NONBLOCK, 0)
	if err != nil {
		return
	}
	defer f.Close()
	if unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB) == nil {
		os.Remove(path)
	}
}
