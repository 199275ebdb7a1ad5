package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/store"
)

// A clock a year before the newest event is told by every command that opens the
// book, to read it or to write into it.
func TestClock_AYearBackIsToldByEveryCommand(t *testing.T) {
	file := dayBook(t)
	l, err := book.Open(file, false, event.BookOpened{}, store.Options{Reserve: -1})
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Append(time.Now().AddDate(1, 0, 0), event.BookDescribed{Job: "Brackenfold dam", By: "Tam Okoro"}); err != nil {
		t.Fatal(err)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	commands := append([][]string{{"import", file, example("brackenfold-day.csv"), "--booker", "Tam Okoro"},
		{"restore", file + ".jsonl", filepath.Join(t.TempDir(), "anew")}, {"audit", file}, {"season", file}, {"fieldtest", file}, {"describe", file}, {"limits", file}, {"plan", file},
		{"export", file, "--as", "sql"}, {"known", file, "--bearing", "Weir,Spire,45 10 20", "--by", "Tam Okoro"},
		{"describe", file, "--place", "Brackenfold", "--by", "Tam Okoro"}, {"gather", filepath.Join(t.TempDir(), "office"), file}}, reading...)
	lines := bytesOf(t, file+".jsonl")
	ahead := bytesOf(t, file)
	for _, args := range commands {
		if args[1] == "B" {
			args = append([]string{args[0], file}, args[2:]...)
		}
		put(t, file, string(ahead))
		put(t, file+".jsonl", string(lines))
		if code, out, errs := said(args...); !strings.Contains(out+errs, "The clock of this machine says ") {
			t.Errorf("%q: exit %d, %s", args, code, errs)
		}
	}
}
