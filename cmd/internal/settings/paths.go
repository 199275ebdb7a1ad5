// Package settings finds what the user of this machine chose: where the default book
// is kept and how the screens look.
package settings

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
)

// dataDir returns the directory for the user's default book: XDG_DATA_HOME or
// its usual place, and the system's own place on Windows and macOS.
func dataDir(getenv func(string) string) (string, error) {
	if d := getenv("XDG_DATA_HOME"); d != "" {
		return filepath.Join(d, "readback"), nil
	}
	switch runtime.GOOS {
	case "windows":
		if d := getenv("LOCALAPPDATA"); d != "" {
			return filepath.Join(d, "Readback"), nil
		}
	case "darwin":
		if d := getenv("HOME"); d != "" {
			return filepath.Join(d, "Library", "Application Support", "Readback"), nil
		}
	}
	if d := getenv("HOME"); d != "" {
		return filepath.Join(d, ".local", "share", "readback"), nil
	}
	return "", fmt.Errorf("there is no home folder to keep the default book in: name a file with readback book FILE")
}

// DefaultBook returns the path of the user's default book and makes its
// directory, for the owner only.
func DefaultBook(getenv func(string) string) (string, error) {
	dir, err := dataDir(getenv)
	if err != nil {
		return "", err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("cannot make the folder of the default book: %w", err)
	}
	return filepath.Join(dir, "fieldbook.readback"), nil
}
