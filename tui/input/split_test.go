package input_test

import (
	"fmt"
	"io"
	"sync/atomic"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	_ "example.org/readback/tui/background"
	"example.org/readback/tui/input"
)

// clock is a time that only the test moves.
type clock struct{ ns atomic.Int64 }

func (c *clock) now() time.Time          { return time.Unix(0, c.ns.Load()) }
func (c *clock) forward(d time.Duration) { c.ns.Add(int64(d)) }

// settled is answered by the model: every message before it has been handled.
type settled struct{ done chan struct{} }

// due makes the model call Due.
type due struct{}

// feeder is the input of a program: each Read hands over one part, after all
// messages of the part before have been handled and gap has passed.
type feeder struct {
	parts []string
	gap   time.Duration
	clock *clock
	p     *tea.Program
}

func (f *feeder) Read(b []byte) (int, error) {
	done := make(chan struct{})
	f.p.Send(settled{done})
	<-done
	if f.gap >= input.Quiet { // the tick that a Wait asks for
		f.clock.forward(input.Quiet)
		f.p.Send(due{})
	}
	if len(f.parts) == 0 {
		f.clock.forward(time.Second)
		f.p.Send(due{})
		f.p.Quit()
		return 0, io.EOF
	}
	f.clock.forward(f.gap)
	n := copy(b, f.parts[0])
	f.parts = f.parts[1:]
	return n, nil
}

// sink writes down what a guard lets through.
type sink struct {
	g     *input.Guard
	field input.Field
	got   []string
}

func (s *sink) Init() tea.Cmd { return nil }

func (s *sink) View() string { return "" }

func (s *sink) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case settled:
		close(msg.done)
	case due:
		s.note(s.g.Due())
	case tea.MouseMsg:
		s.got = append(s.got, "mouse")
	case tea.KeyMsg:
		s.note(s.g.Key(msg, s.field))
	}
	return s, nil
}

func (s *sink) note(r input.Result) {
	switch r.Kind {
	case input.Nothing, input.Wait:
	case input.Chars:
		for _, c := range r.Runes {
			s.got = append(s.got, string(c))
		}
	case input.Letter:
		s.got = append(s.got, "letter "+string(r.Runes))
	case input.Key:
		s.got = append(s.got, r.Msg.String())
	case input.Enter:
		s.got = append(s.got, "ENTER")
	case input.Back:
		s.got = append(s.got, "BACK")
	case input.Esc:
		s.got = append(s.got, "ESC")
	default:
		s.got = append(s.got, fmt.Sprintf("%v:%s", r.Kind, r.Text))
	}
}

// feed runs bubbletea's own input reader on the parts, gap apart.
func feed(t *testing.T, field input.Field, gap time.Duration, parts ...string) []string {
	t.Helper()
	c := &clock{}
	c.forward(time.Hour)
	s := &sink{g: input.New(c.now, nil), field: field}
	f := &feeder{parts: parts, gap: gap, clock: c}
	f.p = tea.NewProgram(s, tea.WithInput(f), tea.WithOutput(io.Discard), tea.WithoutRenderer(), tea.WithoutSignalHandler())
	if _, err := f.p.Run(); err != nil {
		t.Fatal(err)
	}
	return s.got
}

// The sequences whose every split must leak nothing: a mouse press and release,
// an arrow, a keypad key, Delete, a cursor report, a late answer about the
// background, an arrow with Ctrl.
var sequences = []string{
	"\x1b[<0;70;12M", "\x1b[<0;70;12m", "\x1b[A", "\x1bOu", "\x1b[3~", "\x1b[24;80R", "\x1b]11;rgb:1e1e/1e1e/1e1e\x1b\\", "\x1b[1;5C",
}

// splits returns every way to break s into n parts.
func splits(s string, n int) [][]string {
	if n == 1 {
		return [][]string{{s}}
	}
	var out [][]string
	for i := 1; i <= len(s)-n+1; i++ {
		for _, rest := range splits(s[i:], n-1) {
			out = append(out, append([]string{s[:i]}, rest...))
		}
	}
	return out
}

// Every split of a sequence in two or three reads 10 ms apart keys nothing,
// commands nothing and books nothing.
func TestGuard_SplitSequencesLeakNothing(t *testing.T) {
	for _, field := range []input.Field{input.Reading, input.Text, input.Command} {
		tried := 0
		for _, s := range sequences {
			for n := 2; n <= 3; n++ {
				for _, parts := range splits(s, n) {
					tried++
					got := feed(t, field, 10*time.Millisecond, parts...)
					if len(got) == 0 || s == "\x1bOu" && len(got) == 1 && (got[0] == "5" || got[0] == "letter 5") {
						continue
					}
					t.Errorf("field %d, %q: leaked %q", field, parts, got)
				}
			}
		}
		if tried != 465 {
			t.Errorf("tried %d splits, expected 465", tried)
		}
	}
}
