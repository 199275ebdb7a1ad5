package tui

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// a scene is a state of the screens worth a picture.
type scene struct {
	name string
	play func(d *driver)
}

// lead leads the driver to the scene.
func (sc scene) lead(d *driver) *driver {
	return d.unseen(func() { sc.play(d) })
}

// half books a station up to round 2, face right.
func half(d *driver) *driver { return d.along(&halfWay) }

// whole books a station up to the verdict.
func whole(d *driver) *driver { return d.along(&wholeWay) }

var (
	halfWay  = way{play: func(d *driver) { firstSetup(d).book(roundOne...).book(roundTwo[:5]...) }}
	wholeWay = way{play: func(d *driver) {
		firstSetup(d).book(roundOne...).book(roundTwo...)
		d.book("923435", "893000", "880010", "871500").book("2724500", "2715955", "2703005", "2672530")
	}}
)

var scenes = []scene{
	{"setup-first", func(d *driver) {}},
	{"setup-problem", func(d *driver) { d.keys("Weir<enter>Spire<enter>Alder, Spire<enter><down><enter><pgdown>o") }},
	{"setup-next", func(d *driver) { whole(d).keys("ltyn").keys("Alder<enter>We") }},
	{"booking-first", func(d *driver) { firstSetup(d) }},
	{"booking-keying", func(d *driver) { half(d).key("30300") }},
	{"booking-left", func(d *driver) { half(d).key("30300").keys("pb") }},
	{"day", func(d *driver) { half(d).keys("d2haze<enter>18,5<pgdown>o") }},
	{"day-check", func(d *driver) { half(d).keys("d1<right><enter>") }},
	{"day-packed", func(d *driver) { whole(d).keys("ltyd4<right><enter><pgdown>") }},
	{"booking-cannot", func(d *driver) { half(d).key("3085000") }},
	{"booking-marked", func(d *driver) { half(d).key("3130") }},
	{"booking-asking", func(d *driver) { half(d).book("313005") }},
	{"booking-fits", func(d *driver) { half(d).key("303005") }},
	{"booking-struck", func(d *driver) { half(d).keys("s<enter>1") }},
	{"booking-keypad", func(d *driver) { half(d).keys("k").key("30") }},
	{"booking-vertical", func(d *driver) { firstSetup(d).book(roundOne...).book(roundTwo...).book("923435", "893000") }},
	{"booking-saving", func(d *driver) { half(d); d.port.hold = true; d.book("303005") }},
	{"booking-done", func(d *driver) { whole(d) }},
	{"page", func(d *driver) { half(d).keys("s<enter>1").key("p") }},
	{"gon-page", func(d *driver) { gonStation(d).key("p") }},
	{"gon-verdict", func(d *driver) { gonStation(d).key("l") }},
	{"gon-compare", func(d *driver) { gonStation(d).key("c") }},
	{"page-around", func(d *driver) { whole(d).keys("pa") }},
	{"pointings", func(d *driver) { half(d).key("g") }},
	{"pointings-touch", func(d *driver) { half(d).keys("kg") }},
	{"strike-touch", func(d *driver) { half(d).keys("ks") }},
	{"worklist-touch", func(d *driver) { whole(d).keys("klty").keys("nAlder<enter>Weir<enter>Spire, Mast<enter>ow") }},
	{"setup-touch", func(d *driver) { whole(d).keys("kltyn") }},
	{"keys-touch", func(d *driver) { half(d).keys("k?") }},
	{"strike", func(d *driver) { half(d).key("s") }},
	{"amend", func(d *driver) { half(d).keys("m<enter><back>h<pgdown>") }},
	{"strike-whole", func(d *driver) { firstSetup(d).keys("s") }},
	{"strike-reason", func(d *driver) { half(d).keys("s2<enter>") }},
	{"hidden", func(d *driver) { half(d).key("h") }},
	{"void", func(d *driver) { half(d).key("v") }},
	{"remark", func(d *driver) { half(d).keys("rhaze over the water") }},
	{"compare", func(d *driver) { disagree(d).key("c") }},
	{"hold", func(d *driver) { half(d).key("l") }},
	{"lift", func(d *driver) { whole(d).key("l") }},
	{"lifted", func(d *driver) { whole(d).keys("lty") }},
	{"worklist", func(d *driver) { whole(d).keys("lty").keys("nAlder<enter>Weir<enter>Spire, Mast<enter>ow") }},
	{"lookback", func(d *driver) {
		whole(d).keys("lty").keys("nAlder<enter>Weir<enter>Spire, Mast<enter>ow<down><enter>")
	}},
	{"options", func(d *driver) { half(d).key("o") }},
	{"keys", func(d *driver) { half(d).key("?") }},
	{"figure", func(d *driver) { half(d).keys("wg") }},
	{"limits", func(d *driver) { half(d).keys("wgl10000<enter><enter><enter><enter>2<enter>") }},
	{"limits-said", func(d *driver) { half(d).keys("wgl10000<enter><enter><enter><enter>0.003<pgdown>") }},
	{"beside", func(d *driver) { whole(d).keys("d7<right><enter>0.085<enter>86 40 00<pgdown>") }},
	{"levels", func(d *driver) { whole(d).keys("d8Weir<enter>Alder<enter>1.2345<enter>2<pgdown>o8") }},
	{"ring-plan", func(d *driver) { ring(d).keys("lgp") }},
	{"ring-health", func(d *driver) { ring(d).keys("lghp") }},
	{"failed", func(d *driver) { failWrite(half(d)) }},
	{"reopened", func(d *driver) { failWrite(half(d)).key("o") }},
	{"leave", func(d *driver) { half(d).key("q") }},
}

// gonStation books a station in gon, with closed halves and distances.
func gonStation(d *driver) *driver {
	d.keys("Weir<enter>Spire<enter>Alder<enter>1.5<enter>")
	d.keys("Ines Holm<enter>Tam Okoro<enter>T-5<enter>4471<enter><right><enter><enter>")
	d.keys("<down><down><right><down><down><down><down><right><enter>o") // RO again: yes; distances: yes
	d.book("0.105", "50.210", "0.110", "200.110", "250.215", "200.115")
	d.book("100.105", "150.210", "100.110", "300.110", "350.215", "300.115")
	return d.book("98.5", "99.25", "300.755", "301.505").book("120.5", "1.6", "88.25", "1.7")
}

// disagree books three rounds, the second of which does not agree.
func disagree(d *driver) *driver { return d.along(&disagreeWay) }

var disagreeWay = way{play: func(d *driver) {
	firstSetup(d).book(roundOne...)
	d.book("900510").confirmed("1351055").book("2103000", "3400040", "1600050", "303005").confirmed("3151100").book("2700515")
	d.book("1800510")
}}

// failWrite books a reading whose write fails and is lost.
func failWrite(d *driver) *driver {
	d.port.hold = true
	d.book("303005")
	seq := d.port.head
	d.port.lose = map[uint64]bool{seq: true}
	d.send(Written{Seq: seq, Err: errDisk})
	d.port.hold = false
	return d
}

func TestFrames(t *testing.T) {
	sizes := [][2]int{{40, 12}, {60, 20}, {80, 24}, {100, 30}, {140, 45}}
	for _, sc := range scenes {
		d := newDriver(t, &fakePort{}, Options{})
		d.keyed = true
		sc.lead(d)
		d.port.hold = true
		for _, s := range sizes {
			d.size(s[0], s[1])
			golden(t, fmt.Sprintf("%s-%dx%d.txt", sc.name, s[0], s[1]), d.plain())
		}
		d.size(80, 24)
		d.app.usePreferences(preferences{ASCII: true, Keypad: d.app.v.prefs.Keypad})
		golden(t, sc.name+"-ascii.txt", d.plain())
	}
}

// golden compares a frame with the one that was looked at.
func golden(t *testing.T, name, got string) {
	t.Helper()
	var b strings.Builder
	for _, l := range strings.Split(got, "\n") {
		b.WriteString(strings.TrimRight(l, " ") + "\n")
	}
	got = b.String()
	testdata.Golden(t, filepath.Join("testdata", "frames", name), got)
}
