package check

import (
	"strings"
	"testing"

	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
)

// Rounds of the tests' station without a mistake: 2c about −6″.
var (
	soundOne = []string{"0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15"}
	soundTwo = []string{"90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15"}
)

// A story is a station booked with a mistake: what is keyed, and what is said at
// the readings that matter. Every other reading passes without a word against it.
type story struct {
	name      string
	closes    bool // halves close on the RO
	verticals bool
	keyed     []string
	said      []said
	suspects  []string // what the sentences of the suspects hold, in order
}

// said is what is said at the reading in this place: a stop or not, and its words.
type said struct {
	at    int
	stops bool
	words string
}

func after(rounds ...[]string) (all []string) {
	for _, r := range rounds {
		all = append(all, r...)
	}
	return all
}

// How bookings go wrong (common practice, no source), told while it helps.
func TestStories(t *testing.T) {
	both := after(soundOne, soundTwo)
	for _, c := range []story{
		{name: "a kick on face right of the first round",
			keyed: after(soundOne[:6], []string{"225 11 05", "180 05 55"}),
			said: []said{{6, true, "read both again. If it reads the same, book it: the next sight tells whether the circle or the tripod has moved."},
				{7, true, "Everything since Quarry on face left, or since Alder on face right, is about 38″ out: the circle or the tripod has moved. Void the round and begin it again."}},
			suspects: []string{"Everything from Quarry, face left, round 1 on has turned together; others fit alike", "Everything from Alder, face right, round 1 on"}},
		{name: "a kick before the second sight of a half: it may be the first sight too",
			keyed: after(soundOne[:5], []string{"300 30 50", "225 11 05"}),
			said: []said{{5, true, "the next sight tells"},
				{6, true, "Everything since Mast is about 43″ out, or Mast itself is"}}},
		{name: "a kick on face left of the second round",
			keyed: after(soundOne, []string{"90 05 10", "135 10 25", "210 30 40", "340 01 20", "160 01 30"}),
			said: []said{{10, true, "Read again. If it reads the same, book it: the next sight tells"},
				{11, true, "Everything since Quarry on face left is about 34″ out"}, {12, true, "Everything since Quarry on face left"}}},
		{name: "a half of the first round that does not close: the other face tells where it began",
			closes: true,
			keyed:  []string{"0 05 10", "45 10 20", "120 30 30", "250 01 15", "0 05 40", "180 05 45", "70 01 20", "300 30 40", "225 11 00"},
			said: []said{{4, true, "The half closes on the RO with +30″, limit 10″. The other face shows which sight began it."},
				{8, true, "Everything since Quarry on face left is about 31″ out"}}},
		{name: "a half that does not close for its last sight",
			closes: true,
			keyed:  []string{"0 05 10", "45 10 20", "120 30 00", "250 00 45", "0 05 10", "180 05 15", "70 00 50", "300 30 10", "225 10 25", "180 05 40"},
			said:   []said{{9, true, "limit 15″. It began at Spire on face right."}}},
		{name: "the first vertical pair is wild and small enough to pass",
			verticals: true,
			keyed:     after(both, []string{"89 20 10", "88 10 20", "91 05 30", "90 30 00", "269 31 05", "268 54 40", "271 49 45", "270 40 00"}),
			said: []said{{21, true, "The index error is +5″, and +33″ on Mast: one of the two pairs is wrong. Read this one again. If it reads the same, book it: the next pair tells."},
				{22, false, "The index error is +3″, as on Quarry. The pair on Mast stands apart: read that one again, on both faces."}},
			suspects: []string{"The index error of the vertical pair on Mast stands apart."}},
		{name: "the first vertical pair is wild by a half degree",
			verticals: true,
			keyed:     after(both, []string{"89 20 10", "88 10 20", "91 05 30", "90 00 00", "269 30 05", "268 54 40", "271 49 45", "270 40 00"}),
			said: []said{{20, true, "It may be the reading on face left that is wrong. One digit of the minutes looks misread"},
				{21, false, "and about −0°15′ on Mast: one of the two pairs is wrong."}, {22, false, "The pair on Mast stands apart"}}},
		{name: "a figure read again and found the same: later rounds do not accuse what agrees with it",
			keyed:    after([]string{"0 05 10", "45 10 20", "120 30 40", "250 00 45"}, soundOne[4:], soundTwo),
			said:     []said{{5, true, "Here or on face left: read both again."}},
			suspects: []string{"Quarry, face left, round 1"}},
		{name: "the vertical circle read for the horizontal one, face right",
			keyed: after(soundOne[:5], []string{"271 40 10"}),
			said:  []said{{5, true, "This looks like a reading of the other circle: which one was read?"}}},
		{name: "the vertical circle read for the horizontal one, in a later round",
			keyed:    after(soundOne, soundTwo[:1], []string{"88 20 15"}),
			said:     []said{{9, true, "This looks like a reading of the other circle: which one was read?"}},
			suspects: nil},
		{name: "the horizontal circle read for the vertical one",
			verticals: true,
			keyed:     after(both, []string{"89 20 10", "135 10 25"}),
			said:      []said{{17, true, "This is what the horizontal circle reads on Alder: which circle was read?"}}},
		{name: "the same figure for two targets where nothing is expected",
			keyed: []string{"0 05 10", "45 10 20", "45 10 20"},
			said:  []said{{2, true, "This is the figure booked for Alder: which of the two is sighted?"}}},
		{name: "the same figure for two targets, vertical circle",
			verticals: true,
			keyed:     after(both, []string{"89 20 10", "88 10 20", "88 10 20"}),
			said:      []said{{18, true, "This is the figure booked for Alder"}}},
		{name: "targets out of clockwise order",
			keyed: []string{"0 05 10", "120 30 00", "45 10 20"},
			said:  []said{{2, false, "Quarry lies before Alder, counted clockwise from Spire: are the two exchanged, or is one misread?"}}},
		{name: "targets exchanged in a later round",
			keyed: after(soundOne, soundTwo[:1], []string{"210 30 00", "135 10 25"}),
			said: []said{{9, true, "This looks like another target: what is sighted?"},
				{10, true, "Quarry and Alder look sighted in each other's place: strike the one booked, and read both again."}}},
		{name: "another point sighted on both faces of a later round",
			keyed: after(soundOne, soundTwo[:1], []string{"135 11 05"}, soundTwo[2:6], []string{"315 11 10"}, soundTwo[7:]),
			said: []said{{9, true, "read both again. If it reads the same, book it"},
				{14, true, "Both faces agree with each other and not with the rounds before: is another point sighted?"}},
			suspects: []string{"Both faces of Alder agree with each other"}},
		{name: "digits exchanged over the border of minutes and seconds",
			keyed:    after(soundOne, soundTwo[:1], []string{"135 12 05"}, soundTwo[2:]),
			said:     []said{{9, true, "Two digits over the border of minutes and seconds look exchanged, or the circle or the tripod has moved: read again."}},
			suspects: []string{"Two digits over the border of minutes and seconds look exchanged"}},
	} {
		t.Run(c.name, c.tell)
	}
}

// tell books the story and holds what is said against it.
func (c story) tell(t *testing.T) {
	spec := testSpec()
	spec.CloseHalves, spec.Verticals = c.closes, c.verticals
	b := newBench(t, spec)
	for i, text := range c.keyed {
		e, err := Read(b.s, programme.Expect(b.s).Slot, text, true, Known{})
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		var f event.Finding
		if len(e.Findings) > 0 {
			f = e.Findings[0]
		}
		told := false
		for _, s := range c.said {
			if s.at != i {
				continue
			}
			told = true
			if (f.Severity == event.Stop) != s.stops || !strings.Contains(f.Text, s.words) {
				t.Errorf("%s at %s: severity %d, %q; want %q", text, e.Slot, f.Severity, f.Text, s.words)
			}
		}
		if !told && f.Severity == event.Stop {
			t.Errorf("%s at %s is accused: %q", text, e.Slot, f.Text)
		}
		b.do(e)
	}
	found := Suspects(b.s)
	if c.suspects != nil && len(found) != len(c.suspects) {
		t.Fatalf("%d suspects: %+v", len(found), found)
	}
	for i, words := range c.suspects {
		if !strings.Contains(found[i].Text, words) {
			t.Errorf("%q, want %q", found[i].Text, words)
		}
	}
}
