package tui

import (
	"errors"
	"testing"
)

func TestSaving_IsShownUntilTheAnswer(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.port.hold = true
	d.book("303005", "3151030").sees("saving 2", "saving")
	d.send(Written{Seq: d.port.head - 1})
	d.sees("saving 1")
	d.flush()
	d.sees("✓ saved").seesNot("saving")
}

func TestFailedWrite_NotInTheFile(t *testing.T) {
	d := failWrite(half(newDriver(t, &fakePort{}, Options{})))
	d.sees("The book could not be written.", "no space left on device", "Press O to open the book again.")
	n := len(d.port.queue)
	d.keys("30305<enter>sbpgclw").sees("The book could not be written.")
	if len(d.port.queue) != n {
		t.Fatal("something was queued while the book is read-only")
	}
	d.key("o").sees("Not booked: the reading of Quarry", "keyed 303005").key("b")
	d.sees("Not booked: the reading of Quarry").book("303005").sees("Booked: Quarry")
	folded2(t, d)
}

func TestFailedWrite_InTheFileAllTheSame(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.port.hold = true
	d.book("303005", "3151030")
	d.send(Written{Seq: d.port.head - 1, Err: errDisk})
	d.port.hold = false
	d.port.lose = map[uint64]bool{d.port.head: true}
	d.key("o").sees("Booked after all: the reading of Quarry", "Not in the file: the reading of Alder").key("b")
	d.sees("Booked after all")
	folded2(t, d)
}

func TestFailedWrite_ReopenFails(t *testing.T) {
	d := failWrite(half(newDriver(t, &fakePort{}, Options{})))
	d.port.reErr = errors.New("open brackenfold.book: no such file or directory")
	d.key("o").sees("It could not be opened again", "no such file")
	d.key("x").sees("The book is read-only: O opens it again")
	d.port.reErr = nil
	d.key("o").sees("The book is open again").key("x").sees("The book is open again: B goes back to booking.").seesNot("read-only")
}

func TestFailedWrite_OfTheOpening(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	d.port.hold = true
	firstSetup(d)
	d.port.lose = map[uint64]bool{1: true}
	d.send(Written{Seq: 1, Err: errDisk})
	d.port.hold = false
	d.keys("ob").sees("Work list", "No setup yet.")
	d.key("n").sees("Ines Holm")
}

func TestFailedWrite_WhileLookingBack(t *testing.T) {
	d := newDriver(t, &fakePort{}, Options{})
	whole(d).keys("lty").keys("nAlder<enter>Weir<enter>Spire, Mast<enter>o").book("00510")
	d.keys("w<down><enter>").sees("looking back")
	d.send(Written{Seq: d.port.head, Err: errDisk})
	d.sees("could not be written").keys("ob").sees("Alder setup 2")
}

func TestCopyBehind_IsSeenAndBookingGoesOn(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{}))
	d.port.status.CopyNote = "The second journal in /media/card cannot be written: the card is out. Booking goes on."
	d.book("303005").sees("second journal behind", "the card is out")
	d.port.status.CopyNote = ""
	d.book("3151030").seesNot("second journal behind")
}

// A clock that was set back while the book is open is told on the booking screen
// until it stands right again, and booking goes on.
func TestClockBack_IsSeenUntilItIsSet(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {140, 45}} {
		d := half(newDriver(t, &fakePort{}, Options{})).size(size[0], size[1])
		d.seesNot("! clock").port.status.Clock = "The clock of this tablet went back by 365 days. Set it."
		d.book("303005").sees("! clock", "✓ saved", "went back by 365 days").key("o").sees("went back by 365 days").key("b")
		d.port.status.Clock = ""
		d.book("3151030").seesNot("! clock", "went back")
	}
}

// folded2 fails where the setup seen is not the fold of what is on disk.
func folded2(t *testing.T, d *driver) {
	t.Helper()
	s, err := d.port.Setup(d.app.v.setup.Number)
	if err != nil || len(s.Readings) != len(d.app.v.setup.Readings) {
		t.Fatalf("seen %d readings, on disk %d, %v", len(d.app.v.setup.Readings), len(s.Readings), err)
	}
}

func TestUnreadableBook_OpensNothing(t *testing.T) {
	d := newDriver(t, &fakePort{unread: errors.New("event 7: its body cannot be read")}, Options{})
	d.sees("The book cannot be read", "Event 7").keys("n<enter>").sees("Work list").seesNot("New setup")
}

// The directory of the second journal is refused after the event is on disk: the
// event is in the book all the same.
func TestFailedWrite_OfWhatWasAnsweredBefore(t *testing.T) {
	d := half(newDriver(t, &fakePort{}, Options{})).keys("oc/nowhere<enter>")
	d.send(Written{Seq: d.port.head, Err: errors.New("open /nowhere: no such directory")})
	d.sees("no such directory").key("o").sees("Booked after all")
}

func TestFailedWrite_SetupUnreadable(t *testing.T) {
	d := failWrite(half(newDriver(t, &fakePort{}, Options{})))
	kept := d.port.entries
	d.port.entries = append(kept[:2:2], kept[1])
	d.key("o").sees("It could not be opened again")
	d.port.entries = kept
	d.key("o").sees("The book is open again")
}
