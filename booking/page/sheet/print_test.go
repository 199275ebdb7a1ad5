package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/readback/testdata"

	"example.org/readback/booking"
	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
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

// browse runs a real browser without a window.
func browse(t *testing.T, dir string, args ...string) {
	t.Helper()
	browser := tool(t, "chromium", "chromium", "chromium-browser")
	args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir=" + filepath.Join(dir, "profile")}, args...)
	if msg, err := exec.Command(browser, args...).CombinedOutput(); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			t.Skipf("the browser does not start: %v", err)
		}
		t.Fatalf("%v: %s", err, msg)
	}
}

// printed prints the document on paper of the given size and returns the PDF file.
// SHEET_KEEP=DIR keeps page and print for looking at them.
func printed(t *testing.T, d page.Document, name, paper string) string {
	t.Helper()
	dir := t.TempDir()
	if keep := os.Getenv("SHEET_KEEP"); keep != "" {
		dir = keep
	}
	var doc bytes.Buffer
	if err := d.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	sized := strings.Replace(doc.String(), "</style>", "@page { size: "+paper+"; }\n</style>", 1)
	in, out := filepath.Join(dir, name+".html"), filepath.Join(dir, name+"-"+paper+".pdf")
	if err := os.WriteFile(in, []byte(sized), 0o600); err != nil {
		t.Fatal(err)
	}
	browse(t, t.TempDir(), "--no-pdf-header-footer", "--print-to-pdf="+out, "file://"+in)
	return out
}

// prints are the setups that are printed and how many pages each takes. The
// figures in the sheet's design: up to six targets in three rounds on one page,
// eleven in four on two.
func prints(t *testing.T) []struct {
	setup booking.Setup
	pages int
} {
	later := sized(t, 6, 3, 1)
	later.Spec.KeyedAfterwards = &spec.KeyedAfterwards{By: "Runa Vey", File: "day-of-the-fourth-of-may.csv"}
	return []struct {
		setup booking.Setup
		pages int
	}{{smallSetup(t), 1}, {sized(t, 3, 2, 1), 1}, {sized(t, 6, 3, 0), 1}, {sized(t, 6, 3, 2), 1}, {sized(t, 6, 3, 4), 1}, {later, 1}, {sized(t, 11, 4, 2), 2}, {longSetup(t), 0}}
}

// Every setup is planned on the pages of the sheet's design.
func TestSheet_Plans(t *testing.T) {
	b := binder("brackenfold.book", smallSetup(t))
	b.Annex = true
	for _, p := range prints(t) {
		w := b.writer(Sheet{Setup: p.setup})
		if n := len(w.leaves()); p.pages > 0 && n != p.pages {
			t.Errorf("%d targets, %d rounds: %d pages, want %d", len(p.setup.Spec.Targets), p.setup.Spec.Rounds, n, p.pages)
		}
	}
}

// Every setup takes the pages that were planned for it, on both papers: the
// number in the foot is the number of the sheet. Every reading is on paper, every
// pair in one row, no word at the edge, no letter too small.
func TestSheet_Prints(t *testing.T) {
	if !*testdata.Long {
		t.Skip("in a browser: -long")
	}
	var setups []booking.Setup
	for _, p := range prints(t) {
		setups = append(setups, p.setup)
	}
	setups = append(setups, crowdedSetup(t))
	b := binder("brackenfold.book", setups...)
	b.Cover, b.Annex = &Cover{LastSeq: 1484, Hash: b.Sheets[0].Hash}, true
	leaves := append(covered(t).cover(), leavesOf(t, b)...)
	doc := page.Document{Title: b.Title(), Leaves: func(yield func(page.Leaf, error) bool) {
		for _, l := range leaves {
			if !yield(l, nil) {
				return
			}
		}
	}}
	for _, paper := range []string{"A4", "letter"} {
		t.Run(paper, func(t *testing.T) {
			pdf := printed(t, doc, "all", paper)
			pages := pagesOf(t, pdf)
			if len(pages) != len(leaves) {
				t.Errorf("%d pages are printed, %d planned", len(pages), len(leaves))
			}
			for i, l := range leaves[:min(len(pages), len(leaves))] {
				for _, want := range []string{l.Foot.Right, fmt.Sprintf("sheet %d of %d", i+1, len(leaves)), "hash"} {
					if !strings.Contains(squeeze(pages[i]), want) {
						t.Errorf("page %d lacks %q", i+1, want)
					}
				}
			}
			for _, s := range setups {
				checkRows(t, pages, s)
			}
			inside(t, pdf)
			letters(t, pdf)
		})
	}
}

func pagesOf(t *testing.T, pdf string) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(output(t, tool(t, "poppler-utils", "pdftotext"), "-layout", pdf, "-"), "\f"), "\f")
}

// checkRows demands every standing pair of the rounds on one line of paper, with
// its 2c and its mean, and every reading somewhere.
func checkRows(t *testing.T, pages []string, s booking.Setup) {
	t.Helper()
	w := binder("x").writer(Sheet{Setup: s})
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
			if !slices.ContainsFunc(lines, func(l string) bool {
				return strings.Contains(l, w.reading(*p.FR)) && strings.Contains(l, w.signed(p.TwoC, w.smallPlaces())) && strings.Contains(l, w.direction(p.Mean))
			}) {
				t.Errorf("round %d, %s does not stand in one row", r.Number, p.Target)
			}
		}
	}
}

// inside demands that every word lies on its page with a margin of 5 mm.
func inside(t *testing.T, pdf string) {
	t.Helper()
	const margin = 5 * 72 / 25.4
	var width, height float64
	for _, l := range strings.Split(output(t, tool(t, "poppler-utils", "pdftotext"), "-bbox", pdf, "-"), "\n") {
		switch l = strings.TrimSpace(l); {
		case strings.HasPrefix(l, "<page "):
			width, height = attribute(t, l, "width"), attribute(t, l, "height")
		case strings.HasPrefix(l, "<word "):
			if attribute(t, l, "xMin") < margin || attribute(t, l, "xMax") > width-margin ||
				attribute(t, l, "yMin") < margin || attribute(t, l, "yMax") > height-margin {
				t.Errorf("outside the margins of a page of %g × %g: %s", width, height, l)
			}
		}
	}
}

// angles matches an angle that stands alone, as those of the tables do.
var angles = regexp.MustCompile(`^<text .*>[+−]?\d+°\d\d′[\d.]+″(</b>)?</text>$`)

// letters demands that what is read stands in 8 pt or more: a table wider than its
// page would make the browser shrink everything, and this would show it.
func letters(t *testing.T, pdf string) {
	t.Helper()
	const zoom = 3
	sizes := map[string]float64{}
	text := map[string]int{}
	for _, l := range strings.Split(output(t, tool(t, "poppler-utils", "pdftohtml"), "-xml", "-i", "-stdout", "-zoom", strconv.Itoa(zoom), pdf), "\n") {
		switch l = strings.TrimSpace(l); {
		case strings.HasPrefix(l, "<fontspec "):
			sizes[attributeText(l, "id")] = attribute(t, l, "size") / zoom
		case angles.MatchString(l):
			text[attributeText(l, "font")]++
		}
	}
	least := 100.0
	for id, size := range sizes {
		if text[id] > 20 { // not the few that a note breaks off
			least = min(least, size)
		}
	}
	if least < 7.9 || len(text) == 0 {
		t.Errorf("readings stand in %g pt, want 8", least)
	}
}

func attributeText(tag, name string) string {
	_, rest, _ := strings.Cut(tag, name+`="`)
	text, _, _ := strings.Cut(rest, `"`)
	return text
}

func attribute(t *testing.T, tag, name string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(attributeText(tag, name), 64)
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
