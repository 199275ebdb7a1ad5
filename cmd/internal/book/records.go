package book

import (
	"crypto/rand"
	"encoding/json"
	"fmt"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/store"
)

// draftOf makes the stored form of an event. after is its setup with the event,
// nil for an event of the book itself.
func draftOf(id [16]byte, e event.Entry, after *booking.Setup) (store.Draft, error) {
	kind, version, body, err := event.Encode(e.Event)
	if err != nil {
		return store.Draft{}, err
	}
	d := store.Draft{ID: id, At: e.At, Kind: uint16(kind), Version: version, Group: uint32(e.Setup), Body: body}
	if after != nil {
		if d.Digest, err = json.Marshal(check.Summarize(*after)); err != nil {
			return store.Draft{}, fmt.Errorf("summary of setup %d: %w", e.Setup, err)
		}
	}
	return d, nil
}

// newID chooses the identity of an event.
func newID() (id [16]byte) {
	rand.Read(id[:]) // never fails
	return id
}

// entryOf reads a stored record as an event with its place in the book.
func entryOf(r store.Record) (event.Entry, error) {
	e, err := event.Decode(event.Kind(r.Kind), r.Version, r.Body)
	if err != nil {
		return event.Entry{}, fmt.Errorf("event %d: %w", r.Seq, err)
	}
	return event.Entry{Seq: r.Seq, At: r.At, Setup: int(r.Group), Event: e}, nil
}

func entriesOf(records []store.Record) ([]event.Entry, error) {
	entries := make([]event.Entry, 0, len(records))
	for _, r := range records {
		e, err := entryOf(r)
		if err != nil {
			return nil, err
		}
		entries = append(entries, e)
	}
	return entries, nil
}
