package sheet

import (
	"bytes"
	"strings"
	"testing"

	"example.org/readback/booking/spec"
	"example.org/readback/testdata/crew"
)

// What was amended, left out and struck after the lift stands on the sheet with
// who, when and why; a setup struck whole says so.
func TestSheet_Amended(t *testing.T) {
	agreed := smallSpec()
	agreed.RO = "Spier"
	c := crew.Open(t, 1, agreed)
	c.Key("0 05 10")
	agreed.RO = "Spire"
	c.Do(c.Setup.Amend(agreed, []spec.Rename{{From: "Spier", To: "Spire"}}, "misspelt"))
	c.Key("45 10 20")
	last, _ := c.Setup.Last()
	out, err := c.Setup.LeaveOutReading(last.Seq, "it was hurried")
	c.Do(out, err)
	d := crew.Open(t, 2, agreed)
	void, err := d.Setup.StrikeWhole("opened for the wrong station")
	d.Do(void, err)
	b := binder("amended.book", c.Setup, d.Setup)
	var html, text bytes.Buffer
	if err := b.HTML(&html); err != nil {
		t.Fatal(err)
	}
	if err := b.Text(&text, 200); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Spier is now Spire. Reason: misspelt", "Left out of the means", "it was hurried",
		"Struck whole", "opened for the wrong station"} {
		for name, got := range map[string]string{"html": html.String(), "text": text.String()} {
			if !strings.Contains(strings.Join(strings.Fields(got), " "), want) {
				t.Errorf("%s: %q is not said", name, want)
			}
		}
	}
	if strings.Contains(strings.ReplaceAll(text.String(), "Spier is now", ""), "Spier") {
		t.Error("the wrong name stands on the sheet beside the amendment")
	}
}
