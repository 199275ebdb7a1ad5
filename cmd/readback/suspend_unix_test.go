//go:build unix

package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Ctrl-Z gives the terminal to the shell, and fg comes back to the same pointing
// with the entry as it was.
func TestSuspend_ComesBackToTheSamePointing(t *testing.T) {
	shell, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("there is no bash here")
	}
	home := t.TempDir()
	inner := command(t, home, nil, "book", filepath.Join(home, "weir.book"))
	cmd := exec.Command(shell, "--norc", "--noprofile", "-i")
	cmd.Env = append(inner.Env, "PS1=prompt> ")
	b := bookerAt(attach(t, cmd, 100, 30))
	b.sees("prompt>").key("'" + strings.Join(inner.Args, "' '") + "'\r")
	b.firstSetup().books("00510").key("45").sees("keying")
	b.key("\x1a").sees("prompt>").misses("keying")
	b.key("echo the shell has it\r").sees("the shell has it")
	b.key("fg\r").misses("prompt>").sees("Turn clockwise → and sight Alder.", "keying")
	b.key("1020\r").booked("451020").presses("q").sees("Leave Readback?").presses("y").sees("booked in")
	b.key("exit\r")
}

// Where no shell could let it go on the program stays and says so.
func TestSuspend_StaysWithoutAShell(t *testing.T) {
	b := halfBooked(t, 100, 30, "00510")
	b.key("\x1a").sees("Ctrl-Z does nothing here", "sight Alder.").books("451020").quits()
}
