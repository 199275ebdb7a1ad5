package exchange

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"pgregory.net/rapid"
)

// Random days: whatever rows a setup has, they fold, and an export of it says
// the same when it is read and exported again. Rapid prints the seed of a
// failure.
func TestRandomRows(t *testing.T) {
	made, booked := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		made++
		text := randomFile(t)
		f, err := readAll(strings.NewReader(text), "random.csv")
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		ps, err := f.papers(Options{})
		if err != nil {
			if !errors.Is(err, ErrFile) {
				t.Fatalf("not a fault of the file: %v\n%s", err, text)
			}
			return
		}
		booked++
		s, err := ps[0].Setup()
		if err != nil {
			t.Fatalf("cannot be booked: %v\n%s", err, text)
		}
		once := writtenBy(t, s)
		f, err = readAll(strings.NewReader(once), "once.csv")
		if err != nil {
			t.Fatalf("%v\n%s", err, once)
		}
		if ps, err = f.papers(Options{}); err != nil {
			t.Fatalf("%v\n%s\nfrom\n%s", err, once, text)
		}
		back, err := ps[0].Setup()
		if err != nil {
			t.Fatalf("%v\n%s", err, once)
		}
		if twice := writtenBy(t, back); twice != once {
			t.Fatalf("exported again\n%s\nwas\n%s\nfrom\n%s", twice, once, text)
		}
		a, b := reduction.Of(s), reduction.Of(back)
		if fmt.Sprint(a.Directions, a.S0, a.Dof) != fmt.Sprint(b.Directions, b.S0, b.Dof) {
			t.Fatalf("reductions differ\n%v\n%v\nfrom\n%s\nexported\n%s", a.Directions, b.Directions, text, once)
		}
	})
	if made >= 100 && booked < made/5 {
		t.Errorf("only %d of %d files could be booked", booked, made)
	}
}

// randomFile makes a file of one setup: halves in either order, with targets
// left out, repeated and struck.
func randomFile(t *rapid.T) string {
	var b strings.Builder
	b.WriteString("setup,station,round,face,target,quantity,reading,unit,struck\n")
	minute := 0
	row := func(round, face, target, quantity, struck string) {
		minute++
		fmt.Fprintf(&b, "1,Weir,%s,%s,%s,%s,%d %02d 00,dms,%s\n", round, face, target, quantity, 10*int(target[0]-'A'), minute%60, struck)
	}
	struck := rapid.SampledFrom([]string{"", "", "", "", "misread", leftOut + "rain", leftOutReading + "haze"})
	order := rapid.SampledFrom([]string{"ABC", "ABCA", "ABCA", "ACBA", "CBA", "ABA", "BCA", "AB", "ABCAA", "AABCA"})
	void := rapid.SampledFrom([]string{"", "", "", "knocked", leftOut + "wind"})
	for round := 1; round <= rapid.IntRange(1, 2).Draw(t, "rounds"); round++ {
		all := void.Draw(t, "void")
		for _, face := range rapid.SampledFrom([][]string{{"FL", "FR"}, {"FR", "FL"}, {"FL"}}).Draw(t, "faces") {
			for _, target := range order.Draw(t, "order") {
				why := struck.Draw(t, "struck")
				if all != "" {
					why = all
				}
				row(fmt.Sprint(round), face, string(target), "horizontal", why)
			}
		}
	}
	for _, target := range order.Draw(t, "verticals") {
		row("", "FL", string(target), "vertical", struck.Draw(t, "struck"))
	}
	return b.String()
}

func writtenBy(t *rapid.T, s booking.Setup) string {
	var b strings.Builder
	w := NewWriter(&b)
	s.Spec.Observer, s.Spec.Booker = "", ""
	err := w.Setup(s, Source{})
	if err == nil {
		err = w.Flush()
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}
