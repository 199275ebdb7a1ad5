package background

import (
	"go/parser"
	"go/token"
	"reflect"
	"strconv"
	"testing"

	"github.com/charmbracelet/lipgloss"
)

// bubbletea asks the terminal in its own init; this package's must come first.
const bubbletea = "github.com/charmbracelet/bubbletea"

func TestBackground_IsSet(t *testing.T) {
	if !lipgloss.HasDarkBackground() {
		t.Error("the background is not the one that init sets")
	}
}

// Go initialises packages whose imports are ready in the order of their paths:
// ours must be ready with lipgloss alone and sort before bubbletea.
func TestBackground_ComesFirst(t *testing.T) {
	if path := reflect.TypeOf(struct{ here }{}).Field(0).Type.PkgPath(); path >= bubbletea {
		t.Errorf("%s is initialised after %s", path, bubbletea)
	}
	f, err := parser.ParseFile(token.NewFileSet(), "background.go", nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range f.Imports {
		if p, _ := strconv.Unquote(i.Path.Value); p != "github.com/charmbracelet/lipgloss" {
			t.Errorf("background imports %s", p)
		}
	}
}

type here struct{}
