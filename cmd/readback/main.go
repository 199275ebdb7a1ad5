// Command readback is a live observation booker for theodolite crews.
package main

import (
	"os"

	_ "example.org/readback/tui/background" // before bubbletea: no question to the terminal
)

func main() {
	os.Exit(run(os.Args[1:], &Context{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Getenv: os.Getenv}))
}
