package store

import (
	"errors"
	"example.org/readback/testdata"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"

	"example.org/readback/store/fault"
)

func init() { children["inject"] = injectChild }

// injectChild is the child of TestInject: PATH books 25 events while system
// calls fail under it, reopens after each failure as a program would, and
// prints what it found: "failed", whether the event was booked after all, and
// "kept" when in the end everything acknowledged is there, once.
func injectChild(args []string) int {
	b, err := Open(args[0], Options{Reserve: -1})
	for tries := 0; err != nil && tries < 20; tries++ {
		fmt.Println("open failed:", err)
		b, err = Open(args[0], Options{Reserve: -1})
	}
	if err != nil {
		return 3
	}
	for n := 1; n <= 25; n++ {
		for {
			r, err := b.Append(draft(n))
			if err == nil && r.Seq == uint64(n) {
				break
			}
			if err == nil || !errors.Is(err, fault.ErrWrite) || !strings.Contains(err.Error(), syscall.EIO.Error()) { // bbolt passes some on as text
				fmt.Println("WRONG:", r.Seq, err)
				return 3
			}
			if _, again := b.Append(draft(n)); !errors.Is(again, fault.ErrLatched) {
				fmt.Println("WRONG: not latched:", again)
				return 3
			}
			next, booked, err := b.Reopen(draft(n).ID)
			for tries := 0; err != nil && tries < 20; tries++ {
				next, booked, err = b.Reopen(draft(n).ID)
			}
			if err != nil {
				fmt.Println("WRONG: reopen:", err)
				return 3
			}
			fmt.Println("failed, booked:", booked)
			b = next
		}
	}
	defer b.Close()
	n := 0
	for r, err := range b.Records() {
		if n++; err != nil || r.ID != draft(n).ID {
			fmt.Println("WRONG:", r.Seq, err)
			return 3
		}
	}
	if r := audited(b); r.Err() != nil || n != 25 || r.Journal.Events != 25 {
		fmt.Println("WRONG:", n, r.Err())
		return 3
	}
	fmt.Println("kept")
	return 0
}

// Ensure that an error of any write and any sync, of the book's pages, of its
// head and of the journal, is answered truly: what is said to be booked is
// there once, and nothing else is.
func TestInject(t *testing.T) {
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("no strace on this machine to let system calls fail; the journal's are failed by its file layer, the book's by a swapped file")
	}
	most := 3/share + 1
	if *testdata.Long {
		most = longPlaces
	}
	failures := 0
	for n, call := range []string{"fdatasync", "fsync", "pwrite64"} {
		for when := 1; when <= most; when++ {
			if !*testdata.Long && (n+when+int(*seedFlag))%2 != 0 {
				continue // of the next seed
			}
			path := newClosed(t, 0)
			run := child(t, "inject", path)
			c := exec.Command(strace, append([]string{"-f", "-qq", "-o", os.DevNull, "-e", "trace=" + call,
				"-e", fmt.Sprintf("inject=%s:error=EIO:when=%d+%d", call, when, most+7)}, run.Args...)...)
			c.Env = run.Env
			out, err := c.CombinedOutput()
			if strings.Contains(string(out), "ptrace") {
				t.Skipf("system calls cannot be traced here: %s", out)
			}
			if err != nil || !strings.HasSuffix(string(out), "kept\n") {
				t.Errorf("%s %d: %v\n%s", call, when, err, out)
			}
			failures += strings.Count(string(out), "failed")
		}
	}
	t.Logf("%d failures answered", failures)
	if failures < most {
		t.Errorf("only %d failures in %d runs: the test shows too little", failures, 3*most)
	}
}
