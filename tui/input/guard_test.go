package input_test

import (
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/tui/input"
)

// What the parts of an input, read 10 ms or 100 ms apart, turn out to be.
func TestGuard_Input(t *testing.T) {
	const soon, later = 10 * time.Millisecond, 100 * time.Millisecond
	tests := []struct {
		name  string
		field input.Field
		gap   time.Duration
		parts []string
		want  []string
	}{
		{"three digits in one write", input.Reading, later, []string{"123"}, []string{"1", "2", "3"}},
		{"digits, Enter, digits, Enter in one write", input.Reading, later, []string{"123\r456\r"}, []string{"1", "2", "3", "ENTER", "4", "5", "6", "ENTER"}},
		{"parts with blanks", input.Reading, later, []string{"123 45 06.5"}, []string{"1", "2", "3", " ", "4", "5", " ", "0", "6", ".", "5"}},
		{"a command letter", input.Reading, later, []string{"r"}, []string{"letter r"}},
		{"digits with a letter are refused whole", input.Reading, later, []string{"12a"}, []string{"refused:12a"}},
		{"a name", input.Text, later, []string{"Zoë 字"}, []string{"Z", "o", "ë", " ", "字"}},
		{"backspace", input.Reading, later, []string{"1\x7f"}, []string{"1", "BACK"}},
		{"a real Esc", input.Reading, later, []string{"\x1b"}, []string{"ESC"}},
		{"a real Esc, a digit later", input.Reading, later, []string{"\x1b", "5"}, []string{"ESC", "5"}},
		{"a digit right after Esc is dropped, and Esc is not believed", input.Reading, soon, []string{"\x1b", "5"}, nil},
		{"letters right after Esc", input.Command, soon, []string{"\x1b", "q"}, nil},
		{"Enter inside the quiet time books nothing, and it is said", input.Reading, soon, []string{"12", "\x1b[", "\r"}, []string{"1", "2", "lost:"}},
		{"Enter after it", input.Reading, soon, []string{"12", "\x1b[", "9", "", "", "", "", "", "", "", "\r"}, []string{"1", "2", "ENTER"}},
		{"Alt is no key", input.Reading, later, []string{"\x1b5"}, nil},
		{"whole arrows", input.Reading, soon, []string{"\x1b[A\x1b[B"}, []string{"up", "down"}},
		{"whole arrow after a broken one", input.Reading, soon, []string{"\x1b[", "A", "\x1b[B"}, []string{"down"}},
		{"whole mouse report between digits", input.Reading, soon, []string{"5\x1b[<0;70;12M6"}, []string{"5", "mouse", "6"}},
		{"keypad in application mode", input.Reading, soon, []string{"\x1bOq\x1bOr\x1bOn\x1bOs\x1bOM"}, []string{"1", "2", ".", "3", "ENTER"}},
		{"keypad, key by key", input.Reading, later, []string{"\x1bOu", "\x1bOy", "\x1bOM"}, []string{"5", "9", "ENTER"}},
		{"keypad and number row", input.Reading, soon, []string{"\x1bOq2", "3"}, []string{"1", "2", "3"}},
		{"keypad letter that is none", input.Reading, later, []string{"\x1bOz"}, nil},
		{"paste of a reading", input.Reading, later, []string{"\x1b[200~123 45 06.5\r\n\x1b[201~"}, []string{"offer:123 45 06.5"}},
		{"paste of two lines", input.Reading, later, []string{"\x1b[200~12\r\n34\x1b[201~"}, []string{"paste refused:12\r\n34"}},
		{"paste of words into a reading", input.Reading, later, []string{"\x1b[200~rm 12\x1b[201~"}, []string{"paste refused:rm 12"}},
		{"paste of an escape into a name", input.Text, later, []string{"\x1b[200~a\x1b]0;x\a\x1b[201~"}, []string{"paste refused:a\x1b]0;x\a"}},
		{"paste between keys", input.Reading, soon, []string{"5\x1b[200~6\x1b[201~7"}, []string{"5", "offer:6", "7"}},
		{"the remainder of a mouse report, late", input.Reading, later, []string{"0;12M"}, []string{"refused:0;12M"}},
		{"the remainder of a mouse report as commands", input.Command, later, []string{"0;12M"}, []string{"refused:0;12M"}},
		{"two commands in one write", input.Command, later, []string{"jj"}, []string{"letter jj"}},
		{"Ctrl is a key", input.Reading, later, []string{"\x03"}, []string{"ctrl+c"}},
	}
	for _, tt := range tests {
		if got := feed(t, tt.field, tt.gap, tt.parts...); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %q gave %q, expected %q", tt.name, tt.parts, got, tt.want)
		}
	}
}

// Due says Esc only once, and only when its time has passed.
func TestGuard_Due(t *testing.T) {
	c := &clock{}
	g := input.New(c.now, nil)
	if r := g.Due(); r.Kind != input.Nothing {
		t.Errorf("nothing pressed: %v", r)
	}
	g.Key(escMsg, input.Reading)
	if r := g.Due(); r.Kind != input.Nothing {
		t.Errorf("at once: %v", r)
	}
	c.forward(input.Quiet)
	if r := g.Due(); r.Kind != input.Esc {
		t.Errorf("after the quiet time: %v", r)
	}
	if r := g.Due(); r.Kind != input.Nothing {
		t.Errorf("a second time: %v", r)
	}
}

var escMsg = tea.KeyMsg{Type: tea.KeyEsc}

func BenchmarkKey(b *testing.B) {
	now := time.Unix(0, 0)
	g := input.New(func() time.Time { return now }, nil)
	msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'5'}}
	b.ReportAllocs()
	for b.Loop() {
		g.Key(msg, input.Reading)
	}
}
