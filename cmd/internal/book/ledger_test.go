package book

import (
	"path/filepath"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/observer"
	"example.org/readback/store"
)

// While a setup is observed no summary is made of it, whatever its size: at a
// large station that costs more than the booking. One is kept when it is left,
// also after the program died, and when the book is closed.
func TestLedger_SummaryIsKeptWhenASetupIsLeft(t *testing.T) {
	full, err := observer.New(observer.Options{Seed: 3, Targets: 3, Rounds: 2}).Book()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "B")
	l, err := Open(path, true, event.BookOpened{}, store.Options{Reserve: -1})
	if err != nil {
		t.Fatal(err)
	}
	booked := func(n int) booking.Setup { // a setup is opened and two readings are booked
		at := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
		s, err := l.Record(booking.Setup{}, n, at, event.SetupOpened{Spec: full.Spec})
		for i := 0; i < 2 && err == nil; i++ {
			r := full.Readings[i]
			s, err = l.Record(s, n, at, event.ReadingBooked{Slot: r.Slot, Text: r.Text, Value: r.Value, By: "Tam Okoro"})
		}
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	kept := func(n int) bool {
		d, err := l.src.Digest(uint32(n))
		if err != nil {
			t.Fatal(err)
		}
		return d != nil
	}
	first := booked(1)
	if kept(1) {
		t.Error("a summary is made with every reading")
	}
	if m, err := l.summary(1); err != nil || m.Readings != check.Summarize(first).Readings {
		t.Errorf("the summary of the setup being observed: %+v, %v", m, err)
	}
	booked(2)
	if !kept(1) || kept(2) {
		t.Errorf("after it was left for another: %v %v", kept(1), kept(2))
	}
	if err := l.st.Close(); err != nil { // as if the program had died
		t.Fatal(err)
	}
	if l, err = Open(path, false, event.BookOpened{}, store.Options{Reserve: -1}); err != nil {
		t.Fatal(err)
	}
	if list, err := l.recent(booking.Setup{Number: 3, Spec: full.Spec}); err != nil || len(list) != 2 {
		t.Errorf("of 2 setups before %d are known: %v", len(list), err)
	}
	booked(3)
	if !kept(2) {
		t.Error("it is not made anew when it is left after the next opening")
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if l, err = Open(path, false, event.BookOpened{}, store.Options{Reserve: -1}); err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if !kept(3) {
		t.Error("it is not kept on closing")
	}
}
