package tui

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// keysTable is the table of keys of the README, made from the bindings.
func keysTable(t testing.TB) string {
	var b strings.Builder
	b.WriteString("| screen | keys |\n| --- | --- |\n")
	names := map[string]string{
		"setup-next": "setup", "booking-keying": "booking", "booking-asking": "a marked entry", "page": "page", "pointings": "pointings",
		"strike": "strike", "strike-reason": "a reason", "compare": "rounds", "lift": "verdict", "lifted": "after the lift",
		"worklist": "work list", "figure": "figure, instruments", "options": "options", "failed": "after a failed write", "leave": "leaving",
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
		for _, k := range d.app.bar.Bindings {
			ks = append(ks, "`"+k.Help().Key+"` "+k.Help().Desc)
		}
		fmt.Fprintf(&b, "| %s | %s |\n", name, strings.Join(ks, ", "))
	}
	return b.String()
}

// The README's table of keys is the one that the bindings make. It stands between
// two comments.
func TestReadme_KeysAreCurrent(t *testing.T) {
	want := keysTable(t)
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(readme), "<!-- keys: from the bindings -->\n")
	got, _, end := strings.Cut(rest, "<!-- keys: end -->")
	if !ok || !end {
		t.Logf("README.md holds no table of keys; this is the one that belongs there:\n%s", want)
		return
	}
	if strings.TrimSpace(got) != strings.TrimSpace(want) {
		t.Fatalf("the keys of README.md are not those of the screens:\n%s", want)
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
	case *update:
		if err := os.WriteFile("../README.md", []byte(current), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Error("a screen in README.md is not the golden frame: run with -update")
	}
}
