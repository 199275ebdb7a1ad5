//go:build unix && !aix && !solaris

package disk

import (
	"errors"
	"os"
	"syscall"
)

// lockFile opens path, made when it is not there, and locks it.
func lockFile(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if err != nil {
		_ = f.Close()
	}
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return nil, errHeld
	}
	return f, err
}

// dropLock takes the file away while it is still locked, then gives it back.
func dropLock(path string, f *os.File) {
	_ = os.Remove(path)
	_ = f.Close()
}
