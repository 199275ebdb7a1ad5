//go:build !windows

package disk

import "os"

// WriteHeld writes a file that is to be there as long as somebody has something open, and
// returns what takes it away. A killed program leaves it behind.
func WriteHeld(path string, content []byte) (end func(), err error) {
	if err := os.WriteFile(path, content, 0o600); err != nil {
		return nil, err
	}
	return func() { _ = os.Remove(path) }, nil
}

// ReadHeld reads such a file.
func ReadHeld(path string) ([]byte, error) { return os.ReadFile(path) }
