package main

import (
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
)

// surface is how many names a package hands out at the most: package level names and
// methods. A number that must grow is a question first: who needs it?
var surface = map[string]int{
	"booking":            73,
	"booking/spec":       87,
	"booking/spec/field": 35,
	"booking/event":      59,
	"booking/reduction":  36,
	"booking/programme":  9,
	"booking/day":        22,
	"booking/check":      44,
	"booking/check/slip": 43,
	"booking/exchange":   29,
	"booking/network":    77,
	"booking/page":       69,
	"cmd/internal/book":  75,
	"reduce":             84,
	"reduce/places":      47,
	"reduce/precision":   19,
	"reduce/traverse":    52,
	"store":              24,
	"tui":                5,
	"tui/input":          24,
	"tui/look":           60,
	"tui/widget":         27,
}

// handedOut are the names that no code of another package uses and that stay, each
// for its reason.
var handedOut = map[string][]string{
	"a unit or a formula of a set that is read whole": {
		"reduce/slope.Air.Vapour",
		"reduce/slope.Refraction",
		"reduce/places.Intersect",
		"booking/spec.DefaultCarrier",
	},
	"a sentinel that a caller may ask for": {
		"booking.ErrRefused",
		"reduce/places.ErrNoFix",
		"reduce/places.ErrObservation",
		"reduce/places.ErrTooFewPoints",
	},
	"the tests of another room look through it": {
		"booking/reduction.LimitsNow",
		"booking/check/completion.Set.Meets",
		"booking/exchange.DrillMark",
		"booking/season.Cell.Try",
		"booking/season.Spoilers",
		"tui/look.Named",
		"tui/look.Names",
		"tui/look.Theme.With",
		"store/pages.CheckTree",
		"store/pages.FlagBranch",
		"store/pages.PageHead",
		"store/pages.ReadHead",
	},
	"asked for through an interface of its user": {
		"store/chain.Source.Last",
		"store/proof.Source.Record",
	},
}

// Ensure that a package exports what the code of another one uses and nothing else,
// and that no surface grows unseen.
//
// Not asked for are methods that some interface wants, constants of a type that is
// handed out (a closed set is read whole), types that a used name gives or takes, and
// what the templates of the pages name.
func TestSurface_IsWhatOthersUse(t *testing.T) {
	ps := checked(t)
	if len(ps) < 40 {
		t.Fatalf("only %d packages were read", len(ps))
	}
	used := map[string]bool{}
	for _, p := range ps {
		for _, o := range p.info.Uses {
			if o.Pkg() != nil && o.Pkg().Path() != p.pkg.Path() {
				used[nameOf(o)] = true
			}
		}
	}
	wanted := wantedByInterfaces(ps)
	given := givenByUsed(ps, used)
	inTemplates := templateWords(t)
	reasoned := map[string]bool{}
	for _, names := range handedOut {
		for _, n := range names {
			reasoned[n] = true
		}
	}
	total := 0
	for _, p := range ps {
		names := namesOf(p.pkg)
		total += len(names)
		path := strings.TrimPrefix(p.pkg.Path(), module)
		if most, ok := surface[path]; ok && len(names) > most {
			t.Errorf("%s hands out %d names, noted are %d", path, len(names), most)
		}
		if p.pkg.Name() == "main" { // the command line is read by reflection
			continue
		}
		for _, o := range names {
			name := nameOf(o)
			short := strings.TrimPrefix(name, module)
			if used[name] && reasoned[short] {
				t.Logf("%s is used now: it needs no reason", short)
			}
			if used[name] || reasoned[short] || given[name] || closedSet(o) || wanted[shapeOf(o)] || inTemplates[o.Name()] && strings.HasPrefix(path, "booking/page") {
				continue
			}
			t.Errorf("%s is used by no other package", short)
		}
	}
	t.Logf("%d names in %d packages", total, len(ps))
}

type sourced struct {
	pkg   *types.Package
	info  *types.Info
	files []*ast.File
	fset  *token.FileSet
}

// checked are all packages of the module, read once for the four tests that ask, and
// then forgotten: 80 MB would be marked at every collection that follows.
func checked(t *testing.T) []sourced {
	t.Helper()
	kept.Lock()
	defer kept.Unlock()
	if kept.packages == nil {
		var err error
		if kept.packages, err = readPackages(); err != nil {
			t.Fatal(err)
		}
	}
	ps := kept.packages
	if kept.asked++; kept.asked%4 == 0 {
		kept.packages = nil
	}
	return ps
}

var kept struct {
	sync.Mutex
	packages []sourced
	asked    int
}

// readPackages reads every package of the module without its tests, its imports from
// what the compiler wrote of them.
func readPackages() ([]sourced, error) {
	out, err := exec.Command("go", "list", "-export", "-deps", "-f", "{{.ImportPath}}\t{{.Export}}\t{{.Dir}}\t{{join .GoFiles \" \"}}", module+"...").Output()
	if err != nil {
		return nil, err
	}
	exports := map[string]string{}
	fset := token.NewFileSet()
	conf := types.Config{Importer: importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })}
	var ps []sourced
	for line := range strings.Lines(string(out)) {
		f := strings.Split(strings.TrimSpace(line), "\t")
		exports[f[0]] = f[1]
		if !strings.HasPrefix(f[0], module) {
			continue
		}
		var files []*ast.File
		for _, name := range strings.Fields(f[3]) {
			file, err := parser.ParseFile(fset, filepath.Join(f[2], name), nil, 0)
			if err != nil {
				return nil, err
			}
			files = append(files, file)
		}
		info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{}}
		pkg, err := conf.Check(f[0], fset, files, info)
		if err != nil {
			return nil, err
		}
		ps = append(ps, sourced{pkg, info, files, fset})
	}
	return ps, nil
}

// nameOf is an object as package, type and name: the same whether it was read from the
// source or from what the compiler wrote. A field has no name here.
func nameOf(o types.Object) string {
	switch x := o.(type) {
	case *types.Var:
		if x.IsField() {
			return ""
		}
	case *types.Func:
		if r := x.Signature().Recv(); r != nil {
			if n := named(r.Type()); n != nil {
				return fmt.Sprintf("%s.%s.%s", o.Pkg().Path(), n.Obj().Name(), o.Name())
			}
			return ""
		}
	}
	if o.Pkg() == nil {
		return ""
	}
	return o.Pkg().Path() + "." + o.Name()
}

func named(t types.Type) *types.Named {
	if p, ok := t.(*types.Pointer); ok {
		t = p.Elem()
	}
	n, _ := t.(*types.Named)
	return n
}

// namesOf lists what a package hands out, the methods of its types with it.
func namesOf(p *types.Package) (list []types.Object) {
	for _, n := range p.Scope().Names() {
		o := p.Scope().Lookup(n)
		if !o.Exported() {
			continue
		}
		list = append(list, o)
		if t, ok := o.(*types.TypeName); ok && !t.IsAlias() {
			if n := named(t.Type()); n != nil {
				for m := range n.Methods() {
					if m.Exported() {
						list = append(list, m)
					}
				}
			}
		}
	}
	return list
}

// closedSet tells whether o is a constant of an exported type of its package.
func closedSet(o types.Object) bool {
	c, ok := o.(*types.Const)
	if !ok {
		return false
	}
	n := named(c.Type())
	return n != nil && n.Obj().Exported() && n.Obj().Pkg() == o.Pkg()
}

// shapeOf is a method by its name and what it takes and gives; empty for anything else.
func shapeOf(o types.Object) string {
	f, ok := o.(*types.Func)
	if !ok || f.Signature().Recv() == nil {
		return ""
	}
	shape := o.Name() + "("
	for v := range f.Signature().Params().Variables() {
		shape += types.TypeString(v.Type(), nil) + " "
	}
	shape += ") "
	for v := range f.Signature().Results().Variables() {
		shape += types.TypeString(v.Type(), nil) + " "
	}
	return shape
}

// wantedByInterfaces are the shapes of the methods of all interfaces that can be seen.
func wantedByInterfaces(ps []sourced) map[string]bool {
	wanted := map[string]bool{"Error() string ": true, "Unwrap() error ": true, "Unwrap() []error ": true, "Is(error ) bool ": true}
	seen := map[*types.Package]bool{}
	var walk func(p *types.Package)
	walk = func(p *types.Package) {
		if seen[p] {
			return
		}
		seen[p] = true
		for _, n := range p.Scope().Names() {
			t, ok := p.Scope().Lookup(n).(*types.TypeName)
			if !ok {
				continue
			}
			of := []types.Type{t.Type().Underlying()}
			if s, ok := of[0].(*types.Struct); ok { // an interface may be asked for in a field
				for f := range s.Fields() {
					of = append(of, f.Type())
				}
			}
			for _, t := range of {
				if i, ok := t.(*types.Interface); ok {
					for m := range i.Methods() {
						wanted[shapeOf(m)] = true
					}
				}
			}
		}
		for _, i := range p.Imports() {
			walk(i)
		}
	}
	for _, p := range ps {
		walk(p.pkg)
	}
	return wanted
}

// givenByUsed are the types that the fields, arguments and results of used names
// consist of.
func givenByUsed(ps []sourced, used map[string]bool) map[string]bool {
	given := map[string]bool{}
	for {
		before := len(given)
		for _, p := range ps {
			for _, o := range namesOf(p.pkg) {
				if name := nameOf(o); used[name] || given[name] {
					parts(o.Type(), o, given)
				}
			}
		}
		if len(given) == before {
			return given
		}
	}
}

// parts marks the named types that a type consists of, not looking into them.
func parts(t types.Type, of types.Object, given map[string]bool) {
	if tn, ok := of.(*types.TypeName); ok && t == tn.Type() {
		t = t.Underlying()
	}
	switch x := t.(type) {
	case *types.Named:
		if x.Obj().Pkg() != nil {
			given[nameOf(x.Obj())] = true
		}
		for a := range x.TypeArgs().Types() {
			parts(a, nil, given)
		}
	case *types.Alias:
		parts(types.Unalias(x), nil, given)
	case *types.Pointer:
		parts(x.Elem(), nil, given)
	case *types.Slice:
		parts(x.Elem(), nil, given)
	case *types.Array:
		parts(x.Elem(), nil, given)
	case *types.Map:
		parts(x.Key(), nil, given)
		parts(x.Elem(), nil, given)
	case *types.Signature:
		for v := range x.Params().Variables() {
			parts(v.Type(), nil, given)
		}
		for v := range x.Results().Variables() {
			parts(v.Type(), nil, given)
		}
	case *types.Interface:
		for m := range x.Methods() {
			parts(m.Type(), nil, given)
		}
	case *types.Struct:
		for f := range x.Fields() {
			if f.Exported() {
				parts(f.Type(), nil, given)
			}
		}
	}
}

// templateWords are the words behind a dot in the templates of the pages.
func templateWords(t *testing.T) map[string]bool {
	t.Helper()
	words := map[string]bool{}
	files, err := filepath.Glob("../../booking/page/*.html")
	if err != nil || len(files) == 0 {
		t.Fatalf("no template is found: %v", err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`[.][A-Z][A-Za-z]*`).FindAllString(string(text), -1) {
			words[m[1:]] = true
		}
	}
	return words
}
