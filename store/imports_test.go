package store

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Ensure that the store stands alone: the standard library and bbolt, nothing
// of this module, and no testing package in the program.
func TestImports(t *testing.T) {
	files, err := filepath.Glob("*.go")
	must(t, err)
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		must(t, err)
		if file.Name.Name != "store" {
			continue // the example, which stands outside
		}
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			must(t, err)
			std := !strings.Contains(strings.Split(path, "/")[0], ".")
			bolt := path == "go.etcd.io/bbolt" || strings.HasPrefix(path, "go.etcd.io/bbolt/")
			test := strings.HasSuffix(name, "_test.go")
			if !std && !bolt || path == "testing" && !test {
				t.Errorf("%s imports %s", name, path)
			}
		}
	}
}
