package store

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// rooms lists the rooms of the store from the ground up: each may ask those
// before it, none those behind it.
var rooms = []string{"disk", "fault", "journal", "pages", "chain", "proof", "repair", "."}

// Ensure that the store stands alone (the standard library and bbolt, nothing
// of this module above it), that its rooms look one way, and that no testing
// package is in the program.
func TestImports(t *testing.T) {
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		here := slices.Index(rooms, filepath.ToSlash(filepath.Dir(name)))
		if here < 0 {
			t.Errorf("%s lies in a room without a place in the order", name)
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			must(t, err)
			room, own := strings.CutPrefix(path, "example.org/readback/store/")
			std := !strings.Contains(strings.Split(path, "/")[0], ".")
			bolt := path == "go.etcd.io/bbolt" || strings.HasPrefix(path, "go.etcd.io/bbolt/")
			below := own && slices.Contains(rooms[:here], room)
			if !std && !bolt && !below || path == "testing" {
				t.Errorf("%s imports %s", name, path)
			}
		}
		return nil
	})
	must(t, err)
}
