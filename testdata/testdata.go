// Package testdata is what the tests of all rooms share: the flags, and the reader
// of golden files. Nothing but tests may import it.
package testdata

import (
	"encoding/csv"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"

	_ "pgregory.net/rapid" // whose flag is set below
)

// The flags of the tests. A package has them by importing this one:
//
//	go test ./store -long       the long forms of its random tests, the seed printed
//	go test ./tui -update       golden files anew; look at each before committing it
var (
	Long   = new(bool)
	Update = flag.Bool("update", false, "write golden files anew; look at each before committing it")
)

// A property is tried with 15 draws in an ordinary run, with 100 in a long one. The heap
// of a test is small and made anew all the time: a quarter of its time went into
// collecting it.
func init() {
	debug.SetGCPercent(400)
	flag.BoolFunc("long", "run the long forms of the tests", func(text string) (err error) {
		if *Long, err = strconv.ParseBool(text); *Long {
			err = flag.Set("rapid.checks", "100")
		}
		return err
	})
	if err := flag.Set("rapid.checks", "15"); err != nil {
		panic(err) // rapid has no such flag any more
	}
}

// Times is how often something random is tried: few in an ordinary run, many
// with -long.
func Times(few, many int) int {
	if *Long {
		return many
	}
	return few
}

// Sampled says whether case n of a long row is tried: each with -long, otherwise
// every third, beginning with the first.
func Sampled(n int) bool { return OneOf(3, n) }

// OneOf says the same of a row of which an ordinary run tries one case of so many.
func OneOf(many, n int) bool { return *Long || n%many == 0 }

// A T is the part of *testing.T, *testing.B and *rapid.T that is used here.
type T interface {
	Helper()
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
}

// Golden holds a text against the file that was looked at, and writes the file
// where -update is given.
func Golden(t T, path, got string) {
	t.Helper()
	if *Update {
		err := os.MkdirAll(filepath.Dir(path), 0o755)
		if err == nil {
			err = os.WriteFile(path, []byte(got), 0o644)
		}
		if err != nil {
			t.Fatalf("%v", err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v: write it with -update and look at it", err)
	}
	if string(want) != got {
		t.Errorf("%s is no longer as it was looked at:\n%s\nwas\n%s", path, got, want)
	}
}

// Read returns a fixture whole. Its path is that from the package under test.
func Read(t T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return string(text)
}

// Rows reads a published table: lines that begin with # name its source, the first
// other line names the columns.
func Rows(t T, path string) []map[string]string {
	t.Helper()
	r := csv.NewReader(strings.NewReader(Read(t, path)))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	var rows []map[string]string
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, h := range all[0] {
			row[h] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// Constants are the values of the text constants of a type, in the order in which a
// file declares them: a closed list as it was written, that nobody can forget to copy.
func Constants(t T, path, kind string) (values []string) {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
	if err != nil {
		t.Fatalf("%v", err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if v, ok := n.(*ast.ValueSpec); ok && len(v.Values) == 1 {
			of, named := v.Type.(*ast.Ident)
			text, plain := v.Values[0].(*ast.BasicLit)
			if named && plain && of.Name == kind && text.Kind == token.STRING {
				value, _ := strconv.Unquote(text.Value)
				values = append(values, value)
			}
		}
		return true
	})
	if len(values) == 0 {
		t.Fatalf("%s: no constant of type %s", path, kind)
	}
	return values
}
