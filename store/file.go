package store

import (
	"io"
	"os"
)

// A file is what the journal needs of an open file. The layer is thin so that
// tests can put a file under the journal that fails or tears a write.
type file interface {
	io.ReaderAt
	io.WriterAt
	io.Closer
	Sync() error
	Truncate(size int64) error
	Stat() (os.FileInfo, error)
}

// opener opens or creates a file, as os.OpenFile does.
type opener func(path string, flag int, perm os.FileMode) (file, error)

func openOS(path string, flag int, perm os.FileMode) (file, error) {
	return os.OpenFile(path, flag, perm)
}
