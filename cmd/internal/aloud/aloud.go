// Package aloud speaks with the system's own speech command, so that the observer
// hears what was booked while the booker looks away. The command runs in a
// process of its own: nothing waits for it, and the next text cuts it off.
package aloud

import (
	"os/exec"
	"strings"
	"sync"
)

// place stands in a command where the text goes.
const place = "{}"

// commands are the speech commands by system, the first that is there is taken.
var commands = map[string][][]string{
	"darwin":  {{"say", "-r", "170", place}},
	"windows": {{"powershell", "-NoProfile", "-Command", "Add-Type -AssemblyName System.Speech; (New-Object System.Speech.Synthesis.SpeechSynthesizer).Speak('" + place + "')"}},
	"":        {{"espeak-ng", "-s", "150", place}, {"espeak", "-s", "150", place}, {"spd-say", "-w", place}},
}

// Find returns the speech command of a system (runtime.GOOS), nil where there is
// none; look is exec.LookPath.
func Find(goos string, look func(string) (string, error)) []string {
	list, ok := commands[goos]
	if !ok {
		list = commands[""]
	}
	for _, c := range list {
		if _, err := look(c[0]); err == nil {
			return c
		}
	}
	return nil
}

// A Voice speaks one text at a time.
type Voice struct {
	command []string
	mu      sync.Mutex
	running *exec.Cmd
	closed  bool
}

// New returns a voice with a command as Find gives it.
func New(command []string) *Voice { return &Voice{command: command} }

// Say begins to speak a text and returns at once; what is being said is cut off.
// Only letters, digits and a few signs are spoken, so no text can be anything
// else to the command. A command that fails is silent: the screen says the same.
func (v *Voice) Say(text string) { go v.say(spoken(text)) }

func (v *Voice) say(text string) {
	v.mu.Lock()
	v.stop()
	if v.closed || text == "" {
		v.mu.Unlock()
		return
	}
	args := make([]string, len(v.command))
	for i, a := range v.command {
		args[i] = strings.ReplaceAll(a, place, text)
	}
	cmd := exec.Command(args[0], args[1:]...)
	err := cmd.Start()
	if err == nil {
		v.running = cmd
	}
	v.mu.Unlock()
	if err != nil {
		return
	}
	_ = cmd.Wait()
	v.mu.Lock()
	if v.running == cmd {
		v.running = nil
	}
	v.mu.Unlock()
}

// stop ends what is being said. The lock is held.
func (v *Voice) stop() {
	if v.running != nil {
		_ = v.running.Process.Kill()
		v.running = nil
	}
}

// Close ends what is being said and keeps silent from then on.
func (v *Voice) Close() {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.closed = true
	v.stop()
}

// spoken keeps what a speech command may be given.
func spoken(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == ' ', r == ',':
			return r
		}
		return -1
	}, text))
}
