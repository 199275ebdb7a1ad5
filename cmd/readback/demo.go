package main

import (
	"path/filepath"

	"example.org/readback/booking/observer"
	"example.org/readback/cmd/internal/drill"
	"example.org/readback/cmd/internal/term"
)

// A DemoCmd opens a throw-away book with a station half booked.
type DemoCmd struct {
	Screen ScreenOpts `embed:""`
}

// demoSeed is a drill in which the observer makes a slip among the next calls.
const demoSeed = 86

// Help shows how it is called.
func (DemoCmd) Help() string {
	return `Examples:
  readback demo
  readback demo --ascii --theme plain`
}

// Run makes the book in a directory of its own, which is removed afterwards.
func (d *DemoCmd) Run(c *Context) error {
	if err := term.Need(c.In, c.screen); err != nil {
		return err
	}
	dir, remove, err := drill.ThrowAway()
	if err != nil {
		return err
	}
	defer remove()
	file := filepath.Join(dir, "demonstration.readback")
	o := observer.Options{Seed: demoSeed, SlipEvery: 4, Rounds: 2, Kinds: kindsNamed([]string{"digit", "exchange", "degree", "ten-minutes", "minute", "misheard"})}
	session, err := drill.Begin(file, o, true)
	if err != nil {
		return err
	}
	s := sessionOf(c, file, d.Screen, session, 0)
	s.quiet = true
	return s.run(c)
}
