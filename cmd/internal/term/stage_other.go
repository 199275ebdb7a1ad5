//go:build !unix

package term

import (
	"os"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
)

// endSignals end the program in order: Ctrl-C, and a console window that is closed,
// which Windows tells as a request to end and gives some seconds for.
var endSignals = []os.Signal{os.Interrupt, syscall.SIGTERM}

// A stage is the terminal while the screens are on it. Here, where key presses,
// touches and sizes come from the console and not as bytes, bubbletea reads and
// paints.
type stage struct{ program *tea.Program }

func newStage(s *Screen, model tea.Model) (*stage, error) {
	options := []tea.ProgramOption{tea.WithAltScreen(), tea.WithFPS(120), tea.WithoutSignalHandler()}
	return &stage{program: tea.NewProgram(&guarded{inner: model, s: s}, options...)}, nil
}

func (*stage) close() {}
