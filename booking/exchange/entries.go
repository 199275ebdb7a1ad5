package exchange

import (
	"slices"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

// entries returns the events of the setup in the order they happened, numbered
// from first, all at one time: the setup opened, every reading with its strike,
// and the rounds that are void or were left out. They are appended to room, which is
// empty.
func (p Paper) entries(room []event.Entry, setup int, first uint64, at time.Time) []event.Entry {
	entries := slices.Grow(room, len(p.rows)+1)
	add := func(e event.Event) uint64 {
		seq := first + uint64(len(entries))
		entries = append(entries, event.Entry{Seq: seq, At: at, Setup: setup, Event: e})
		return seq
	}
	by := p.Spec.Booker
	add(event.SetupOpened{Spec: p.Spec})
	left := map[int]int{}
	for _, r := range p.rows {
		left[r.Round]++
	}
	for _, r := range p.ordered() {
		slot := r.slot
		seq := add(event.ReadingBooked{Slot: slot, Text: r.Text, Value: r.Value, By: by, ReadAt: r.Time, Remark: r.Remark})
		if !p.stands(r) {
			add(event.ReadingStruck{Seq: seq, Reason: r.Struck, By: by})
		} else if leftOutAlone(r) {
			add(event.ReadingLeftOut{Seq: seq, Reason: r.Struck[len(leftOutReading):], By: by})
		}
		left[r.Round]--
		if left[r.Round] > 0 || r.Round == 0 {
			continue
		}
		if why, ok := p.void[r.Round]; ok {
			add(event.RoundVoided{Round: r.Round, From: slot, Reason: why, By: by})
		}
		if why, ok := p.out[r.Round]; ok {
			add(event.RoundLeftOut{Round: r.Round, Reason: why[len(leftOut):], By: by})
		}
	}
	return entries
}

// ordered returns the rows in the order of the file, except that a struck
// reading written below the one that replaced it comes before it.
func (p Paper) ordered() []*row {
	if !slices.ContainsFunc(p.rows, func(r *row) bool { return r.Struck != "" }) {
		return p.rows
	}
	late := map[spec.Slot][]*row{}
	standing := map[spec.Slot]bool{}
	var isLate = map[*row]bool{}
	for _, r := range p.rows {
		slot := r.slot
		switch {
		case p.stands(r):
			standing[slot] = true
		case standing[slot]:
			late[slot] = append(late[slot], r)
			isLate[r] = true
		}
	}
	var rows []*row
	for _, r := range p.rows {
		if isLate[r] {
			continue
		}
		if p.stands(r) {
			rows = append(rows, late[r.slot]...)
		}
		rows = append(rows, r)
	}
	return rows
}

// Setup returns the setup as booking folds it, under its number in the file.
func (p Paper) Setup() (booking.Setup, error) {
	*p.room = p.entries((*p.room)[:0], p.Number, 1, time.Time{})
	s, err := booking.Fold(*p.room)
	if err != nil {
		return s, p.fault(p.rows[0], colSetup, "setup %d: %s", p.Number, err)
	}
	return s, nil
}

// Events returns how many events Checked returns: those of Entries, and the lift.
func (p Paper) Events() int { return len(p.entries(nil, p.Number, 1, time.Time{})) + 1 }

// Bookable tells whether the setup can be booked, before anything is.
func (p Paper) Bookable() error {
	if p.Spec.RO == "" {
		return p.fault(p.rows[0], colTarget, "setup %d: %s", p.Number, nothingSighted)
	}
	_, err := p.Setup()
	return err
}

// Checked returns the events of Entries with what the live checks say of each
// reading stored beside it, and the setup after them. It refuses no reading for
// what the checks say. The setup ends lifted: its tripod is long gone. setup, first
// and at are as for Entries.
func (p Paper) Checked(setup int, first uint64, at time.Time, known check.Known) ([]event.Entry, booking.Setup, error) {
	entries := p.entries(nil, setup, first, at)
	var s booking.Setup
	fold := func(e event.Entry) (err error) {
		if s, err = s.Apply(e); err != nil {
			err = p.fault(p.rows[0], colSetup, "setup %d: %s", p.Number, err)
		}
		return err
	}
	for i, e := range entries {
		if b, ok := e.Event.(event.ReadingBooked); ok {
			b.Findings = check.Expect(s, b.Slot, known).Check(b.Value)
			entries[i].Event = b
		}
		if err := fold(entries[i]); err != nil {
			return nil, s, err
		}
	}
	from := ""
	if k := p.Spec.KeyedAfterwards; k != nil {
		from = " from " + k.File
	}
	lift, err := check.Lift(s, "Keyed later"+from+": the tripod had been lifted before these checks were made.")
	if err != nil {
		return nil, s, p.fault(p.rows[0], colSetup, "setup %d: %s", p.Number, err)
	}
	e := event.Entry{Seq: first + uint64(len(entries)), At: at, Setup: setup, Event: lift}
	err = fold(e)
	return append(entries, e), s, err
}
