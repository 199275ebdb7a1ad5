package journal

import (
	"io"
	"os"
)

// A Raw is what the journal needs of an open file. The layer is thin so that
// tests can put a file under the journal that fails or tears a write.
type Raw interface {
	io.ReaderAt
	io.WriterAt
	io.Closer
	Sync() error
	Truncate(size int64) error
	Stat() (os.FileInfo, error)
}

// Opener opens or creates a file, as os.OpenFile does.
type Opener func(path string, flag int, perm os.FileMode) (Raw, error)

func OpenOS(path string, flag int, perm os.FileMode) (Raw, error) {
	return os.OpenFile(path, flag, perm)
}
