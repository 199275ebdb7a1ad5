package sheet

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/readback/booking/page"
	"example.org/readback/testdata"
)

// manySheets has every kind of leaf: cover, pages of one setup and of several,
// annexes.
func manySheets(t *testing.T) Binder {
	t.Helper()
	b := covered(t)
	b.Annex = true
	for i, s := range binder("brackenfold.book", smallSetup(t), longSetup(t), sized(t, 6, 3, 4)).Sheets {
		s.Setup.Number = len(corners) + 1 + i
		b.Sheets = append(b.Sheets, s)
	}
	return b
}

func htmlOf(t *testing.T, b Binder) string {
	t.Helper()
	var doc bytes.Buffer
	if err := b.HTML(&doc); err != nil {
		t.Fatal(err)
	}
	return doc.String()
}

// The columns of every table fill the 180 mm of the page and no more: a wider one
// makes a browser shrink the whole document.
func TestSheet_TablesHaveTheirWidth(t *testing.T) {
	var walk func(bs []page.Block, room float64)
	tables := 0
	walk = func(bs []page.Block, room float64) {
		for _, x := range bs {
			switch x := x.(type) {
			case page.Beside:
				walk(x.Left, 87)
				walk(x.Right, 87)
			case page.Table:
				tables++
				sum := 0.0
				for _, c := range x.Columns {
					sum += c.MM
				}
				if sum > room {
					t.Errorf("%s is %g mm wide, has %g", x.Caption, sum, room)
				}
			}
		}
	}
	b := manySheets(t)
	b.Sheets = append(b.Sheets, binder("w.book", crowdedSetup(t)).Sheets...)
	for _, l := range leavesOf(t, b) {
		walk(l.Blocks, 180)
	}
	if tables < 30 {
		t.Errorf("only %d tables", tables)
	}
}

// Whoever cannot see the page is told as much: every table has a caption and heads
// with a scope, every drawing says its values, every link leads somewhere and every
// note is led to.
func TestSheet_Accessible(t *testing.T) {
	doc := htmlOf(t, manySheets(t))
	d := xml.NewDecoder(strings.NewReader(doc))
	d.Entity = xml.HTMLEntity
	ids, links := map[string]int{}, map[string]bool{}
	tables, captions, heads, articles := 0, 0, 0, 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]string{}
		for _, a := range e.Attr {
			at[a.Name.Local] = a.Value
		}
		if id := at["id"]; id != "" {
			ids[id]++
		}
		switch e.Name.Local {
		case "a":
			links[strings.TrimPrefix(at["href"], "#")] = true
		case "table":
			tables++
		case "caption":
			captions++
		case "h1":
			heads++
		case "article":
			articles++
			if at["aria-label"] == "" {
				t.Error("an article has no name")
			}
		case "th":
			if at["scope"] == "" || at["role"] == "" {
				t.Errorf("a head without scope or role: %v", at)
			}
		case "td", "tr", "tbody", "thead":
			if at["role"] == "" {
				t.Errorf("%s without its role", e.Name.Local)
			}
		case "svg":
			if at["role"] != "img" || !strings.ContainsAny(at["aria-label"], "0123456789") {
				t.Errorf("a drawing says no values: %v", at)
			}
		}
	}
	if tables == 0 || tables != captions || articles == 0 || heads != articles {
		t.Errorf("%d tables, %d captions; %d articles, %d titles", tables, captions, articles, heads)
	}
	for id, n := range ids {
		if n > 1 {
			t.Errorf("%d elements are named %s", n, id)
		}
	}
	for to := range links {
		if ids[to] == 0 {
			t.Errorf("a link leads to %q, which is nowhere", to)
		}
	}
	if len(links) < 10 || !strings.Contains(doc, `lang="en"`) {
		t.Errorf("%d links", len(links))
	}
}

// Text keeps a contrast of 10 : 1 on white paper and 8 : 1 at night, by the
// relative luminance of the Web Content Accessibility Guidelines 2.2, W3C (formula
// from memory).
func TestSheet_Contrast(t *testing.T) {
	doc := htmlOf(t, binder("x.book", smallSetup(t)))
	roots := regexp.MustCompile(`(?s):root \{[^}]*\}`).FindAllString(doc, -1)
	if len(roots) != 2 {
		t.Fatalf("%d sets of colours", len(roots))
	}
	for i, want := range []float64{10, 8} {
		for _, name := range []string{"ink", "quiet"} {
			l, paper := luminance(t, roots[i], name), luminance(t, roots[i], "paper")
			if c := (max(l, paper) + .05) / (min(l, paper) + .05); c < want {
				t.Errorf("%s has a contrast of %.1f, want %g", name, c, want)
			}
		}
	}
}

func luminance(t *testing.T, root, name string) float64 {
	t.Helper()
	_, rest, _ := strings.Cut(root, "--"+name+": #")
	hex, _, _ := strings.Cut(rest, ";")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	sum := 0.0
	for i, share := range []float64{.2126, .7152, .0722} {
		v, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(v) / 255
		if c <= .04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+.055)/1.055, 2.4)
		}
		sum += share * c
	}
	return sum
}

// On a phone of 390 px nothing is wider than the screen, by day and by night, and
// the result of a row is seen.
func TestSheet_FitsAPhone(t *testing.T) {
	if !*testdata.Long {
		t.Skip("in a browser: -long")
	}
	doc := htmlOf(t, manySheets(t))
	dir := t.TempDir()
	probe := `<script>onload=()=>{const d=document.querySelector("iframe").contentDocument,out=[...d.querySelectorAll("td.result,td.n,th.name,p,h1")].filter(e=>e.getBoundingClientRect().right>391&&!e.closest(".wide"));` +
		`document.title="width "+d.documentElement.scrollWidth+" out "+out.length+" "+(out[0]?out[0].className+out[0].textContent:"")+" results "+[...d.querySelectorAll("td.result")].filter(e=>e.getBoundingClientRect().width>40).length}</script>`
	in := filepath.Join(dir, "phone.html")
	frame := fmt.Sprintf(`<!DOCTYPE html><html><head><meta charset="utf-8"><title>x</title></head><body>%s<iframe width="390" height="800" style="border:0" srcdoc="%s"></iframe></body></html>`, probe, html.EscapeString(doc))
	if err := os.WriteFile(in, []byte(frame), 0o600); err != nil {
		t.Fatal(err)
	}
	browser := tool(t, "chromium", "chromium", "chromium-browser")
	out, err := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--virtual-time-budget=5000", "--dump-dom", "file://"+in).Output()
	if err != nil {
		t.Fatal(err)
	}
	said := regexp.MustCompile(`<title>width (\d+) out (\d+) (.*) results (\d+)</title>`).FindStringSubmatch(string(out))
	if said == nil {
		t.Fatalf("the browser says nothing: %.300s", out)
	}
	if width, _ := strconv.Atoi(said[1]); width > 390 || said[2] != "0" || len(said[4]) < 2 {
		t.Errorf("the page is %s px wide, %s parts stand out (%s), %s results are seen", said[1], said[2], said[3], said[4])
	}
}
