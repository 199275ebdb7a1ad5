package tui

import (
	"strings"
	"testing"
)

// A limit that the crew states and that contradicts the stated σ is said at once, under
// the field of the limit and under that of σ, with the share of sound stations it would
// hold. σ 5″, three targets, two rounds, limit 8.5″: 1 − P(range of 2 ≤ 8.5/(√2·5.004″))³,
// with P(range of 2 ≤ 1.201) = 2Φ(0.849) − 1 = 0.604 (normal table): 0.78, three of four.
func TestSetup_LimitThatContradictsSigma(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{}).size(100, 40)
	d.keys("Weir<enter>Spire<enter>Alder, Quarry, Mast<enter><down>Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter>")
	d.keys("<down>") // the unit stays
	d.keys("<back>1<enter>5").sees("▸ Stated σ").seesNot("would be held")
	for range 40 {
		if strings.Contains(d.plain(), "▸ Limit: rounds agree") {
			break
		}
		d.keys("<down>")
	}
	d.sees("▸ Limit: rounds agree").seesNot("would be held")
	d.keys("<back><back>8.5").sees("▸ Limit: rounds agree", "The limit of rounds contradicts σ 5″: three of four sound stations would be held.")
	for range 40 {
		if strings.Contains(d.plain(), "▸ Stated σ   ") {
			break
		}
		d.keys("<up>")
	}
	d.sees("▸ Stated σ", "three of four sound stations would be held.")
	d.keys("<back>1").sees("▸ Stated σ").seesNot("would be held")
}
