package sheet

import (
	"bytes"
	"strings"
	"testing"

	"example.org/readback/booking/spec"
)

// What was amended, left out and struck after the lift stands on the sheet with
// who, when and why; a setup struck whole says so.
func TestSheet_Amended(t *testing.T) {
	agreed := smallSpec()
	agreed.RO = "Spier"
	c := newCrew(t, 1, agreed)
	c.key("0 05 10")
	agreed.RO = "Spire"
	c.amend(agreed, []spec.Rename{{From: "Spier", To: "Spire"}}, "misspelt")
	c.key("45 10 20")
	out, err := c.s.LeaveOutReading(c.seq, "it was hurried")
	c.do(out, err)
	d := newCrew(t, 2, agreed)
	void, err := d.s.StrikeWhole("opened for the wrong station")
	d.do(void, err)
	b := binder("amended.book", c.s, d.s)
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

func (c *crew) amend(spec spec.Spec, renamed []spec.Rename, why string) {
	c.t.Helper()
	e, err := c.s.Amend(spec, renamed, why)
	c.do(e, err)
}
