package main

import (
	"crypto/sha256"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
)

// The cover lists what is handed over: the book, its journal and the files that are
// named, each with its size and its hash; and the cover itself is held against the
// book as before.
func TestCover_ListsWhatIsHandedOver(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	call(t, "", "import", at("dam.readback"), example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	for name, as := range map[string]string{"dam.csv": "csv", "dam.xml": "landxml", "dirs.csv": "directions", "dam.json": "json", "dam.sql": "sql"} {
		call(t, "", "export", at("dam.readback"), "--as", as, "-o", at(name)).must(t, exitFine)
	}
	args := []string{"sheet", at("dam.readback"), "--cover", "-o", at("dam.html")}
	for _, name := range []string{"dam.csv", "dam.xml", "dirs.csv", "dam.json", "dam.sql"} {
		args = append(args, "--file", at(name))
	}
	call(t, "", args...).must(t, exitFine)
	page := read(t, at("dam.html"))
	for name, holds := range map[string]string{"dam.readback": "the book", "dam.readback.jsonl": "its journal", "dam.csv": "every reading", "dam.xml": "LandXML",
		"dirs.csv": "directions", "dam.json": "reductions", "dam.sql": "tables for a database"} {
		text := read(t, at(name))
		hash := fmt.Sprintf("%x", sha256.Sum256([]byte(text)))
		var groups []string
		for i := 0; i < len(hash); i += 8 {
			groups = append(groups, hash[i:i+8])
		}
		for _, want := range []string{name, holds, fmt.Sprint(len(text)), strings.Join(groups, " ")} {
			if !strings.Contains(page, ">"+want+"<") {
				t.Errorf("%s: the cover does not say %q", name, want)
			}
		}
	}
	call(t, "", "audit", at("dam.readback"), "--file", at("dam.html")).must(t, exitFine)
	call(t, "", "sheet", at("dam.readback"), "--file", at("dam.csv"), "-o", at("other.html")).must(t, exitUsage)
	call(t, "", "sheet", at("dam.readback"), "--cover", "--file", at("none.csv"), "-o", at("other.html")).must(t, exitUsage)
}
