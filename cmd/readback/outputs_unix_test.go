//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A pipe is written to and stays a pipe; a device too; a full one is an error.
func TestOutputs_PipesAndDevices(t *testing.T) {
	dir, file := outputsPlace(t)
	want := call(t, "", "export", file).must(t, exitFine).out
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	text := make(chan string)
	go func() { b, _ := os.ReadFile(pipe); text <- string(b) }()
	call(t, "", "export", file, "-o", pipe).must(t, exitFine)
	if got := <-text; got != want {
		t.Errorf("through the pipe came %d bytes, want %d", len(got), len(want))
	}
	if info, err := os.Lstat(pipe); err != nil || info.Mode()&os.ModeNamedPipe == 0 {
		t.Errorf("the pipe was replaced: %v", err)
	}
	call(t, "", "export", file, "-o", os.DevNull).must(t, exitFine)
	if info, err := os.Lstat(os.DevNull); err != nil || info.Mode()&os.ModeDevice == 0 {
		t.Fatalf("the device was replaced: %v", err)
	}
	if _, err := os.Stat("/dev/full"); err == nil {
		for _, args := range [][]string{{"export", file}, {"sheet", file}, {"audit", file}, {"health", file}, {"reduce", example("two-rounds.csv")}} {
			if got := call(t, "", append(args, "-o", "/dev/full")...); got.code != exitNo || got.err == "" {
				t.Errorf("%q onto a full device: exit %d, %s", args, got.code, got.err)
			}
		}
	}
}

// An output is made with the user's ordinary mode, a book for its owner only.
func TestOutputs_Modes(t *testing.T) {
	before := syscall.Umask(0o027)
	defer syscall.Umask(before)
	dir, file := outputsPlace(t)
	out := filepath.Join(dir, "out.csv")
	call(t, "", "export", file, "-o", out).must(t, exitFine)
	for name, want := range map[string]os.FileMode{out: 0o640, file: 0o600, file + ".jsonl": 0o600} {
		if info, err := os.Stat(name); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v, want %v (%v)", name, info.Mode().Perm(), want, err)
		}
	}
}

// A command whose own standard output is full says so and fails.
func TestOutputs_FullStandardOutput(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("this system has no full device")
	}
	defer full.Close()
	_, file := outputsPlace(t)
	for _, args := range [][]string{{"export", file}, {"sheet", file, "--text"}, {"audit", file}, {"figure", file}, {"health", file}, {"known", file}} {
		var errs strings.Builder
		if code := run(args, &Context{In: os.Stdin, Out: full, Err: &errs, Getenv: os.Getenv}); code != exitNo || errs.Len() == 0 {
			t.Errorf("%q: exit %d, said %q", args[0], code, errs.String())
		}
	}
}

// A name may hold a line feed; a sentence stays one line.
func TestNames_WithLineFeeds(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "two\nlines\x1b[2J")
	for _, args := range [][]string{{"audit", name}, {"export", name}, {"reduce", name}, {"sheet", name}, {"restore", name, filepath.Join(dir, "b")}} {
		got := call(t, "", args...)
		if got.code == exitFine || strings.Count(got.err, "\n") != 1 || strings.Contains(got.err, "\x1b") {
			t.Errorf("%q: exit %d, said %q", args[0], got.code, got.err)
		}
	}
}
