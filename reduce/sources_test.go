package reduce

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// sourceFiles are the files of this package and of the rooms that cite from its table.
func sourceFiles(t *testing.T) (list []string) {
	t.Helper()
	for _, room := range []string{".", "adjust", "decimal", "faces", "fieldtest", "lengths", "precision", "slope"} {
		files, err := filepath.Glob(filepath.Join(room, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v", room, err)
		}
		for _, name := range files {
			if !strings.HasSuffix(name, "_test.go") {
				list = append(list, name)
			}
		}
	}
	return list
}

// Every tag used at a formula is in the table of doc.go, and every tag of the
// table is used; a tag with a number has its figures in testdata/published.
func TestSources_TagsAndTable(t *testing.T) {
	tag := regexp.MustCompile(`\[([A-Z]+[0-9]*)\]`)
	table, used := map[string]bool{}, map[string]string{}
	for _, name := range sourceFiles(t) {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(string(b), "\n") {
			entry := name == "doc.go" && strings.HasPrefix(line, "//\t[")
			for _, m := range tag.FindAllStringSubmatch(line, -1) {
				if entry {
					table[m[1]] = true
				} else if strings.Contains(line, "//") {
					used[m[1]] = name
				}
			}
		}
	}
	for tag, name := range used {
		if !table[tag] {
			t.Errorf("%s uses [%s], which doc.go does not name", name, tag)
		}
	}
	for tag := range table {
		if used[tag] == "" {
			t.Errorf("doc.go names [%s], which nothing uses", tag)
		}
		// S5's figures are in F16.txt: it is the same round worked by another rule.
		if strings.ContainsAny(tag, "0123456789") && tag != "S5" {
			testdata.Published(t, tag)
		}
	}
	if len(table) < 20 {
		t.Errorf("only %d sources found", len(table))
	}
}

// Every fixture is read by a test of this package or of one below it.
func TestSources_EveryFixtureIsUsed(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "published", "*.txt"))
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	var tests strings.Builder
	err = filepath.WalkDir("..", func(path string, d os.DirEntry, err error) error {
		switch {
		case err != nil: // what a test running beside this one has just taken away
			return nil
		case d.IsDir() && d.Name() == "testdata":
			return filepath.SkipDir
		case strings.HasSuffix(path, "_test.go"):
			b, err := os.ReadFile(path)
			tests.Write(b)
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".txt")
		if !strings.Contains(tests.String(), `"`+name+`"`) && !strings.Contains(tests.String(), name+".txt") {
			t.Errorf("no test reads %s", f)
		}
	}
}

// The package is pure: no clock, no files, no chance, no variable that could
// change, and only the standard library, gonum's distributions and our own solver under it.
func TestPurity(t *testing.T) {
	allowed := map[string]bool{"errors": true, "fmt": true, "math": true, "strings": true, "slices": true, "strconv": true, "example.org/readback/reduce": true, "example.org/readback/reduce/decimal": true, "example.org/readback/reduce/faces": true, "example.org/readback/reduce/normal": true, "example.org/readback/reduce/precision": true, "gonum.org/v1/gonum/stat/distuv": true}
	fset := token.NewFileSet()
	for _, name := range sourceFiles(t) {
		f, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			if p := strings.Trim(i.Path.Value, `"`); !allowed[p] {
				t.Errorf("%s imports %s", name, p)
			}
		}
		for _, d := range f.Decls {
			if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.VAR {
				for _, s := range g.Specs {
					for _, id := range s.(*ast.ValueSpec).Names {
						if !strings.HasPrefix(strings.ToLower(id.Name), "err") {
							t.Errorf("%s: package variable %s", name, id.Name)
						}
					}
				}
			}
		}
	}
}
