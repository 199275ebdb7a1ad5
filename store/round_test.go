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

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/pages"
	"example.org/readback/store/repair"
	"example.org/readback/testdata"
)

func init() { children["round"] = roundChild }

// roundChild is the child of TestRead_BranchLeadsBack: PATH reads a book in
// every way and prints what came of it.
func roundChild(args []string) int {
	b, err := Open(args[0], Options{Reserve: -1})
	if err != nil {
		fmt.Println("open", errors.Is(err, fault.ErrDamaged))
		return 0
	}
	defer b.Close()
	say := func(what string, right bool, err error) {
		if errors.Is(err, fault.ErrDamaged) {
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
	_, err = chain.LastOf(b.Records())
	say("records", false, err)
	l, err := b.Groups()
	say("groups", len(l) == 101, err)
	return 0
}

// liveBranches lists the branch pages that the tree leads to.
func liveBranches(t *testing.T, data []byte, head pages.Head) (list []int) {
	w := pages.NewTree(bytes.NewReader(data), head)
	buckets, err := w.Walk(head.Root, int(head.HighWater))
	must(t, err)
	for _, root := range buckets {
		_, err := w.Walk(root, int(head.HighWater))
		must(t, err)
	}
	for p := uint64(2); p < head.HighWater; p++ {
		if w.Used[p/64]&(1<<(p%64)) != 0 && pages.Order.Uint16(data[p*crashPage+8:]) == pages.FlagBranch {
			list = append(list, int(p))
		}
	}
	return list
}

// Ensure that a branch of a large book which leads back to one above it is
// noticed: bbolt would follow it until the stack is full, which no program
// survives.
func TestRead_BranchLeadsBack(t *testing.T) {
	if !*testdata.Long {
		t.Skip("a book of 20,000 events: -long")
	}
	path := largeBook(t, t.TempDir(), 20_000)
	data, err := os.ReadFile(path)
	must(t, err)
	head, err := pages.Look(path, true)
	must(t, errors.Join(err, head.Tree))
	branches := liveBranches(t, data, head)
	if len(branches) < 4 || head.HighWater <= pages.FullCheckPages {
		t.Fatalf("branches on pages %v of %d: the book is too small for this test", branches, head.HighWater)
	}
	asked := 0
	for _, from := range branches {
		for _, to := range branches {
			bad := filepath.Join(t.TempDir(), "bad.readback")
			b := bytes.Clone(data)
			pages.Order.PutUint64(b[from*crashPage+pages.PageHead+8:], uint64(to))
			if bytes.Equal(b, data) {
				continue
			}
			must(t, os.WriteFile(bad, b, 0o600))
			must(t, copyWhole(disk.JournalPath(path), disk.JournalPath(bad)))
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
			if r := repair.Verify(bad); !errors.Is(r.Unread, fault.ErrDamaged) {
				t.Errorf("page %d leads to %d: the audit says %v", from, to, r.Err())
			}
		}
	}
	t.Logf("%d branches, %d books that opened", len(branches), asked)
}
