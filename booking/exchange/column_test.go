package exchange

import (
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every refusal of a readings file says line and column, whatever is wrong with it:
// the files of the examples with bytes changed, left out, doubled and cut.
func TestRefusals_HaveLineAndColumn(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "readings", "*.csv"))
	if err != nil || len(files) < 5 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	rng := rand.New(rand.NewPCG(11, 12))
	refused := 0
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for range 400 {
			bad := mutated(rng, string(text))
			f, err := readAll(strings.NewReader(bad), "day.csv")
			if err == nil {
				_, err = f.papers(Options{})
			}
			if err == nil {
				continue
			}
			refused++
			var many faults
			var one *fault
			switch {
			case errors.As(err, &many):
			case errors.As(err, &one):
				many = faults{one}
			default:
				t.Fatalf("%s: no place: %v\n%s", name, err, bad)
			}
			for _, x := range many {
				if x.Line < 1 || x.Column < 1 || x.What == "" {
					t.Fatalf("%s: line %d, column %d: %v\n%s", name, x.Line, x.Column, x, bad)
				}
			}
		}
	}
	if refused < 2000 {
		t.Errorf("only %d files were refused", refused)
	}
}

// mutated changes a file in one to three places.
func mutated(rng *rand.Rand, text string) string {
	signs := []string{",", "\"", "\n", "\r", "9", "-", "x", " ", "\x00", "\xff", ";", "horizontal", "FL", "€", "'", "=1", "\u202e"}
	for range 1 + rng.IntN(3) {
		at := rng.IntN(len(text))
		to := min(len(text), at+1+rng.IntN(8))
		switch rng.IntN(5) {
		case 0:
			text = text[:at] + signs[rng.IntN(len(signs))] + text[at:]
		case 1:
			text = text[:at] + signs[rng.IntN(len(signs))] + text[to:]
		case 2:
			text = text[:at] + text[to:]
		case 3:
			text = text[:to] + text[at:]
		default:
			lines := strings.SplitAfter(text, "\n")
			i, j := rng.IntN(len(lines)), rng.IntN(len(lines))
			lines[i], lines[j] = lines[j], lines[i]
			text = strings.Join(lines, "")
		}
		if text == "" {
			return ","
		}
	}
	return text
}
