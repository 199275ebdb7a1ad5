//go:build unix

package disk

import (
	"errors"
	"os"
	"strings"
	"syscall"
)

// SyncDir makes created, renamed and removed names in dir durable. A file
// system that cannot do it (some cards) is not an error.
func SyncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = d.Sync()
	if cerr := d.Close(); err == nil {
		err = cerr
	}
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		return nil
	}
	return err
}

// IsNoSpace says whether err means that there is no room for more bytes.
// bbolt passes some errors on as text only.
func IsNoSpace(err error) bool {
	for _, e := range []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, e) || err != nil && strings.Contains(err.Error(), e.Error()) {
			return true
		}
	}
	return false
}

// IsBadName says whether err means that no file can have such a name.
func IsBadName(err error) bool {
	return errors.Is(err, syscall.ENAMETOOLONG) || errors.Is(err, syscall.EINVAL)
}

// IsNotAllowed says whether err means that the place may not be written.
func IsNotAllowed(err error) bool {
	return errors.Is(err, os.ErrPermission) || errors.Is(err, syscall.EROFS)
}
