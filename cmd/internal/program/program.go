// Package program says which program this is.
package program

import "runtime/debug"

// Version names the program in the books and the outputs it makes.
func Version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "unknown"
}
