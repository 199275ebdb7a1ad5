package tui

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"
)

// answer answers the first n of the queue.
func (d *driver) answer(n int) {
	for ; n > 0 && len(d.port.queue) > 0; n-- {
		e := d.port.queue[0]
		d.port.queue = d.port.queue[1:]
		d.port.entries = append(d.port.entries, e)
		d.send(Written{Seq: e.Seq})
	}
}

// fail fails the write of the first in the queue: it is in the file or not, what
// was queued behind it is not.
func (d *driver) fail(kept bool) {
	if len(d.port.queue) == 0 {
		return
	}
	d.port.lose = map[uint64]bool{}
	for i, e := range d.port.queue {
		d.port.lose[e.Seq] = i > 0 || !kept
	}
	d.send(Written{Seq: d.port.queue[0].Seq, Err: errDisk})
}

// Whatever comes back from a slow and failing disk, and whatever is keyed
// meanwhile, the setup seen is in the end the fold of what is in the file, and a
// reading is shown as saved only if it is there.
func TestAnswers_NothingIsShownThatIsNotThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := firstSetup(newDriver(t, &fakePort{}, Options{}))
		d.port.hold, d.blind = true, true
		readings := append(append([]string{}, roundOne...), roundTwo...)
		for i := rapid.IntRange(1, 30).Draw(t, "steps"); i > 0; i-- {
			switch rapid.IntRange(0, 7).Draw(t, "step") {
			case 0:
				d.answer(rapid.IntRange(1, 3).Draw(t, "answers"))
			case 1:
				d.fail(rapid.Bool().Draw(t, "kept"))
			case 2:
				d.key("o")
			case 3:
				d.key("b")
			case 4:
				d.keys("s<enter>1")
			case 5:
				d.send(tea.WindowSizeMsg{Width: rapid.IntRange(20, 120).Draw(t, "w"), Height: rapid.IntRange(5, 40).Draw(t, "h")})
			default:
				d.book(readings[len(d.app.v.setup.Readings)%len(readings)]).key("y")
			}
			shownAsSaved(t, d)
		}
		if d.app.v.failure != nil {
			d.size(100, 30).key("o").key("b")
		}
		d.answer(len(d.port.queue))
		folded(t, d)
	})
}

// shownAsSaved fails where a reading that is not on disk is shown as saved, while
// no failed write is being looked into.
func shownAsSaved(t *rapid.T, d *driver) {
	if f := d.app.v.failure; f != nil && !f.done {
		return
	}
	there := map[uint64]bool{}
	for _, e := range d.port.entries {
		there[e.Seq] = true
	}
	for _, r := range d.app.v.setup.Readings {
		if !there[r.Seq] && !d.app.v.isSaving(r.Seq) {
			t.Fatalf("reading %d is shown as saved and is not on disk", r.Seq)
		}
	}
}
