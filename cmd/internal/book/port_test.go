package book

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/store"
)

// A clock that goes back while the book is open reaches the screens, and goes from
// them when it is set.
func TestPort_TellsAClockThatWentBack(t *testing.T) {
	now := time.Now() // the book is opened at the time of day
	l, err := Open(filepath.Join(t.TempDir(), "B"), true, event.BookOpened{}, store.Options{Reserve: -1})
	if err != nil {
		t.Fatal(err)
	}
	p := &Port{l: l}
	defer l.Close()
	for _, c := range []struct {
		back time.Duration
		want string
	}{{0, ""}, {10 * time.Minute, ""}, {365 * 24 * time.Hour, "went back by 365 days"}, {3 * time.Hour, "went back by 3 h 00 min"}, {-time.Minute, ""}} {
		if err := l.Append(now.Add(-c.back), event.BookDescribed{Job: c.back.String(), By: "Tam Okoro"}); err != nil {
			t.Fatal(err)
		}
		if got := p.Status().Clock; c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%v back: %q", c.back, got)
		}
	}
}
