package exchange

import (
	"fmt"
	"io"
	"strings"
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
		p, err := f.Paper(i, o)
		if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, nil
}
