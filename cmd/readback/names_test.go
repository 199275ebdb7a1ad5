package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/reduce"
)

// hostile is a text that would change a terminal's title, clear its screen and
// run as a formula, if anybody let it.
const hostile = "=1+1\x1b]0;owned\x07\x1b[2J\u009b2J"

// hostileBook is a book whose events hold hostile texts wherever a text can
// stand: as another program may have written it.
func hostileBook(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "weir.book")
	c := newBook(t, file, event.BookOpened{Title: hostile})
	spec := station("Alder"+hostile, "Quarry")
	spec.Station, spec.RO, spec.Observer, spec.Booker = "Weir"+hostile, "Spire"+hostile, hostile, hostile
	spec.Instrument.Name, spec.Instrument.Serial, spec.Weather = "T-5"+hostile, hostile, hostile
	c.n = 1
	c.do(event.SetupOpened{Spec: spec}, nil)
	c.observe(3 * reduce.Arcsecond)
	last, _ := c.s.Last()
	c.do(event.RemarkMade{Text: hostile, By: hostile}, nil)
	c.do(event.ReadingStruck{Seq: last.Seq, Reason: hostile, By: hostile}, nil)
	c.close()
	return file
}

// Names are data: whatever they hold, no command lets a control character through
// to the terminal or the file it writes.
func TestNames_AreData(t *testing.T) {
	file := hostileBook(t)
	for _, args := range [][]string{
		{"audit", file}, {"sheet", file, "--text"}, {"sheet", file}, {"export", file}, {"export", file, "--as", "directions"},
		{"export", file, "--as", "json"}, {"export", file, "--as", "jsonl"}, {"export", file, "--as", "landxml"}, {"figure", file}, {"health", file}, {"fieldtest", file},
	} {
		code, out, errs := said(args...)
		if i := strings.IndexFunc(out+errs, func(r rune) bool { return r < ' ' && r != '\n' && r != '\t' && r != '\r' || r >= 0x7f && r < 0xa0 }); i >= 0 {
			t.Errorf("%q lets a control character through: %q", args[:1], (out + errs)[max(i-40, 0):i+10])
		}
		if code != exitFine && args[0] != "fieldtest" && args[0] != "figure" {
			t.Errorf("%q: exit code %d: %s", args, code, errs)
		}
	}
	_, csv, _ := said("export", file)
	for line := range strings.SplitSeq(csv, "\n") {
		for cell := range strings.SplitSeq(line, ",") {
			if strings.HasPrefix(strings.Trim(cell, `"`), "=") {
				t.Errorf("a spreadsheet would run %q", cell)
			}
		}
	}
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", info.Mode(), err)
	}
}
