//go:build unix

package main

import (
	"path/filepath"
	"testing"
)

// HTML is not printed on a terminal; the plain text is.
func TestSheet_OnATerminal(t *testing.T) {
	file := filepath.Join(t.TempDir(), "weir.book")
	call(t, "", "import", file, example("two-rounds.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	p := open(t, 100, 30, "sheet", file)
	if code := p.exit(); code != exitUsage {
		t.Errorf("exit code %d", code)
	}
	bookerAt(p).sees("HTML is not printed on a terminal")
}
