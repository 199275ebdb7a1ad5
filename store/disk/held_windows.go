package disk

import (
	"errors"
	"io"
	"os"
	"syscall"
)

// What syscall does not name.
const (
	accessDelete  = 0x00010000 // DELETE
	deleteOnClose = 0x04000000 // FILE_FLAG_DELETE_ON_CLOSE
	shareAll      = syscall.FILE_SHARE_READ | syscall.FILE_SHARE_WRITE | syscall.FILE_SHARE_DELETE
)

// WriteHeld writes a file that is to be there as long as somebody has something open, and
// returns what takes it away. The system takes it away when the process ends, in whatever
// way: killed, or its console closed.
func WriteHeld(path string, content []byte) (end func(), err error) {
	f, err := openShared(path, syscall.GENERIC_WRITE|accessDelete, syscall.CREATE_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL|deleteOnClose)
	if err != nil {
		return nil, err
	}
	if _, err := f.Write(content); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return func() { _ = f.Close() }, nil
}

// ReadHeld reads such a file while it is held: os.ReadFile would not let it be deleted
// meanwhile, and is refused.
func ReadHeld(path string) ([]byte, error) {
	f, err := openShared(path, syscall.GENERIC_READ, syscall.OPEN_EXISTING, syscall.FILE_ATTRIBUTE_NORMAL)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, 1<<16))
}

func openShared(path string, access, create, attributes uint32) (*os.File, error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	h, err := syscall.CreateFile(name, access, shareAll, nil, create, attributes, 0)
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return os.NewFile(uintptr(h), path), nil
}
