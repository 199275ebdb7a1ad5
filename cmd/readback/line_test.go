package main

import (
	"bytes"
	"sync"
	"testing"

	"github.com/alecthomas/kong"
)

// spare are command lines that a call is through with. To make one takes longer than
// most calls do, and the tests make a thousand calls.
var spare struct {
	sync.Mutex
	free []*line
}

// runAgain is run, on a command line that may have served before.
func runAgain(args []string, world *Context) int {
	spare.Lock()
	var l *line
	if n := len(spare.free); n > 0 {
		l, spare.free = spare.free[n-1], spare.free[:n-1]
	}
	spare.Unlock()
	if l == nil {
		var err error
		if l, err = newLine(); err != nil {
			return report(world, err)
		}
	}
	l.forget()
	code := l.run(args, world)
	spare.Lock()
	spare.free = append(spare.free, l)
	spare.Unlock()
	return code
}

// forget takes away what the last call said.
func (l *line) forget() {
	l.said = CLI{}
	err := kong.Visit(l.parser.Model, func(node kong.Visitable, next kong.Next) error {
		switch n := node.(type) {
		case *kong.Application:
			n.Active = false
		case *kong.Node:
			n.Active = false
		case *kong.Value:
			n.Set, n.Active = false, false
		}
		return next(nil)
	})
	if err != nil {
		panic(err)
	}
}

// parsed reads args as one call, and tells whether the command line understands them.
func parsed(t *testing.T, args []string) error {
	t.Helper()
	l, err := newLine()
	if err != nil {
		t.Fatal(err)
	}
	_, err = l.parse(&Context{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}, Getenv: func(string) string { return "" }, args: args}, func(int) {})
	return err
}

// A command line that has served says what a new one says.
func TestLine_ServesAgain(t *testing.T) {
	book := dayBook(t)
	served, err := newLine()
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"export", book, "--as", "directions", "--setup", "1"}, {"export", book}, {"import"}, {"import", book}, {"audit", book, "--expect"}, {"audit", book},
		{"no-such"}, {"limits", book}, {"health", book}, {"--version"}, {"export", "--help"}, {"health", book},
	} {
		var got, want [2]bytes.Buffer
		none := func(string) string { return "" }
		served.forget()
		code := served.run(args, &Context{Out: &got[0], Err: &got[1], Getenv: none})
		if fresh := run(args, &Context{Out: &want[0], Err: &want[1], Getenv: none}); code != fresh || got[0].String() != want[0].String() || got[1].String() != want[1].String() {
			t.Errorf("%q: exit %d, %s%s\nnew: exit %d, %s%s", args, code, got[0].String(), got[1].String(), fresh, want[0].String(), want[1].String())
		}
	}
}
