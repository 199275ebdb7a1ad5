package main

import (
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

const module = "example.org/readback/"

// packages lists the packages of the module with what each imports of it.
func packages(t *testing.T) map[string][]string {
	t.Helper()
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`, module+"...").Output()
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]string{}
	for line := range strings.Lines(string(out)) {
		f := strings.Fields(line)
		name := strings.TrimPrefix(f[0], module)
		all[name] = nil
		for _, i := range f[1:] {
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
	for p := range packages(t) {
		if !strings.HasPrefix(p, "reduce") && !strings.HasPrefix(p, "booking") {
			continue
		}
		out, err := exec.Command("go", "list", "-f", `{{join .Imports " "}}{{range .GoFiles}} file:{{$.Dir}}/{{.}}{{end}}`, module+p).Output()
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range strings.Fields(string(out)) {
			name, isFile := strings.CutPrefix(f, "file:")
			if slices.Contains([]string{"os", "io/ioutil", "net", "os/exec", "testing"}, f) {
				t.Errorf("%s imports %s", p, f)
			}
			if !isFile {
				continue
			}
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
