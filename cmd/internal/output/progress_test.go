package output

import (
	"bytes"
	"context"
	"errors"
	"testing"
	"time"
)

func TestProgress(t *testing.T) {
	var b bytes.Buffer
	p := StartProgress(&b, "readings", 0)
	p.next = time.Time{}
	p.At(5)
	p.End()
	if b.Len() > 0 {
		t.Errorf("no terminal, and said %q", b.String())
	}
	p.w = &b
	p.next = time.Now().Add(time.Hour)
	p.At(6)
	if b.Len() > 0 {
		t.Errorf("too early, and said %q", b.String())
	}
	p.next = time.Time{}
	p.At(7)
	p.At(8)
	p.End()
	if got := b.String(); got != "\r7 readings\x1b[K\r\x1b[K" {
		t.Errorf("said %q", got)
	}
}

func TestStoppable(t *testing.T) {
	var b bytes.Buffer
	ctx, stop := context.WithCancel(context.Background())
	w := stoppable{&b, ctx}
	if _, err := w.Write([]byte("whole")); err != nil {
		t.Fatal(err)
	}
	stop()
	if _, err := w.Write([]byte("half")); !errors.Is(err, errInterrupted) || b.String() != "whole" {
		t.Errorf("%v, wrote %q", err, b.String())
	}
}

func TestProgress_TimeLeft(t *testing.T) {
	p := &Progress{noun: "events", total: 4000}
	if got := p.words(1000, 10*time.Second); got != "1000 of 4000 events, about 30s left" {
		t.Error(got)
	}
	if got := p.words(0, time.Second); got != "0 events" {
		t.Error(got)
	}
}

// The bar is filled as far as the job is, and gives way where its row has no room.
func TestProgress_Bar(t *testing.T) {
	for _, tt := range []struct {
		cols, done int
		want       string
	}{
		{80, 1000, "██████░░░░░░░░░░░░░░░░░░  1000 of 4000 events, about 30s left"},
		{80, 4000, "████████████████████████  4000 of 4000 events, about 1s left"},
		{50, 2000, "██████░░░░░░  2000 of 4000 events, about 10s left"},
		{40, 1000, "1000 of 4000 events, about 30s left"},
	} {
		var b bytes.Buffer
		p := &Progress{w: &b, noun: "events", total: 4000, cols: func() int { return tt.cols }, began: time.Now().Add(-10 * time.Second)}
		p.At(tt.done)
		if got := b.String(); got != "\r"+tt.want+"\x1b[K" {
			t.Errorf("%d columns: %q, expected %q", tt.cols, got, tt.want)
		}
	}
	if got := (&Progress{noun: "events", cols: func() int { return 80 }}).bar(5, 8); got != "" {
		t.Errorf("a bar without a total: %q", got)
	}
}
