package main

import (
	"os"
	"os/exec"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"
)

const module = "example.org/readback/"

// A listed package is what the go command says of one: all that it imports, and
// its files.
type listed struct{ imports, files []string }

// list asks the go command once for all packages of the module.
var list = sync.OnceValues(func() (map[string]listed, error) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}{{range .GoFiles}} file:{{$.Dir}}/{{.}}{{end}}`, module+"...").Output()
	all := map[string]listed{}
	for line := range strings.Lines(string(out)) {
		f := strings.Fields(line)
		var p listed
		for _, word := range f[1:] {
			if file, ok := strings.CutPrefix(word, "file:"); ok {
				p.files = append(p.files, file)
			} else {
				p.imports = append(p.imports, word)
			}
		}
		all[strings.TrimPrefix(f[0], module)] = p
	}
	return all, err
})

// listing is that list, or the end of the test.
func listing(t *testing.T) map[string]listed {
	t.Helper()
	all, err := list()
	if err != nil || len(all) < 20 {
		t.Fatalf("%d packages are listed: %v", len(all), err)
	}
	return all
}

// packages lists the packages of the module with what each imports of it.
func packages(t *testing.T) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	for name, p := range listing(t) {
		all[name] = nil
		for _, i := range p.imports {
			if in, ok := strings.CutPrefix(i, module); ok {
				all[name] = append(all[name], in)
			}
		}
	}
	return all
}

// Imports run one way: reduce <- booking <- tui <- cmd, store <- cmd.
func TestHouse_ImportsRunOneWay(t *testing.T) {
	room := func(p string) string { r, _, _ := strings.Cut(p, "/"); return r }
	may := map[string][]string{
		"reduce":  {"reduce"},
		"booking": {"booking", "reduce"},
		"store":   {"store"},
		"tui":     {"tui", "booking", "reduce"},
		"cmd":     {"cmd", "tui", "booking", "reduce", "store"},
	}
	all := packages(t)
	if len(all) < 20 {
		t.Fatalf("only %d packages are listed", len(all))
	}
	for p, imports := range all {
		for _, i := range imports {
			if !slices.Contains(may[room(p)], room(i)) {
				t.Errorf("%s imports %s", p, i)
			}
		}
	}
}

// Inside a floor imports run one way as well, along the arrows that are drawn. A room
// that is not drawn may not stand: draw it, with what it may know.
func TestHouse_RoomsShowTheirDirection(t *testing.T) {
	all := packages(t)
	for p, imports := range all {
		may, drawn := arrows[p]
		if !drawn && p != "testdata" {
			t.Errorf("%s is not drawn in arrows_test.go", p)
			continue
		}
		for _, i := range imports {
			if !slices.Contains(may, i) {
				t.Errorf("%s imports %s: no arrow is drawn there", p, i)
			}
		}
		for _, i := range may {
			if !slices.Contains(imports, i) {
				t.Errorf("%s imports %s no longer: take the arrow away", p, i)
			}
		}
	}
	for p := range arrows {
		if _, stands := all[p]; !stands {
			t.Errorf("%s is drawn and does not stand", p)
		}
	}
}

// What no program holds is for tests alone.
func TestHouse_OnlyTestsReadTestdata(t *testing.T) {
	for p, imports := range packages(t) {
		if slices.ContainsFunc(imports, func(i string) bool { return strings.HasPrefix(i, "testdata") }) {
			t.Errorf("%s imports testdata", p)
		}
	}
}

// cmd/readback holds commands: the terminal, the book's file and the signals are
// rooms of cmd/internal.
func TestHouse_CommandsOnly(t *testing.T) {
	if len(packagesUnder(packages(t), "cmd/internal/")) == 0 {
		return // not moved yet
	}
	for _, i := range listing(t)["cmd/readback"].imports {
		if slices.Contains([]string{"golang.org/x/term", "go.etcd.io/bbolt", "os/signal", "github.com/charmbracelet/bubbletea"}, i) {
			t.Errorf("cmd/readback imports %s: that is the work of a room of cmd/internal", i)
		}
	}
}

func packagesUnder(all map[string][]string, prefix string) []string {
	var under []string
	for p := range all {
		if strings.HasPrefix(p, prefix) {
			under = append(under, p)
		}
	}
	return under
}

// The contributors' guide names every package, by its last part at least.
func TestHouse_GuideNamesEveryPackage(t *testing.T) {
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	for p := range packages(t) {
		if !strings.Contains(string(guide), p[strings.LastIndex(p, "/")+1:]) {
			t.Errorf("DEVELOPERS.md does not name %s", p)
		}
	}
}

// Nothing below tui and cmd asks the clock, reads files or rolls dice.
func TestHouse_PureBelow(t *testing.T) {
	for p, of := range listing(t) {
		if !strings.HasPrefix(p, "reduce") && !strings.HasPrefix(p, "booking") {
			continue
		}
		for _, i := range of.imports {
			if slices.Contains([]string{"os", "io/ioutil", "net", "os/exec", "testing"}, i) {
				t.Errorf("%s imports %s", p, i)
			}
		}
		if len(of.files) == 0 {
			t.Errorf("%s has no file", p)
		}
		for _, name := range of.files {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if strings.Contains(string(text), "time.Now(") {
				t.Errorf("%s asks the clock", name)
			}
		}
	}
}

// Every file that a guide names with its folder stands there.
func TestHouse_GuidesNameFilesThatStand(t *testing.T) {
	named := regexp.MustCompile(`(?:[a-z_]+/)+[a-zA-Z_]+\.(?:go|md|txt|html|sql)`)
	found := 0
	for _, guide := range []string{"DEVELOPERS.md", "booking/README.md", "reduce/README.md", "store/README.md", "tui/README.md", "cmd/README.md"} {
		text, err := os.ReadFile("../../" + guide)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range named.FindAllString(string(text), -1) {
			found++
			_, here := os.Stat("../../" + f)
			_, beside := os.Stat("../../" + path.Dir(guide) + "/" + f)
			_, check := os.Stat("../../booking/check/" + f)
			if here != nil && beside != nil && check != nil {
				t.Errorf("%s names %s, which is not there", guide, f)
			}
		}
	}
	if found < 20 {
		t.Errorf("only %d files are named in the guides", found)
	}
}

// The guides stay short enough to be read.
func TestHouse_GuideIsShort(t *testing.T) {
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	if len(lines) > 200 {
		t.Errorf("DEVELOPERS.md has %d lines: 200 at most", len(lines))
	}
	for i, l := range lines {
		if utf8.RuneCountInString(l) > 120 {
			t.Errorf("DEVELOPERS.md:%d is wider than 120 columns", i+1)
		}
	}
}
