package exchange

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"
)

// readAll reads a readings file from memory; see Open. What is wrong with its rows
// is told at once.
func readAll(r io.Reader, name string) (*File, error) {
	var text strings.Builder
	if _, err := io.Copy(&text, r); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	f, err := Open(strings.NewReader(text.String()), int64(text.Len()), name)
	if err == nil {
		err = f.faults()
	}
	if err != nil {
		return nil, err
	}
	return f, nil
}

// papers reads all setups of the file, as a command does that takes them one by one.
func (f *File) papers(o Options) ([]Paper, error) {
	var all []Paper
	for i := range f.Len() {
		p, err := f.Reader().Paper(i, o)
		if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, nil
}

// A reader that is used again reads each setup as a fresh one does: rows of the one
// before leave nothing behind.
func TestReader_UsedAgain(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "readings", "brackenfold-day.csv"))
	if err != nil {
		t.Fatal(err)
	}
	f, err := Open(bytes.NewReader(text), int64(len(text)), "a test")
	if err != nil {
		t.Fatal(err)
	}
	again := f.Reader()
	for range 2 {
		for i := range f.Len() {
			one, err := f.Reader().Paper(i, Options{})
			if err != nil {
				t.Fatal(err)
			}
			other, err := again.Paper(i, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if a, b := one.entries(nil, 1, 1, time.Time{}), other.entries(nil, 1, 1, time.Time{}); !reflect.DeepEqual(a, b) {
				t.Errorf("setup %d: %v, behind others %v", one.Number, a, b)
			}
		}
	}
}
