// Package filekind tells what a file is by how it begins: a name proves nothing.
package filekind

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
)

// A Kind is what a file is.
type Kind int

// The kinds that are told apart.
const (
	other    Kind = iota
	empty         // no byte in it
	Book          // a field book or an office book
	Journal       // events as JSON lines: a journal, its copy, or an export of events
	Reserve       // zeros held in reserve for a full disk
	Readings      // a readings file
)

// String names a kind as a sentence needs it: "is a book".
func (k Kind) String() string {
	return [...]string{"is another file", "is empty", "is a book", "is a journal", "is a book's reserve", "is a readings file"}[k]
}

// headSize is how much of a file is looked at: the second head of a book stands
// behind its first page, and the largest page has 64 KiB.
const headSize = 1<<16 + 64

// Of tells what the file at path is. It reads a regular file only and never waits
// for a device.
func Of(path string) (Kind, error) {
	info, err := os.Stat(path)
	if err != nil {
		return other, err
	}
	if !info.Mode().IsRegular() {
		return other, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return other, err
	}
	defer f.Close()
	head := make([]byte, headSize)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return other, fmt.Errorf("look at %s: %w", path, err)
	}
	return beginning(head[:n]), nil
}

// bookMagic stands in each of the two heads of a book, in the byte order of the
// machine that made it.
const bookMagic = 0xED0CDAED

// beginning tells what begins like that.
func beginning(head []byte) Kind {
	switch {
	case len(head) == 0:
		return empty
	case isBook(head):
		return Book
	case isJournal(head):
		return Journal
	case len(head) >= 4096 && len(bytes.Trim(head, "\x00")) == 0:
		return Reserve
	case isReadings(head):
		return Readings
	}
	return other
}

// isBook looks for a head where one stands for each size of page: one of the two
// may be damaged.
func isBook(head []byte) bool {
	const afterPageHead = 16
	for page := 0; page <= 1<<16; page = max(1<<9, page*2) {
		if len(head) < page+afterPageHead+4 {
			return false
		}
		at := head[page+afterPageHead:]
		if binary.LittleEndian.Uint32(at) == bookMagic || binary.BigEndian.Uint32(at) == bookMagic {
			return true
		}
	}
	return false
}

// isJournal takes the first line that can be read: one of them may be damaged.
func isJournal(head []byte) bool {
	for line := range bytes.Lines(head) {
		var l struct {
			Seq  uint64 `json:"seq"`
			Hash string `json:"hash"`
		}
		if json.Unmarshal(line, &l) == nil && l.Seq > 0 && len(l.Hash) == 64 {
			return true
		}
		if bytes.HasPrefix(line, []byte(`{"seq":`)) && bytes.Contains(line, []byte(`"prev"`)) {
			return true
		}
	}
	return false
}

// isReadings looks for the header of a readings file.
func isReadings(head []byte) bool {
	line, _, _ := strings.Cut(strings.TrimPrefix(string(head), "\ufeff"), "\n")
	return strings.HasPrefix(strings.ToLower(line), "setup,") && strings.Contains(line, "reading")
}
