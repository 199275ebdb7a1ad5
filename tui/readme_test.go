package tui

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// keysTable is the table of keys in KEYS.md, made from the bindings.
func keysTable(t testing.TB) string {
	var b strings.Builder
	b.WriteString("| screen | keys |\n| --- | --- |\n")
	names := map[string]string{
		"setup-next": "setup", "booking-keying": "booking", "booking-asking": "a marked entry", "page": "page", "pointings": "pointings",
		"strike": "strike", "strike-reason": "a reason", "compare": "rounds", "lift": "verdict", "lifted": "after the lift",
		"worklist": "work list", "figure": "figure, instruments", "limits": "limits and σ", "options": "options", "failed": "after a failed write", "leave": "leaving",
	}
	for _, sc := range scenes {
		name, ok := names[sc.name]
		if !ok {
			continue
		}
		d := newDriver(t, &fakePort{}, Options{})
		sc.lead(d)
		d.app.View()
		var ks []string
		for _, k := range d.app.shownKeys() {
			ks = append(ks, "`"+k.Help().Key+"` "+k.Help().Desc)
		}
		fmt.Fprintf(&b, "| %s | %s |\n", name, strings.Join(ks, ", "))
	}
	return b.String()
}

// The table of keys in KEYS.md is the one that the bindings make; -update writes it
// there.
func TestReadme_KeysAreCurrent(t *testing.T) {
	const begin, end = "<!-- keys: from the bindings -->\n", "<!-- keys: end -->"
	readme, err := os.ReadFile("KEYS.md")
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(readme), begin)
	_, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatalf("KEYS.md has no place for the keys, between %q and %q", begin, end)
	}
	current := before + begin + keysTable(t) + end + after
	switch {
	case current == string(readme):
	case *testdata.Update:
		if err := os.WriteFile("KEYS.md", []byte(current), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Error("the keys of KEYS.md are not those of the screens: run with -update")
	}
}

// readmeFrame is a frame of the README with the name of the golden one.
var readmeFrame = regexp.MustCompile("(?s)<!-- frame: ([a-z0-9-]+) -->\n```text\n(.*?)```")

// The README's screens are the golden frames; -update writes them there too.
func TestReadme_FramesAreCurrent(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	current := readmeFrame.ReplaceAllStringFunc(string(readme), func(shown string) string {
		name := readmeFrame.FindStringSubmatch(shown)[1]
		frame, err := os.ReadFile(filepath.Join("testdata", "frames", name+".txt"))
		if err != nil {
			t.Fatal(err)
		}
		return "<!-- frame: " + name + " -->\n```text\n" + strings.TrimRight(string(frame), "\n ") + "\n```"
	})
	switch {
	case current == string(readme):
	case *testdata.Update:
		if err := os.WriteFile("../README.md", []byte(current), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Error("a screen in README.md is not the golden frame: run with -update")
	}
}
