package main

import (
	"bytes"
	"context"
	"errors"
	"testing"
	"time"
)

func TestProgress(t *testing.T) {
	var b bytes.Buffer
	p := startProgress(&b, "readings")
	p.next = time.Time{}
	p.at(5)
	p.end()
	if b.Len() > 0 {
		t.Errorf("no terminal, and said %q", b.String())
	}
	p.w = &b
	p.next = time.Now().Add(time.Hour)
	p.at(6)
	p.end()
	if b.Len() > 0 {
		t.Errorf("too early, and said %q", b.String())
	}
	p.next = time.Time{}
	p.at(7)
	p.at(8)
	p.end()
	if got := b.String(); got != "\r7 readings\r\x1b[K" {
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
