package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"example.org/readback/store/repair"
)

// At export a dated copy of the book is left beside it, whole and sound.
func TestExport_LeavesADatedCopy(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "dam.readback")
	c := &Context{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}, Getenv: os.Getenv}
	if code := run([]string{"import", book, "../../testdata/readings/brackenfold-day.csv", "--booker", "Tam Okoro"}, c); code != exitFine {
		t.Fatalf("import: %v", c.Err)
	}
	if code := run([]string{"export", book}, c); code != exitFine {
		t.Fatalf("export: %v", c.Err)
	}
	copies, err := filepath.Glob(filepath.Join(dir, "dam.????-??-??.readback"))
	if err != nil || len(copies) != 1 {
		t.Fatalf("copies %q, %v", copies, err)
	}
	was, is := repair.Verify(book), repair.Verify(copies[0])
	if is.Unread != nil || len(is.Chains) != 1 || is.Chains[0].Fault != nil || is.Chains[0].Hash != was.Chains[0].Hash {
		t.Errorf("the copy is not the book: %+v", is)
	}
}
