//go:build !unix

package output

import "os"

// lock does nothing: here a file that is open cannot be removed.
func lock(*os.File) {}

func removeUnlocked(path string) { os.Remove(path) }
