package program

import (
	"runtime/debug"
	"testing"
)

func TestVersion(t *testing.T) {
	build := func(version string, settings ...debug.BuildSetting) *debug.BuildInfo {
		return &debug.BuildInfo{Main: debug.Module{Version: version}, Settings: settings}
	}
	commit := debug.BuildSetting{Key: "vcs.revision", Value: "0123456789abcdef0123"}
	changed := debug.BuildSetting{Key: "vcs.modified", Value: "true"}
	for want, info := range map[string]*debug.BuildInfo{
		"v2.1.0":                           build("v2.1.0", commit),
		"commit 0123456789ab":              build("(devel)", commit),
		"commit 0123456789ab with changes": build("", commit, changed),
		"unreleased":                       build("(devel)"),
	} {
		if got := versionOf(info); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	stamped = "2.0.0"
	defer func() { stamped = "" }()
	if Version() != "2.0.0" {
		t.Errorf("a release calls itself %q", Version())
	}
}
