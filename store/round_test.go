package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func init() { children["round"] = roundChild }

// roundChild is the child of TestRead_BranchLeadsBack: PATH reads a book in
// every way and prints what came of it.
func roundChild(args []string) int {
	b, err := Open(args[0], Options{Reserve: -1})
	if err != nil {
		fmt.Println("open", errors.Is(err, ErrDamaged))
		return 0
	}
	defer b.Close()
	say := func(what string, right bool, err error) {
		if errors.Is(err, ErrDamaged) {
			fmt.Println(what, "noticed")
		} else if err == nil && right {
			fmt.Println(what, "right")
		} else {
			fmt.Println(what, "WRONG", err)
		}
	}
	g, err := b.Group(1)
	say("group", len(g) == 199 && g[198].Seq == 199 && string(g[198].Body) == string(draft(199).Body), err)
	r, err := b.Record(1)
	say("record", string(r.Body) == string(draft(1).Body), err)
	_, err = lastOf(b.Records())
	say("records", false, err)
	l, err := b.Groups()
	say("groups", len(l) == 101, err)
	return 0
}

// liveBranches lists the branch pages that the tree leads to.
func liveBranches(t *testing.T, data []byte, head fileHead) (list []int) {
	w := newTree(bytes.NewReader(data), head)
	buckets, err := w.walk(head.root, int(head.highWater))
	must(t, err)
	for _, root := range buckets {
		_, err := w.walk(root, int(head.highWater))
		must(t, err)
	}
	for p := uint64(2); p < head.highWater; p++ {
		if w.used[p/64]&(1<<(p%64)) != 0 && order.Uint16(data[p*crashPage+8:]) == flagBranch {
			list = append(list, int(p))
		}
	}
	return list
}

// Ensure that a branch of a large book which leads back to one above it is
// noticed: bbolt would follow it until the stack is full, which no program
// survives.
func TestRead_BranchLeadsBack(t *testing.T) {
	path := largeBook(t, t.TempDir(), 20_000)
	data, err := os.ReadFile(path)
	must(t, err)
	head, err := preflight(path, true)
	must(t, errors.Join(err, head.tree))
	branches := liveBranches(t, data, head)
	if len(branches) < 4 || head.highWater <= fullCheckPages {
		t.Fatalf("branches on pages %v of %d: the book is too small for this test", branches, head.highWater)
	}
	asked := 0
	for _, from := range branches {
		for _, to := range branches {
			bad := filepath.Join(t.TempDir(), "bad.readback")
			b := bytes.Clone(data)
			order.PutUint64(b[from*crashPage+pageHead+8:], uint64(to))
			if bytes.Equal(b, data) {
				continue
			}
			must(t, os.WriteFile(bad, b, 0o600))
			must(t, copyFile(JournalPath(path), JournalPath(bad)))
			c := child(t, "round", bad)
			stop := time.AfterFunc(20*time.Second, func() { c.Process.Kill() })
			out, err := c.Output()
			stop.Stop()
			text := string(out)
			if err != nil {
				t.Fatalf("page %d leads to %d: %v: %s", from, to, err, text)
			}
			if text == "open true\n" {
				continue
			}
			asked++
			if strings.Contains(text, "WRONG") || !strings.Contains(text, "noticed") {
				t.Errorf("page %d leads to %d: %s", from, to, text)
			}
			if r := Verify(bad); !errors.Is(r.Unread, ErrDamaged) {
				t.Errorf("page %d leads to %d: the audit says %v", from, to, r.Err())
			}
			if asked == 4/share && !*longFlag {
				return
			}
		}
	}
	t.Logf("%d branches, %d books that opened", len(branches), asked)
}
