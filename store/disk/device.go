package disk

import (
	"path/filepath"
	"slices"
	"strings"
)

// devices are names that Windows keeps for devices, in any folder, with any
// extension and whatever blanks and full stops follow. (From memory, after the
// rules for names of files that its maker publishes.)
var devices = []string{
	"con", "prn", "aux", "nul", "conin$", "conout$",
	"com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9", "com¹", "com²", "com³",
	"lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9", "lpt¹", "lpt²", "lpt³",
}

// IsDevice tells whether a name is that of a device on Windows: a file of that name
// cannot be carried there, wherever it was made.
func IsDevice(path string) bool {
	name, _, _ := strings.Cut(filepath.Base(path), ".")
	name, _, _ = strings.Cut(name, ":")
	return slices.Contains(devices, strings.ToLower(strings.TrimRight(name, " ")))
}
