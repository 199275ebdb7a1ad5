package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/proof"
)

func init() { children["fill"], children["open"] = fillChild, openChild }

// fillChild is the child of TestFullDisk: PATH MODE books until it is refused
// and prints the last acknowledged number and the error; "limited" sets a
// greatest file size first.
func fillChild(args []string) int {
	if args[1] == "limited" {
		signal.Ignore(syscall.SIGXFSZ)
		limit := syscall.Rlimit{Cur: 600 << 10, Max: 600 << 10}
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			fmt.Println(err)
			return 3
		}
	}
	b, err := Open(args[0], Options{Reserve: -1})
	if err != nil {
		fmt.Println(err)
		return 3
	}
	seq, _ := b.Head()
	for n := int(seq) + 1; ; n++ {
		if _, err := b.Append(draft(n)); err != nil {
			fmt.Println(n-1, errors.Is(err, fault.ErrNoSpace), err)
			return 0
		}
	}
}

// Ensure that a file-size limit stops the booking with a clear message, that
// what was acknowledged stays, and that it goes on when there is room.
func TestFullDisk_FileSizeLimit(t *testing.T) {
	path := newClosed(t, 3)
	out, err := child(t, "fill", path, "limited").Output()
	if err != nil {
		t.Fatalf("%v %s", err, out)
	}
	var acked int
	var full bool
	fmt.Sscan(string(out), &acked, &full)
	if acked < 100 || !full {
		t.Fatalf("%s", out)
	}
	b, err := Open(path, testOptions())
	must(t, err)
	defer b.Close()
	seq, _ := b.Head()
	if int(seq) < acked || int(seq) > acked+1 {
		t.Fatalf("%d acknowledged, %d there", acked, seq)
	}
	wantEvents(t, b, int(seq))
	appendTo(t, b, int(seq)+1, int(seq)+5)
	if r := audited(b); r.Err() != nil {
		t.Error(r.Err())
	}
}

// Ensure the same on a small disk that is really full, with the reserve: it is
// given back, the last readings fit, and after room is made all goes on.
func TestFullDisk_SmallDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=3m"); err != nil {
		t.Skipf("no small disk can be mounted here (%v); the file-size limit is tested instead", err)
	}
	defer syscall.Unmount(dir, syscall.MNT_DETACH)
	o := testOptions()
	o.Reserve = 512 << 10
	b, err := Create(filepath.Join(dir, "full.readback"), o)
	must(t, err)
	rubbish := filepath.Join(dir, "rubbish")
	must(t, os.WriteFile(rubbish, make([]byte, 1<<20), 0o600))
	n := fillUp(t, b, 1)
	b, booked, err := b.Reopen(testID(n + 1))
	must(t, err)
	if booked {
		n++
	}
	wantEvents(t, b, n)
	last := fillUp(t, b, n+1)
	if last < n+200 {
		t.Errorf("only %d events fit into the reserve", last-n)
	}
	must(t, b.Close())
	if _, err := os.ReadFile(b.path); err != nil {
		t.Fatal(err)
	}
	look, err := proof.Open(b.path) // a full disk does not keep anybody from looking
	must(t, err)
	look.Close()
	must(t, os.Remove(rubbish))
	b, err = Open(b.path, testOptions())
	must(t, err)
	defer b.Close()
	seq, _ := b.Head()
	if int(seq) < last || int(seq) > last+1 {
		t.Fatalf("%d acknowledged, %d there", last, seq)
	}
	wantEvents(t, b, int(seq))
	appendTo(t, b, int(seq)+1, int(seq)+5)
	if r := audited(b); r.Err() != nil {
		t.Error(r.Err())
	}
}

// fillUp books from event n on until the disk is full; it returns the last
// acknowledged number.
func fillUp(t *testing.T, b *Book, n int) int {
	t.Helper()
	for ; ; n++ {
		_, err := b.Append(draft(n))
		if err == nil {
			continue
		}
		if !errors.Is(err, fault.ErrNoSpace) || !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), "ake room on the disk") {
			t.Fatalf("%v", err)
		}
		return n - 1
	}
}

// openChild is the child that opens books as another user: PATH MODE.
func openChild(args []string) int {
	if args[1] == "look" {
		b, err := proof.Open(args[0])
		if err != nil {
			fmt.Println(err)
			return 0
		}
		fmt.Println("opened", b.Events())
		b.Close()
		return 0
	}
	b, err := Open(args[0], Options{Reserve: -1})
	if err != nil {
		fmt.Println(errors.Is(err, fault.ErrNotAllowed), err)
		return 0
	}
	fmt.Println("opened for booking")
	b.Close()
	return 0
}

// exeForAll copies the test binary to where every user may run it.
func exeForAll(t *testing.T) string {
	t.Helper()
	exe, err := os.Executable()
	must(t, err)
	dir, err := os.MkdirTemp(realDisk, "readback-exe-")
	must(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	must(t, os.Chmod(dir, 0o755))
	to := filepath.Join(dir, "test")
	must(t, copyWhole(exe, to))
	must(t, os.Chmod(to, 0o755))
	return to
}

// Ensure that a read-only file, as a user who may not write it, is refused for
// booking with a clear sentence and can be looked at.
func TestOpen_ReadOnlyFile(t *testing.T) {
	path := newClosed(t, 5)
	must(t, os.Chmod(path, 0o444))
	must(t, os.Chmod(disk.JournalPath(path), 0o444))
	for dir := filepath.Dir(path); dir != os.TempDir() && len(dir) > 1; dir = filepath.Dir(dir) {
		must(t, os.Chmod(dir, 0o755))
	}
	run := func(mode string) string {
		c := child(t, "open", path, mode)
		if os.Getuid() == 0 { // root may write everything: be nobody
			c.Path, c.Dir = exeForAll(t), "/"
			c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
		out, err := c.Output()
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			t.Skipf("no other user can be taken here: %v", err)
		}
		return string(bytes.TrimSpace(out))
	}
	if got := run("book"); !strings.HasPrefix(got, "true ") || !strings.Contains(got, "look at only") {
		t.Errorf("booking: %s", got)
	}
	if got := run("look"); got != "opened 5" {
		t.Errorf("looking: %s", got)
	}
}
