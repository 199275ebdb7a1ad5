package store_test

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"example.org/readback/store"
	"example.org/readback/store/repair"
)

// A book is made, one event is booked, and the book is read again and audited.
func Example() {
	dir, err := os.MkdirTemp("", "readback-example-")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "Brackenfold.readback")
	book, err := store.Create(path, store.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = book.Append(store.Draft{
		ID: [16]byte{1}, At: time.Date(2026, 5, 4, 7, 12, 0, 0, time.UTC),
		Kind: 3, Version: 1, Group: 1, Body: []byte(`{"text":"12 34 56"}`),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	events, err := book.Group(1)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range events {
		fmt.Println(e.Seq, e.At.Format(time.DateTime), string(e.Body))
	}
	if err := book.Close(); err != nil {
		fmt.Println(err)
		return
	}
	report := repair.Verify(path)
	fmt.Println(report.Journal.Events, report.Err())
	// Output:
	// 1 2026-05-04 07:12:00 {"text":"12 34 56"}
	// 1 <nil>
}
