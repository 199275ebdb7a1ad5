package store

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/readback/testdata"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
)

// appendChild is the child of TestKill: PATH books as fast as it can and
// prints the number of each event after it was acknowledged.
func appendChild(args []string) int {
	b, err := Open(args[0], Options{Reserve: -1})
	if err != nil {
		fmt.Println("open:", err)
		return 3
	}
	seq, _ := b.Head()
	for n := int(seq) + 1; ; n++ {
		if _, err := b.Append(draft(n)); err != nil {
			fmt.Println("append:", err)
			return 3
		}
		fmt.Println("ack", n)
	}
}

// Ensure that a killed program loses nothing that it acknowledged. The -long
// form kills it 1,000 times.
func TestKill(t *testing.T) {
	kills := 6
	if *testdata.Long {
		kills = longKills
	}
	rng := newRand(t, 9)
	path := newClosed(t, 0)
	total := 0
	for range kills {
		acked := killOnce(t, path, time.Duration(rng.IntN(40_000))*time.Microsecond)
		b, err := Open(path, testOptions())
		must(t, err)
		seq, _ := b.Head()
		if int(seq) < acked || int(seq) > max(acked, total)+1 {
			t.Fatalf("%d events were acknowledged, %d are there", acked, seq)
		}
		wantEvents(t, b, int(seq))
		if seq%4 == 0 {
			if r := audited(b); r.Err() != nil {
				t.Fatal(r.Err())
			}
		}
		total = int(seq)
		must(t, b.Close())
	}
	t.Logf("%d kills, %d events, none lost", kills, total)
	if total < kills {
		t.Errorf("only %d events in %d runs: the test shows too little", total, kills)
	}
}

// killOnce lets a child book and kills it some time after its first event; it
// returns the last acknowledged number.
func killOnce(t *testing.T, path string, after time.Duration) (acked int) {
	t.Helper()
	c := child(t, "append", path)
	out, err := c.StdoutPipe()
	must(t, err)
	must(t, c.Start())
	var kill *time.Timer
	for s := bufio.NewScanner(out); s.Scan(); {
		text, ok := strings.CutPrefix(s.Text(), "ack ")
		if !ok {
			t.Fatal(s.Text())
		}
		if acked, err = strconv.Atoi(text); err != nil {
			t.Fatal(err)
		}
		if kill == nil {
			kill = time.AfterFunc(after, func() { c.Process.Kill() })
		}
	}
	_ = c.Wait()
	return acked
}

// holdChild is the child of TestOpen_TwoProcesses: PATH opens the book,
// says so and waits for its input to end.
func holdChild(args []string) int {
	b, err := Open(args[0], Options{Reserve: -1})
	if err != nil {
		fmt.Println(err)
		return 3
	}
	fmt.Println("open")
	bufio.NewReader(os.Stdin).ReadString('\n')
	b.Close()
	return 0
}

// heldElsewhere lets a child open the book, and waits until it has.
func heldElsewhere(t *testing.T, path string) (*exec.Cmd, io.Closer) {
	t.Helper()
	c := child(t, "hold", path)
	in, err := c.StdinPipe()
	must(t, err)
	out, err := c.StdoutPipe()
	must(t, err)
	must(t, c.Start())
	line, err := bufio.NewReader(out).ReadString('\n')
	if line != "open\n" {
		t.Fatalf("%q %v", line, err)
	}
	return c, in
}

// Ensure that a program that was killed while it had the book open leaves nothing that the
// next opening speaks of, and on Windows, where the system sees to it, no name of it.
func TestOpen_AfterTheHolderWasKilled(t *testing.T) {
	path := newClosed(t, 5)
	c, in := heldElsewhere(t, path)
	defer in.Close()
	_, err := os.Stat(disk.HolderPath(path))
	must(t, err)
	must(t, c.Process.Kill())
	_ = c.Wait()
	if _, err := os.Stat(disk.HolderPath(path)); runtime.GOOS == "windows" && !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the name of a killed program is left behind: %v", err)
	}
	b, err := Open(path, testOptions())
	must(t, err)
	if notes := b.Opening().Notes; len(notes) > 0 {
		t.Errorf("%q", notes)
	}
	must(t, b.Close())
	if _, err := os.Stat(disk.HolderPath(path)); !errors.Is(err, os.ErrNotExist) {
		t.Error("the closed book still names a holder")
	}
}

func TestOpen_TwoProcesses(t *testing.T) {
	path := newClosed(t, 5)
	c, in := heldElsewhere(t, path)
	begin := time.Now()
	_, err := Open(path, testOptions())
	if !errors.Is(err, fault.ErrInUse) || !strings.Contains(err.Error(), fmt.Sprintf("process %d since", c.Process.Pid)) {
		t.Errorf("%v", err)
	}
	if took := time.Since(begin); took > 3*time.Second {
		t.Errorf("the answer took %v", took)
	}
	if r := repair.Verify(path); !r.InUse || r.Err() != nil {
		t.Errorf("%v", r.Unread)
	}
	if _, err := repair.Restore(disk.JournalPath(path), path, nil); !errors.Is(err, fault.ErrInUse) {
		t.Errorf("restoring over a book that is open elsewhere: %v", err)
	}
	in.Close()
	must(t, c.Wait())
	b, err := Open(path, testOptions())
	must(t, err)
	b.Close()
}

func TestOpen_TwiceInOneProcess(t *testing.T) {
	b := newBook(t, 5)
	names, link := []string{b.path}, filepath.Join(t.TempDir(), "link.readback")
	if os.Symlink(b.path, link) == nil { // Windows allows it to few
		if _, err := os.Stat(link); err == nil {
			names = append(names, link)
		}
	}
	for _, path := range names {
		if _, err := Open(path, testOptions()); !errors.Is(err, fault.ErrInUse) {
			t.Errorf("%v", err)
		}
	}
	b.Close()
	first, err := proof.Open(b.path)
	must(t, err)
	defer first.Close()
	second, err := proof.Open(b.path)
	must(t, err)
	defer second.Close()
	if _, err := Open(b.path, testOptions()); !errors.Is(err, fault.ErrInUse) {
		t.Errorf("booking while it is looked at: %v", err)
	}
}
