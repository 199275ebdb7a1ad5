package drill

import (
	"fmt"
	"os"
	"path/filepath"

	"example.org/readback/cmd/internal/output"
)

// placeName begins the name of the directory of a throw-away book.
const placeName = "readback-demo-"

// inUse is the file that is held open while a throw-away book is used.
const inUse = "in-use"

// ThrowAway makes a directory for a book that is thrown away, and the func that
// removes it. What a killed run left is removed first.
func ThrowAway() (dir string, remove func(), err error) {
	clearLeft()
	if dir, err = os.MkdirTemp("", placeName); err != nil {
		return "", nil, fmt.Errorf("no place for the throw-away book: %w", err)
	}
	held, err := output.Hold(filepath.Join(dir, inUse))
	if err != nil {
		os.RemoveAll(dir)
		return "", nil, fmt.Errorf("no place for the throw-away book: %w", err)
	}
	return dir, func() { held.Close(); os.RemoveAll(dir) }, nil
}

// clearLeft removes the directories of runs that do not live any more.
func clearLeft() {
	left, err := filepath.Glob(filepath.Join(os.TempDir(), placeName+"*"))
	if err != nil {
		return
	}
	for _, dir := range left {
		info, err := os.Lstat(dir)
		if err != nil || !info.IsDir() {
			continue
		}
		if output.Release(filepath.Join(dir, inUse)) {
			os.RemoveAll(dir)
		}
	}
}
