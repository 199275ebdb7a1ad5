// Package program says which program this is.
package program

import (
	"fmt"
	"runtime"
	"runtime/debug"
)

// stamped is set by the linker in a release: -X …/cmd/internal/program.stamped=VERSION.
var stamped string

// Version names the program in the books and the outputs it makes: the release, the
// tag or the commit it was built from, or "unreleased".
func Version() string {
	if stamped != "" {
		return stamped
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unreleased"
	}
	return versionOf(info)
}

func versionOf(info *debug.BuildInfo) string {
	if v := info.Main.Version; v != "" && v != "(devel)" {
		return v
	}
	commit, changed := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision" && len(s.Value) >= 12:
			commit = s.Value[:12]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = " with changes"
		}
	}
	if commit == "" {
		return "unreleased"
	}
	return "commit " + commit + changed
}

// Full is the version with the machine it runs on and the compiler.
func Full() string {
	return fmt.Sprintf("readback %s (%s/%s, %s)", Version(), runtime.GOOS, runtime.GOARCH, runtime.Version())
}
