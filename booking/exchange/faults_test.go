package exchange

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// Each case of faults.txt is a file (after ==), and what is said of it (after
// ----). Go escapes stand for bytes that a text file cannot hold.
func TestFaults(t *testing.T) {
	path := filepath.Join("..", "..", "testdata", "readings", "faults.txt")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var now strings.Builder
	cases := strings.Split(string(text), "== ")[1:]
	if len(cases) < 40 {
		t.Fatalf("%d cases", len(cases))
	}
	for _, c := range cases {
		name, rest, _ := strings.Cut(c, "\n")
		file, want, ok := strings.Cut(rest, "----\n")
		if !ok {
			t.Fatalf("%s: no line of four dashes", name)
		}
		raw := strings.NewReplacer(`\xff`, "\xff", `\x1b`, "\x1b").Replace(file)
		got := said(raw)
		for said := range strings.Lines(got) {
			if !strings.Contains(said, ", column ") {
				t.Errorf("%s: no column: %s", name, said)
			}
		}
		now.WriteString("== " + name + "\n" + file + "----\n" + got)
		if got != want && !*testdata.Update {
			t.Errorf("%s: said\n%swant\n%s", name, got, want)
		}
	}
	if *testdata.Update {
		if err := os.WriteFile(path, []byte(now.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func said(text string) string {
	f, err := readAll(strings.NewReader(text), "weir.csv")
	if err == nil {
		_, err = f.papers(Options{})
	}
	if err == nil {
		return ""
	}
	if !errors.Is(err, ErrFile) {
		return "not a fault of the file: " + err.Error() + "\n"
	}
	return err.Error() + "\n"
}
