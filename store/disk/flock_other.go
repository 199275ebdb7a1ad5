//go:build !unix || aix || solaris

package disk

import (
	"errors"
	"os"
)

// lockFile makes path, or opens one that nobody has open: Windows does not let a
// file be removed while somebody has it.
func lockFile(path string) (*os.File, error) {
	switch err := os.Remove(path); {
	case IsBadName(err):
		return nil, err
	case err != nil && !errors.Is(err, os.ErrNotExist):
		return nil, errHeld
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, os.ErrExist) {
		return nil, errHeld
	}
	return f, err
}

// dropLock closes the file and takes it away.
func dropLock(path string, f *os.File) {
	_ = f.Close()
	_ = os.Remove(path)
}
