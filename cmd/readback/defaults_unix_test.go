//go:build unix

package main

import (
	"path/filepath"
	"testing"

	"example.org/readback/cmd/internal/book"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// The form of the first setup of a book begins with crew, instrument and limits of
// the defaults file and of the environment, and the book with what they say of it.
func TestDefaults_FillTheForm(t *testing.T) {
	dir := t.TempDir()
	mkdir(t, filepath.Join(dir, "readback"))
	put(t, filepath.Join(dir, "readback", "defaults"),
		"observer = Ines Holm\nbooker = Tam Okoro\ninstrument = T-9\nserial = 4499\nleast-count = 1\nsigma = 1.5\nlimit-rounds = 7\ncircle = horizon\nclient = The county\n")
	file := filepath.Join(dir, "weir.book")
	b := bookerAt(openEnv(t, 100, 40, []string{"XDG_CONFIG_HOME=" + dir, "READBACK_OBSERVER=Ada Voss"}, "book", file))
	b.sees("New setup", "Ada Voss", "Tam Okoro", "T-9", "4499").writes("Weir", "Spire", "Alder, Quarry").presses(pageDown).sees("Ada Voss").presses("o")
	b.sees("Weir setup 1", "✓ saved").quits()
	picked, done, err := book.Choose(file, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer done()
	for s, err := range picked.Folded() {
		if err != nil {
			t.Fatal(err)
		}
		i := s.Spec.Instrument
		if s.Spec.Observer != "Ada Voss" || s.Spec.Booker != "Tam Okoro" || i.Name != "T-9" || i.Serial != "4499" || i.LeastCount != reduce.Arcsecond ||
			i.Sigma != 1500*reduce.Arcsecond/1000 || i.Circle != faces.Horizon || s.Spec.Limits.Rounds.Value != 7*reduce.Arcsecond || s.Book.Client != "The county" {
			t.Errorf("%+v %+v", s.Spec, s.Book)
		}
	}
}
