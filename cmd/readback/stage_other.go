//go:build !unix

package main

import (
	"os"

	tea "github.com/charmbracelet/bubbletea"
)

// endSignals end the program in order.
var endSignals = []os.Signal{os.Interrupt}

// A stage is the terminal while the screens are on it. Here, where key presses,
// touches and sizes come from the console and not as bytes, bubbletea reads and
// paints.
type stage struct{ program *tea.Program }

func newStage(s *screen, model tea.Model) (*stage, error) {
	g := &guarded{inner: model, s: s}
	return &stage{program: tea.NewProgram(g, tea.WithAltScreen(), tea.WithMouseCellMotion(),
		tea.WithFPS(120), tea.WithoutSignalHandler())}, nil
}

func (*stage) close() {}
