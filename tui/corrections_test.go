package tui

import (
	"strings"
	"testing"
)

// Page P shows every line of what a distance is corrected by, whole at every size, and
// nothing of it where nothing is agreed. 30 mm of prism and a scale of 0.9996 are told by
// hand: 120.5 + 0.0300, and about −0.4 mm for each metre.
func TestPage_LinesOfCorrections(t *testing.T) {
	d := gonStation(newDriver(t, &fakePort{}, Options{}))
	if d.key("p"); strings.Contains(d.plain(), "corrected") {
		t.Error("corrections that nobody agreed on")
	}
	d.keys("<esc>m")
	s := d.app.screen().(*setupScreen)
	fill := map[int]string{fAir: "30 950 60", fPrism: "30", fScale: "0.9996"}
	for s.form.Chosen <= fScale {
		d.keys(fill[s.form.Chosen] + "<down>")
	}
	d.keys("<pgdown>o").sees("reason").keys("not said before<enter>")
	for _, size := range [][2]int{{140, 45}, {100, 30}, {80, 24}, {60, 20}, {40, 12}} {
		d.size(size[0], size[1])
		var text strings.Builder
		for _, l := range pageOf(&d.app.v, size[0], false).lines {
			for _, k := range l.inks {
				text.WriteString(k.text + " ")
			}
			text.WriteString("\n")
		}
		for _, want := range []string{"displayed", "air", "prism", "to level", "sea level", "scale", "horizontal", "120.5000", "+0.0300", "−0.048", "0.9996", "950 hPa"} {
			if !strings.Contains(strings.Join(strings.Fields(text.String()), " "), want) {
				t.Errorf("%d×%d: no %q in\n%s", size[0], size[1], want, text.String())
			}
		}
	}
}
