package main

import (
	"example.org/readback/cmd/internal/program"
	"example.org/readback/cmd/internal/topics"
	"example.org/readback/cmd/internal/usage"
)

// ManCmd prints the manual page.
type ManCmd struct{}

// Help shows how it is called.
func (ManCmd) Help() string {
	return `Examples:
  readback man > readback.1
  readback man | man -l -`
}

// Run prints it.
func (ManCmd) Run(c *Context) error {
	return usage.Man(c.Out, c.app, program.Version(), topics.Names())
}
