package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/readback/booking"
)

// tool finds a program or skips, saying how to get it.
func tool(t *testing.T, debian string, names ...string) string {
	t.Helper()
	for _, n := range names {
		if path, err := exec.LookPath(n); err == nil {
			return path
		}
	}
	t.Skipf("%s is not installed: apt-get install %s", names[0], debian)
	return ""
}

// printed prints the binder on paper of the given size with a real browser and
// returns the PDF file.
func printed(t *testing.T, b Binder, paper string) string {
	t.Helper()
	browser := tool(t, "chromium", "chromium", "chromium-browser")
	dir := t.TempDir()
	var body bytes.Buffer
	if err := b.HTML(&body); err != nil {
		t.Fatal(err)
	}
	sized := strings.Replace(body.String(), "</style>", "@page { size: "+paper+"; }\n</style>", 1)
	in, out := filepath.Join(dir, "sheet.html"), filepath.Join(dir, "sheet.pdf")
	if err := os.WriteFile(in, []byte(sized), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--print-to-pdf="+out, "file://"+in)
	if msg, err := cmd.CombinedOutput(); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			t.Skipf("the browser does not start: %v", err)
		}
		t.Fatalf("%v: %s", err, msg)
	}
	return out
}

// The sheets print on both papers: every reading on them, every row whole on one
// page, every page numbered and named, no word cut by the edge of a page.
func TestSheet_Prints(t *testing.T) {
	setups := []booking.Setup{smallSetup(t), longSetup(t), crowdedSetup(t)}
	b := binder("brackenfold.book", setups...)
	for i := range b.Sheets {
		b.Sheets[i].Book.Drill = true
	}
	for paper, size := range map[string]string{"A4": "594.96 x 841.92 pts", "letter": "612 x 792 pts"} {
		t.Run(paper, func(t *testing.T) {
			b, setups := b, setups
			if paper == "letter" { // the crowded one on one paper is enough
				b.Sheets, setups = b.Sheets[:2], setups[:2]
			}
			pdf := printed(t, b, paper)
			if dir := os.Getenv("SHEET_KEEP"); dir != "" {
				keep(t, pdf, filepath.Join(dir, paper+".pdf"))
			}
			if info := output(t, tool(t, "poppler-utils", "pdfinfo"), pdf); !strings.Contains(info, size) {
				t.Errorf("not on %s:\n%s", paper, info)
			}
			pages := strings.Split(strings.TrimSuffix(output(t, tool(t, "poppler-utils", "pdftotext"), "-layout", pdf, "-"), "\f"), "\f")
			checkPages(t, pages)
			for _, s := range setups {
				checkRows(t, pages, s)
			}
			for _, want := range []string{"Observer, date", "proper solar filter", "Verdict: ", "Last event"} {
				if n := strings.Count(strings.Join(pages, "\n"), want); n < len(setups) {
					t.Errorf("%q is on paper %d times", want, n)
				}
			}
			inside(t, pdf)
		})
	}
}

// checkRows demands every standing pair of the rounds on one line of paper, with
// its 2c and its mean, and every reading somewhere.
func checkRows(t *testing.T, pages []string, s booking.Setup) {
	t.Helper()
	w := &writer{setup: s, red: s.Reduce()}
	all := strings.Join(pages, "\n")
	for _, r := range s.Readings {
		if !strings.Contains(all, w.reading(r)) {
			t.Errorf("%s of %s is not on paper", w.reading(r), r.Slot)
		}
	}
	lines := strings.Split(all, "\n")
	for _, r := range w.red.Rounds {
		for _, p := range r.Pairs {
			if !p.HasPair {
				continue
			}
			whole := slices.ContainsFunc(lines, func(l string) bool {
				return strings.Contains(l, w.reading(*p.FL)) && strings.Contains(l, w.reading(*p.FR)) &&
					strings.Contains(l, w.small(p.TwoC)) && strings.Contains(l, w.direction(p.Mean))
			})
			if !whole {
				t.Errorf("round %d, %s does not stand in one row", r.Number, p.Target)
			}
		}
	}
}

// checkPages looks for what stands in the margins of every page.
func checkPages(t *testing.T, pages []string) {
	t.Helper()
	for i, p := range pages {
		for _, want := range []string{fmt.Sprintf("Page %d of %d", i+1, len(pages)), "brackenfold.book", drillMark, "hash"} {
			if !strings.Contains(p, want) {
				t.Errorf("page %d of %d lacks %q", i+1, len(pages), want)
			}
		}
	}
	if len(pages) < 8 || len(pages) > 40 {
		t.Errorf("%d pages", len(pages))
	}
}

// inside demands that every word lies on its page with a margin of 8 mm, and
// that no two lines of text overlap the bottom margin's number.
func inside(t *testing.T, pdf string) {
	t.Helper()
	const margin = 8 * 72 / 25.4
	var width, height float64
	for _, l := range strings.Split(output(t, tool(t, "poppler-utils", "pdftotext"), "-bbox", pdf, "-"), "\n") {
		switch l = strings.TrimSpace(l); {
		case strings.HasPrefix(l, "<page "):
			width, height = attribute(t, l, "width"), attribute(t, l, "height")
		case strings.HasPrefix(l, "<word "):
			if attribute(t, l, "xMin") < margin || attribute(t, l, "xMax") > width-margin ||
				attribute(t, l, "yMin") < margin/2 || attribute(t, l, "yMax") > height-margin/2 {
				t.Errorf("outside the margins of a page of %g × %g: %s", width, height, l)
			}
		}
	}
}

func attribute(t *testing.T, tag, name string) float64 {
	t.Helper()
	_, rest, _ := strings.Cut(tag, name+`="`)
	text, _, _ := strings.Cut(rest, `"`)
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%s of %s: %v", name, tag, err)
	}
	return x
}

func output(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return string(out)
}

// keep copies a print to a directory, for looking at it: SHEET_KEEP=DIR.
func keep(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}
