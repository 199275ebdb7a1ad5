package store

import (
	"fmt"
	"os"
	"os/exec"
	"testing"
)

// The tests that may die or that need another process run themselves again as
// a child with this variable set to one of the names in children.
const childVar = "READBACK_STORE_CHILD"

var children = map[string]func(args []string) int{
	"damage":    damageChild,
	"append":    appendChild,
	"gather":    gatherChild,
	"appendall": appendAllChild,
	"hold":      holdChild,
}

// realDisk is where the machine's own temporary files lie, for what has to be
// measured on a disk.
var realDisk string

func TestMain(m *testing.M) {
	if name := os.Getenv(childVar); name != "" {
		os.Exit(children[name](os.Args[1:]))
	}
	realDisk = os.TempDir()
	if dir, err := os.MkdirTemp("/dev/shm", "readback-store-"); err == nil && os.Getenv("TMPDIR") == "" {
		os.Setenv("TMPDIR", dir) // in memory: the tests sync some ten thousand times
		os.Chmod(dir, 0o755)     // one test reads as another user
		code := m.Run()
		os.RemoveAll(dir)
		os.Exit(code)
	}
	os.Exit(m.Run())
}

// child prepares the test binary to run as the named child.
func child(t testing.TB, name string, args ...any) *exec.Cmd {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, a := range args {
		list = append(list, fmt.Sprint(a))
	}
	c := exec.Command(exe, list...)
	c.Env = append(os.Environ(), childVar+"="+name)
	return c
}
