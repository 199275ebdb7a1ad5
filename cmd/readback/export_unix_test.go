//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"example.org/readback/testdata"
)

// Ctrl-C in the middle of an export leaves neither a half file nor what was
// written of it, and the old file as it was.
func TestExport_InterruptedLeavesNothing(t *testing.T) {
	if !*testdata.Long {
		t.Skip("a book of 20,000 readings: -long")
	}
	book := seasonBook(t, 20_000)
	dir := t.TempDir()
	out := filepath.Join(dir, "out.csv")
	if err := os.WriteFile(out, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(binary(t), "export", book, "-o", out, "--replace")
	var said bytes.Buffer
	cmd.Stderr = &said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	begun := false
	for end := time.Now().Add(20 * time.Second); !begun && time.Now().Before(end); time.Sleep(time.Millisecond) {
		parts, _ := filepath.Glob(filepath.Join(dir, ".*.part"))
		for _, p := range parts {
			if info, err := os.Stat(p); err == nil && info.Size() > 0 {
				begun = true
			}
		}
	}
	if err := cmd.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	err := cmd.Wait()
	if !begun {
		t.Fatalf("the export was over before it could be stopped: %v", err)
	}
	left, _ := filepath.Glob(filepath.Join(dir, "*"))
	hidden, _ := filepath.Glob(filepath.Join(dir, ".*"))
	if text := read(t, out); err == nil || text != "old" || len(left) != 1 || len(hidden) != 0 {
		t.Errorf("ended with %v, said %q, left %v %v, the file is %d bytes", err, said.String(), left, hidden, len(text))
	}
	if code := cmd.ProcessState.ExitCode(); code != exitNo || !bytes.Contains(said.Bytes(), []byte("interrupted")) {
		t.Errorf("exit code %d, said %q", code, said.String())
	}
}
