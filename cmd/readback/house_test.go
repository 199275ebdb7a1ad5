package main

import (
	"os"
	"os/exec"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
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

// rooms are the arrows inside the floors: what a package may import of its own
// floor and of the ones beside it. A package that is not named here may import
// what its floor may; a room that does not stand yet is passed over.
var rooms = map[string][]string{
	"reduce":                      {"reduce/normal"},
	"reduce/normal":               {},
	"reduce/traverse":             {"reduce", "reduce/normal"},
	"reduce/places":               {"reduce", "reduce/normal", "reduce/traverse"},
	"reduce/trend":                {"reduce"},
	"booking":                     {"reduce"},
	"booking/page":                {"reduce"},
	"booking/page/sheet":          {"booking", "booking/check", "booking/check/culprit", "booking/network", "booking/instrument", "booking/page", "reduce", "reduce/traverse"},
	"booking/network":             {"booking", "booking/check", "booking/page", "reduce", "reduce/places", "reduce/traverse"},
	"booking/instrument":          {"booking", "booking/check", "booking/page", "reduce", "reduce/trend"},
	"booking/exchange":            {"booking", "booking/check", "reduce"},
	"booking/exchange/reductions": {"booking", "booking/check", "booking/instrument", "booking/page", "booking/exchange", "reduce"},
	"booking/exchange/landxml":    {"booking", "booking/check", "booking/page", "booking/page/sheet", "booking/network", "booking/exchange", "reduce"},
	"booking/exchange/reports":    {"booking", "booking/check", "booking/instrument", "booking/network", "reduce", "reduce/places"},
	"booking/exchange/tables":     {"booking", "booking/check", "booking/instrument", "booking/network", "reduce"},
	"booking/observer":            {"booking", "booking/check", "booking/check/slip", "booking/check/culprit", "booking/network", "reduce", "reduce/traverse"},
	"store/disk":                  {},
	"store/fault":                 {"store/disk"},
	"store/journal":               {"store/disk", "store/fault"},
	"store/pages":                 {"store/disk", "store/fault", "store/journal"},
	"store/chain":                 {"store/disk", "store/fault", "store/journal", "store/pages"},
	"store/proof":                 {"store/disk", "store/fault", "store/journal", "store/chain"},
	"store/repair":                {"store/disk", "store/fault", "store/journal", "store/pages", "store/chain", "store/proof"},
	"tui/look":                    {"booking/page"},
	"tui/input":                   {},
	"booking/check":               {"booking", "reduce"},
	"booking/check/align":         {"reduce", "reduce/normal"},
	"booking/check/slip":          {"reduce", "booking/check/completion"},
	"booking/check/culprit":       {"reduce", "booking/check/completion", "booking/check/slip", "booking/check/align"},
	"booking/check/completion":    {"reduce"},
	"booking/check/forecast":      {"reduce", "reduce/normal", "booking/check/align"},
}

// Inside a floor imports run one way as well. What stands below check knows
// neither a setup nor what is held against it; what stands above booking is not
// known to it.
func TestHouse_RoomsShowTheirDirection(t *testing.T) {
	all := packages(t)
	below := []string{"booking/check/completion", "booking/check/slip", "booking/check/align", "booking/check/forecast", "booking/check/culprit"}
	seen := 0
	for p, imports := range all {
		may, named := rooms[p]
		if _, split := all["booking/page/sheet"]; p == "booking/page" && !split {
			named = false
		}
		if named {
			seen++
		}
		for _, i := range imports {
			if p == "booking/check" && slices.Contains(below, i) {
				continue
			}
			if named && !slices.Contains(may, i) {
				t.Errorf("%s imports %s, which is no room below it", p, i)
			}
			if strings.HasPrefix(p, "cmd/internal/") && i == "cmd/readback" {
				t.Errorf("%s imports the commands", p)
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d rooms are found: were they renamed?", seen)
	}
}

// cmd/readback holds commands: the terminal, the book's file and the signals are
// rooms of cmd/internal.
func TestHouse_CommandsOnly(t *testing.T) {
	if len(packagesUnder(packages(t), "cmd/internal/")) == 0 {
		return // not moved yet
	}
	out, err := exec.Command("go", "list", "-f", `{{join .Imports " "}}`, module+"cmd/readback").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range strings.Fields(string(out)) {
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
