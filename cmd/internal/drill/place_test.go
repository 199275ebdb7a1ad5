package drill

import (
	"os"
	"path/filepath"
	"testing"
)

// What a killed demonstration left is removed by the next one; what another is using
// is not, nor what is none of ours.
func TestThrowAway_ClearsWhatIsLeft(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	t.Setenv("TMP", os.Getenv("TMPDIR"))
	used, remove, err := ThrowAway()
	if err != nil {
		t.Fatal(err)
	}
	left := filepath.Join(os.TempDir(), placeName+"left")
	foreign := filepath.Join(os.TempDir(), placeName+"foreign")
	for _, dir := range []string{left, foreign} {
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(left, inUse), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	_, also, err := ThrowAway()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(left); err == nil {
		t.Error("what a killed run left is still there")
	}
	for _, dir := range []string{used, foreign} {
		if _, err := os.Stat(dir); err != nil {
			t.Errorf("%s was removed", dir)
		}
	}
	remove()
	also()
	if _, err := os.Stat(used); err == nil {
		t.Error("the throw-away book was not thrown away")
	}
}
