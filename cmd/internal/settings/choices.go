package settings

import (
	"os"
	"path/filepath"
)

// Choices are what was chosen about the screens in an earlier run, kept in a small file
// of the user's configuration directory, and what keeps them. Without one they last as
// long as the program runs. A failure to write them costs nothing that was booked and is
// not worth a word on the screen.
func Choices() (remembered []byte, remember func(choices []byte)) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return nil, nil
	}
	file := filepath.Join(dir, "readback", "screen.json")
	remembered, _ = os.ReadFile(file)
	return remembered, func(choices []byte) {
		if os.MkdirAll(filepath.Dir(file), 0o700) != nil {
			return
		}
		tmp := file + ".new"
		if os.WriteFile(tmp, choices, 0o600) == nil {
			_ = os.Rename(tmp, file)
		}
	}
}
