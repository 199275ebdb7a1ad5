//go:build unix

package main

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// calledNow finds what the observer of a drill calls, its digits spaced.
var calledNow = regexp.MustCompile(`the observer calls +([0-9. ]+)`)

// callNow is what the observer calls as it is keyed, empty for nothing.
func callNow(screen string) string {
	m := calledNow.FindStringSubmatch(screen)
	if m == nil {
		return ""
	}
	groups := strings.Split(strings.TrimSpace(m[1]), "   ")
	for i, g := range groups {
		groups[i] = strings.ReplaceAll(g, " ", "")
	}
	return strings.Join(groups, " ")
}

// A learner follows what the observer of a drill calls.
type learner struct {
	*booker
	ro                         string
	marks, doubts              map[string]int // of a pointing: how often marked, how often something else was struck for it
	again, struck, confirmings int
}

// follows books what is called until everything is booked, as a careful learner
// does: a marked reading is read again; when the same is called once more, what it
// is held against is struck and read again, which is the other face, or the RO of
// the half; what is marked then is confirmed.
func (l *learner) follows() *learner {
	l.t.Helper()
	for range 200 {
		screen := l.screen()
		asked, call := asks(screen), callNow(screen)
		if asked == asksNothing {
			return l
		}
		if call == "" || asked == "" {
			l.t.Fatalf("nothing is called in\n%s", screen)
		}
		marked := false
		l.calls(call).until("an answer to "+call+" at "+asked, func(screen string) bool {
			marked = strings.Contains(screen, "Has the observer read it again?")
			next := asks(screen)
			return marked || next != asked && next != ""
		})
		if marked {
			l.answers(asked)
		}
	}
	l.t.Fatalf("no end of readings:\n%s", l.screen())
	return l
}

// answers decides what to do about a marked reading.
func (l *learner) answers(asked string) {
	l.t.Helper()
	l.marks[asked]++
	if l.marks[asked] == 1 {
		l.again++
		l.presses("n").sees("○ empty", "the observer calls")
		return
	}
	stage, target := asksStage.FindStringSubmatch(asked), asksTarget.FindStringSubmatch(asked)[1]
	other := ""
	switch {
	case stage[3] == "right":
		other = target + ", face left, round " + stage[1]
	case stage[4] == "right":
		other = target + ", face left, vertical circle"
	case stage[3] == "left" && target != l.ro && stage[1] != "1":
		other = l.ro + ", face left, round " + stage[1]
	}
	if other == "" || l.doubts[asked] > 0 {
		l.confirmings++
		l.presses("y").until("another pointing", func(screen string) bool { return asks(screen) != asked })
		return
	}
	l.struck++
	l.doubts[asked]++
	l.marks[asked] = 0
	l.presses("n").sees("○ empty").strikes(other)
}

// strikes strikes a reading, found by its words in the list.
func (b *booker) strikes(row string) *booker {
	b.t.Helper()
	b.presses("s").sees("Strike a reading", row)
	number := regexp.MustCompile(`(\d+) +[0-9.,°′″]+ +` + row).FindStringSubmatch(b.screen())
	if number == nil {
		b.t.Fatalf("%q is not in the list:\n%s", row, b.screen())
	}
	for _, digit := range number[1] {
		b.presses(string(digit))
	}
	b.sees("› " + number[1] + " ")
	b.presses(enter).sees("of " + row).presses("1")
	return b.sees("Struck. The figure stays legible on the page.", "○ empty", "the observer calls")
}

// The demonstration is half booked: a newcomer keys what is called, sees a reading
// flagged, the comparison and the verdict.
func TestDemo_FromHalfBookedToTheVerdict(t *testing.T) {
	b := bookerAt(open(t, 100, 36, "demo"))
	b.sees("DRILL", "round 2 of 2", "FR", "the observer calls")
	l := learner{booker: b, ro: "Spire", marks: map[string]int{}, doubts: map[string]int{}}
	l.follows()
	if l.again == 0 {
		t.Error("no reading was flagged")
	}
	b.presses("c").sees("B booking", "The rounds agree within").presses("b").sees("The verdict is Lift.")
	b.presses("q").sees("Leave Readback?").presses("y")
	if code := b.exit(); code != exitFine {
		t.Errorf("exit code %d", code)
	}
}

// A drill of one station, followed as a careful learner does, is scored: the slips
// that were called, caught and missed.
func TestDrill_OneStationScored(t *testing.T) {
	file := filepath.Join(t.TempDir(), "drill.book")
	b := bookerAt(open(t, 100, 36, "drill", "--seed", "19", "--book", file))
	b.sees("DRILL", "the observer calls")
	first := callNow(b.screen())
	l := learner{booker: b, ro: "Spire", marks: map[string]int{}, doubts: map[string]int{}}
	l.follows()
	t.Logf("%d read again, %d others struck, %d confirmed", l.again, l.struck, l.confirmings)
	b.presses(enter).sees("Every check is met").presses("t").sees("Lift the tripod").presses("y").sees("the tripod is lifted", "Score of the drill")
	b.leaves()
	b.sees("Drill, seed 19: not a survey.", "slips called 5", "slips caught 5", "slips missed 0", "stations lifted 1", "stations lifted wrongly 0")

	again := open(t, 100, 36, "drill", "--seed", "19").sees("the observer calls")
	if now := callNow(again.screen()); now != first {
		t.Errorf("the same seed called %s and then %s", first, now)
	}
	if o := runs(t, "sheet", file, "--text"); o.code != exitFine || !strings.Contains(strings.ToLower(o.out), "drill") {
		t.Errorf("the sheet does not say that this was a drill: %s%s", o.out, o.errs)
	}
}
