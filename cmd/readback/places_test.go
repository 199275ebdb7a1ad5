package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Settings, centres and levelled differences are recorded in the book, listed, and
// what figures are worked with from then on; places are laid onto a file of known points.
func TestPlaces_RecordedAndUsed(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "dam.readback")
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	fine := func(words string, args ...string) string {
		t.Helper()
		code, out, errs := said(args...)
		if code != exitFine || !strings.Contains(strings.Join(strings.Fields(out), " "), words) {
			t.Fatalf("%v: %d, %s%s: %q is not in it", args, code, out, errs, words)
		}
		return out
	}
	wrong := func(words string, args ...string) {
		t.Helper()
		if code, _, errs := said(args...); code == exitFine || !strings.Contains(errs, words) {
			t.Errorf("%v: %d, %s: %q is not in it", args, code, errs, words)
		}
	}
	fine("", "import", book, "../../testdata/readings/brackenfold-day.csv", "--booker", "Tam Okoro")
	fine("settings 2", "limits", book, "--centring", "0.0015", "--least-ratio", "8000", "--by", "Tam Okoro")
	fine("centring 0.0015 m σ of an instrument or target over its mark (set in the book)", "limits", book)
	fine("centring 1.5 mm", "figure", book)
	fine("centring 4.0 mm", "figure", book, "--centring", "0.004")
	fine("settings 1", "limits", book, "--default", "centring")
	fine("centring 2.0 mm", "figure", book)
	wrong("--centring -1", "limits", book, "--centring=-1")
	wrong("not a setting", "limits", book, "--default", "colour")

	fine("levelled differences 1", "levels", book, file("levels.csv", "from,to,rise,sd\nWeir,Peg,1.234,1\n"))
	fine("Peg", "figure", book)
	wrong("line 2", "levels", book, file("bad.csv", "from,to,rise,sd\nWeir,Weir,1.234,1\n"))

	var document struct {
		Books []struct {
			Together struct {
				Places []struct {
					Name string
					E    float64 `json:"east_m"`
					N    float64 `json:"north_m"`
				}
			}
		}
	}
	if err := json.Unmarshal([]byte(fine("", "figure", book, "--json")), &document); err != nil {
		t.Fatal(err)
	}
	var onto strings.Builder
	onto.WriteString("name,E,N\n")
	for i, p := range document.Books[0].Together.Places { // turned by a quarter, and one of them 5 mm off
		fmt.Fprintf(&onto, "%s,%.4f,%.4f\n", p.Name, 1000+p.N+0.005*float64(i%2), 2000-p.E)
	}
	office := file("office.csv", onto.String())
	fine("known stations by a similarity", "figure", book, "--onto", office)
	fine(`"scale": `, "figure", book, "--onto", office, "--json")
	wrong("of the book's", "figure", book, "--onto", file("other.csv", "name,E,N\nFar,1,1\n"))

	fine("in setup 1 the instrument at", "centre", book, "1", "--distance", "0.250", "--angle", "45 00 00", "--by", "Tam Okoro")
	fine("Reduced to their marks", "figure", book)
	fine(`"centred": [`, "figure", book, "--json")
	fine("the instrument stood 0.250 m beside its mark, at 45°00′00″", "sheet", book, "1", "--text")
	fine("", "centre", book, "1", "--distance", "0")
	if _, out, _ := said("figure", book); strings.Contains(out, "Reduced to their marks") {
		t.Error("a centre taken back is still reduced to")
	}
	wrong("does not sight", "centre", book, "1", "--target", "Nobody", "--distance", "1")
	wrong("--angle", "centre", book, "1", "--distance", "1", "--angle", "x")
	fine("set: least-ratio 8000, centring 0.0015", "audit", book)
}
