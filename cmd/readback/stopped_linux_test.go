package main

import (
	"reflect"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"
)

// After the program was stopped and let go on it takes the terminal again, which
// was the shell's meanwhile: line, modes and picture.
func TestEnding_StoppedAndLetGoOn(t *testing.T) {
	b := halfBooked(t, 100, 30, "00510").key("45").sees("keying")
	raw := lineState(t, b.pty)
	b.signal(syscall.SIGSTOP)
	shell, err := b.pty.SyscallConn()
	if err != nil {
		t.Fatal(err)
	}
	shell.Control(func(fd uintptr) {
		line, err := unix.IoctlGetTermios(int(fd), unix.TCGETS)
		if err != nil {
			t.Fatal(err)
		}
		line.Lflag |= unix.ICANON | unix.ECHO | unix.ISIG
		unix.IoctlSetTermios(int(fd), unix.TCSETS, line)
	})
	b.mu.Lock()
	b.emu.Write([]byte("\x1b[?1049l\x1b[?1000l\x1b[2J\x1b[1;1H$ ls"))
	b.mu.Unlock()
	written := b.amount()
	b.signal(syscall.SIGCONT)
	b.misses("$ ls").sees("Weir setup 1", "Turn clockwise → and sight Alder.", "keying")
	if again := b.written()[written:]; !strings.Contains(again, "\x1b[?1049h") || !strings.Contains(again, "\x1b[?1000h") {
		t.Error("the modes of the terminal were not switched on again")
	}
	if now := lineState(t, b.pty); !reflect.DeepEqual(now, raw) {
		t.Errorf("the line is set %v, it was %v", now, raw)
	}
	b.key("1020\r").booked("451020")
}
