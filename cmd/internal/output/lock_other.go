//go:build !unix

package output

import "os"

// lock does nothing: here a file that is open cannot be removed.
func lock(*os.File) {}

// Release removes a file that was held, unless its holder lives, and tells whether
// it did.
func Release(path string) bool { return os.Remove(path) == nil }
