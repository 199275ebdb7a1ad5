package disk

import (
	"errors"
	"os"
	"strings"
	"syscall"
)

// Windows error numbers that mean a full or write-protected disk, or an impossible name.
const (
	errorHandleDiskFull syscall.Errno = 39
	errorDiskFull       syscall.Errno = 112
	errorWriteProtect   syscall.Errno = 19
	errorInvalidName    syscall.Errno = 123
)

// SyncDir does nothing: Windows keeps directories durable by itself and does
// not let a program flush one.
func SyncDir(string) error { return nil }

// IsNoSpace says whether err means that there is no room for more bytes.
// bbolt passes some errors on as text only.
func IsNoSpace(err error) bool {
	for _, e := range []syscall.Errno{errorDiskFull, errorHandleDiskFull, syscall.ENOSPC} {
		if errors.Is(err, e) || err != nil && strings.Contains(err.Error(), e.Error()) {
			return true
		}
	}
	return false
}

// IsBadName says whether err means that no file can have such a name.
func IsBadName(err error) bool {
	return errors.Is(err, errorInvalidName) || errors.Is(err, syscall.ENAMETOOLONG) || errors.Is(err, syscall.EINVAL)
}

// IsNotAllowed says whether err means that the place may not be written.
func IsNotAllowed(err error) bool {
	return errors.Is(err, os.ErrPermission) || errors.Is(err, errorWriteProtect)
}
