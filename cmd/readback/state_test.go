package main

import (
	"go/ast"
	"go/token"
	"go/types"
	"slices"
	"strings"
	"testing"
)

// keptState are the package variables that change, each for its reason.
var keptState = map[string]string{
	"booking/check.factors":    "a table filled as it is asked: no answer depends on what is kept",
	"booking/reduction.limits": "the same",
	"store/chain.opened":       "which files this process holds open: the lock of the system does not see a second one of the same process",
}

// No package keeps state: what stands at package level is a table, a pattern, an error.
// A variable changes where it is assigned to, counted up, sent its address, or where it
// is of a type made to change.
func TestHouse_NoStateButTables(t *testing.T) {
	found := 0
	for _, p := range checked(t) {
		for name, why := range changing(p) {
			short := strings.TrimPrefix(p.pkg.Path(), module) + "." + name
			if _, reasoned := keptState[short]; reasoned {
				found++
				continue
			}
			t.Errorf("%s %s: hand it in, or say why it stays", short, why)
		}
	}
	if found != len(keptState) {
		t.Errorf("of %d reasons only %d are needed", len(keptState), found)
	}
}

// changing are the package variables that code of p changes, with the place.
func changing(p sourced) map[string]string {
	out := map[string]string{}
	variable := func(e ast.Expr) types.Object {
		for {
			switch x := e.(type) {
			case *ast.IndexExpr:
				e = x.X
			case *ast.SelectorExpr:
				if o := p.info.Uses[x.Sel]; o != nil && o.Pkg() != nil && o.Parent() == o.Pkg().Scope() {
					return o
				}
				e = x.X
			case *ast.StarExpr:
				e = x.X
			case *ast.ParenExpr:
				e = x.X
			case *ast.Ident:
				if o, ok := p.info.Uses[x].(*types.Var); ok && o.Pkg() != nil && o.Parent() == o.Pkg().Scope() {
					return o
				}
				return nil
			default:
				return nil
			}
		}
	}
	note := func(e ast.Expr) {
		if o := variable(e); o != nil {
			out[o.Name()] = "changes at " + p.fset.Position(e.Pos()).String()
		}
	}
	for _, n := range p.pkg.Scope().Names() {
		if v, ok := p.pkg.Scope().Lookup(n).(*types.Var); ok && strings.HasPrefix(v.Type().String(), "sync") {
			out[n] = "is a " + v.Type().String()
		}
	}
	for _, f := range p.files {
		ast.Inspect(f, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.AssignStmt:
				if x.Tok != token.DEFINE {
					for _, e := range x.Lhs {
						note(e)
					}
				}
			case *ast.IncDecStmt:
				note(x.X)
			case *ast.UnaryExpr:
				if x.Op == token.AND {
					note(x.X)
				}
			case *ast.CallExpr:
				if f, ok := x.Fun.(*ast.Ident); ok && slices.Contains([]string{"delete", "clear"}, f.Name) {
					note(x.Args[0])
				}
			}
			return true
		})
	}
	return out
}

// numbersFrom are the places in tui where a number of another room is made from a number
// that is counted there, each for its reason.
var numbersFrom = map[string]string{}

// No stored number comes from the place of a row in a menu, and no touch is a row and a
// thousand: a list names what its rows mean. A conversion to a number that another room
// writes out must be of a constant.
func TestHouse_NoNumberFromAMenu(t *testing.T) {
	for _, p := range checked(t) {
		if !strings.HasPrefix(p.pkg.Path(), module+"tui") {
			continue
		}
		for _, f := range p.files {
			ast.Inspect(f, func(n ast.Node) bool {
				switch x := n.(type) {
				case *ast.CallExpr:
					to, ok := p.info.Types[x.Fun]
					if !ok || !to.IsType() || len(x.Args) != 1 || p.info.Types[x.Args[0]].Value != nil {
						break
					}
					n := named(to.Type)
					if n != nil && n.Obj().Pkg() != nil && n.Obj().Pkg() != p.pkg && closedNumbers(n) {
						where := p.fset.Position(x.Pos()).String()
						if _, reasoned := numbersFrom[n.Obj().Name()]; !reasoned {
							t.Errorf("%s: %s of a number that is counted", where, n.Obj().Name())
						}
					}
				case *ast.BinaryExpr:
					if l, ok := x.Y.(*ast.BasicLit); ok && (x.Op == token.ADD || x.Op == token.SUB) && l.Value == "1000" {
						t.Errorf("%s: a row and a thousand", p.fset.Position(x.Pos()))
					}
				}
				return true
			})
		}
	}
}

// closedNumbers tells whether the numbers of a type are written out by its room: a closed set
// of constants over a small whole number.
func closedNumbers(n *types.Named) bool {
	b, ok := n.Underlying().(*types.Basic)
	if !ok || b.Info()&types.IsInteger == 0 || b.Kind() == types.Int64 {
		return false
	}
	for _, name := range n.Obj().Pkg().Scope().Names() {
		if c, ok := n.Obj().Pkg().Scope().Lookup(name).(*types.Const); ok && types.Identical(c.Type(), n) {
			return true
		}
	}
	return false
}

// Nothing on the screens' floor reads or writes a file, or runs anything: Update can't,
// and commands are handed in.
func TestHouse_ScreensReadNoFile(t *testing.T) {
	for _, p := range checked(t) {
		path := strings.TrimPrefix(p.pkg.Path(), module)
		if path != "tui" && !strings.HasPrefix(path, "tui/") || path == "tui/background" {
			continue
		}
		for _, i := range p.pkg.Imports() {
			if slices.Contains([]string{"os", "io/fs", "io/ioutil", "os/exec", "net", "net/http", "syscall"}, i.Path()) {
				t.Errorf("%s imports %s", path, i.Path())
			}
		}
	}
}
