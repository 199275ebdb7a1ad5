package aloud

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"
)

// until waits for something another process does, at most ten seconds.
func until(t *testing.T, what string, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(10 * time.Second); !ok(); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("not %s", what)
		}
	}
}

// A reading spoken into a file is sound: RIFF WAVE, longer than its head.
func TestVoice_SpeaksIntoAFile(t *testing.T) {
	if _, err := exec.LookPath("espeak-ng"); err != nil {
		t.Skip("espeak-ng is not installed here")
	}
	file := filepath.Join(t.TempDir(), "reading.wav")
	v := New([]string{"espeak-ng", "-w", file, place})
	defer v.Close()
	v.Say("3 0, 3 0, 0 5")
	until(t, "spoken", func() bool {
		b, _ := os.ReadFile(file)
		return len(b) > 10_000 && string(b[:4]) == "RIFF" && string(b[8:12]) == "WAVE"
	})
}

// The next reading cuts the last one off, and nothing is left running.
func TestVoice_IsCutOff(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("there is no sleep command")
	}
	v := New([]string{"sleep", place})
	running := func() *exec.Cmd {
		v.mu.Lock()
		defer v.mu.Unlock()
		return v.running
	}
	v.Say("3600")
	until(t, "begun", func() bool { return running() != nil })
	first := running()
	v.Say("3601")
	until(t, "cut off", func() bool { now := running(); return now != nil && now != first })
	v.Close()
	until(t, "silent", func() bool { return running() == nil })
}

func TestFind_TakesWhatIsThere(t *testing.T) {
	only := func(name string) func(string) (string, error) {
		return func(s string) (string, error) {
			if s == name {
				return "/usr/bin/" + s, nil
			}
			return "", errors.New("not found")
		}
	}
	for _, tt := range []struct{ goos, there, want string }{
		{"linux", "espeak-ng", "espeak-ng"}, {"linux", "spd-say", "spd-say"}, {"darwin", "say", "say"}, {"windows", "powershell", "powershell"}, {"linux", "nothing", ""},
	} {
		got := Find(tt.goos, only(tt.there))
		if name := append(got, "")[0]; name != tt.want {
			t.Errorf("%s with %s: %q", tt.goos, tt.there, name)
		}
	}
	if got := spoken("3 0'; rm -rf ~, $(x)"); got != "3 0 rm rf , x" {
		t.Errorf("%q is given to a command", got)
	}
}
