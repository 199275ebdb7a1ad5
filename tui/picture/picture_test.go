package picture_test

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/readback/reduce"
	"example.org/readback/tui/look"
	"example.org/readback/tui/picture"
	"example.org/readback/tui/plot"
	"example.org/readback/tui/widget"
)

// wellFormed reads the whole document with an XML reader.
func wellFormed(s string) error {
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		if _, err := d.Token(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}

func TestOf_HoldsTheText(t *testing.T) {
	for _, name := range look.Names() {
		th, _ := look.Named(name)
		f := widget.NewFrame(th, 40, 10)
		f.Area().Text(1, 0, look.Struck, "62-14-05 <&>")
		f.Area().Text(1, 1, look.Good, "字 agrees")
		f.Area().Sub(0, 2, 39, 3).Tall(look.Entry, widget.Tall, "12°")
		plot.Horizon{Rays: []plot.Ray{{Name: "Alder"}, {Name: "Mast", Direction: 90 * reduce.Degree}}}.Draw(f.Area().Sub(0, 5, 39, 5))
		got := picture.Of(f)
		if err := wellFormed(got); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, want := range []string{"62-14-05 &lt;&amp;&gt;", "字", "agrees", "<circle", `width="320" height="180"`} {
			if !strings.Contains(got, want) {
				t.Errorf("%s: no %q in the picture", name, want)
			}
		}
		if struck := strings.Contains(got, "line-through"); struck != th.Coloured() {
			t.Errorf("%s: struck through: %v", name, struck)
		}
	}
}

// Any text gives a document that an XML reader takes.
func TestOf_WellFormed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := widget.NewFrame(look.Day(), 30, 2)
		f.Area().Text(0, 0, look.Base, rapid.String().Draw(t, "text"))
		if err := wellFormed(picture.Of(f)); err != nil {
			t.Fatal(err)
		}
	})
}
