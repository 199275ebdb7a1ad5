package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/readback/cmd/internal/topics"
)

// documents are the texts whose commands are run: the README and the topics of help.
func documents(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{"README.md": read(t, filepath.Join("..", "..", "README.md"))}
	for _, name := range topics.Names() {
		all["help "+name], _ = topics.Text(name)
	}
	return all
}

// commandLines are the lines of a document that are commands of the program: they
// stand indented.
func commandLines(text string) []string {
	var lines []string
	for line := range strings.Lines(text) {
		cmd := strings.TrimSpace(line)
		if strings.HasPrefix(line, "  ") && strings.HasPrefix(cmd, "readback ") {
			lines = append(lines, cmd)
		}
	}
	return lines
}

// The README keeps to its size, and its screens and links stand.
func TestDocuments_ReadmeKeepsItsSize(t *testing.T) {
	text := read(t, filepath.Join("..", "..", "README.md"))
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) > 350 {
		t.Errorf("README.md has %d lines", len(lines))
	}
	for i, l := range lines {
		if ansi.StringWidth(l) > 110 {
			t.Errorf("README.md, line %d has %d columns", i+1, ansi.StringWidth(l))
		}
	}
	for _, name := range append(topics.Names(), commandNames(model(t))...) {
		if name != "help" && slices.Contains(commandNames(model(t)), name) && !strings.Contains(text, name) {
			t.Errorf("README.md does not name the command %s", name)
		}
	}
	for _, file := range []string{"booking/check/README.md", "cmd/README.md", "store/README.md", "testdata/published/README.md", "DEVELOPERS.md", "LICENSE"} {
		if _, err := os.Stat(filepath.Join("..", "..", file)); err != nil || !strings.Contains(text, file) {
			t.Errorf("README.md leads to %s: %v", file, err)
		}
	}
}

// Every command that a document shows does what it is shown for: in the order of the
// document, in a folder that holds the files it names. The screens and what needs a
// server are run by tests of their own; here they must be understood.
func TestDocuments_CommandsRun(t *testing.T) {
	folder := documentFolder(t)
	for name, text := range documents(t) {
		lines := commandLines(text)
		if name == "README.md" && len(lines) < 12 {
			t.Errorf("only %d commands are found in %s", len(lines), name)
		}
		dir := t.TempDir()
		if err := os.CopyFS(dir, os.DirFS(folder)); err != nil {
			t.Fatal(err)
		}
		for _, line := range lines {
			runLine(t, name, dir, line)
		}
	}
}

// documentFolder holds what the documents' commands name.
func documentFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	put(t, at("day.csv"), read(t, example("two-rounds.csv")))
	put(t, at("stations.csv"), "name,E,N,H\nWeir,1000,1000,\nSpire,1500,1500,\n")
	put(t, at("week.csv"), "station,ro,targets,rounds,verticals,distances,day\nWeir,Spire,Alder;Quarry,2,yes,no,2026-05-04\n")
	put(t, at("sketch.csv"), "name,E,N\nWeir,1000,1000\nSpire,1500,1500\nAlder,1180,1090\nQuarry,1060,1210\n")
	mkdir(t, at("inbox"))
	mkdir(t, at("card"))
	for _, file := range []string{"dam.readback", "north.readback", "south.readback", "east.readback", "west.readback", "inbox/a.readback", "inbox/b.readback"} {
		call(t, "", "import", at(file), example("brackenfold-day.csv"), "--booker", "Booker of "+file).must(t, exitFine)
	}
	put(t, at("held.txt"), strings.Repeat("0", 64)+"\n")
	put(t, at("card/dam.readback.jsonl"), read(t, at("dam.readback.jsonl")))
	call(t, "", "gather", at("office.readback"), at("east.readback"), at("west.readback")).must(t, exitFine)
	return dir
}

// runLine runs one command of a document in its folder.
func runLine(t *testing.T, document, dir, line string) {
	t.Helper()
	line, _, _ = strings.Cut(line, "   ") // what stands behind it explains it
	args := shellWords(line)[1:]
	if strings.Contains(line, "BOOK") || strings.Contains(line, "FILE") || strings.Contains(line, "OFFICE") {
		return // a pattern, not a command
	}
	if slices.Contains([]string{"book", "demo", "drill"}, args[0]) {
		if err := parsed(t, args); err != nil {
			t.Errorf("%s: %s: %v", document, line, err)
		}
		if slices.Contains(args, "--copy") { // a day of booking leaves the copy caught up
			put(t, filepath.Join(dir, "card", "dam.readback.jsonl"), read(t, filepath.Join(dir, "dam.readback.jsonl")))
		}
		return
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chdir(dir); err != nil {
		t.Fatal(err)
	}
	defer os.Chdir(here)
	if got := call(t, "", args...); got.code != exitFine {
		t.Errorf("%s: %s: exit %d, %s", document, line, got.code, got.err)
	}
}
