package chain

import (
	"encoding/json"
	"fmt"
	"os"
	"time"

	"example.org/readback/store/disk"
)

// holder is the content of the file beside an open book that names who has it.
// It is a help for a sentence, never a lock.
type holder struct {
	Process int       `json:"process"`
	Machine string    `json:"machine"`
	Since   time.Time `json:"since"`
}

// WriteHolder leaves the name of this process beside the book, and returns what takes it
// away again.
func WriteHolder(book string, now time.Time) (remove func()) {
	machine, _ := os.Hostname()
	b, err := json.Marshal(holder{Process: os.Getpid(), Machine: machine, Since: now.UTC().Truncate(time.Second)})
	if err == nil {
		remove, err = disk.WriteHeld(disk.HolderPath(book), append(b, '\n'))
	}
	if err != nil { // without it the sentence is shorter, nothing else
		return func() {}
	}
	return remove
}

// holderText says who has the book open, as far as it is known.
func holderText(book string) string {
	b, err := disk.ReadHeld(disk.HolderPath(book))
	if err != nil {
		return "which one is not known"
	}
	var h holder
	if json.Unmarshal(b, &h) != nil || h.Process == 0 {
		return "which one is not known"
	}
	text := fmt.Sprintf("process %d", h.Process)
	if machine, _ := os.Hostname(); h.Machine != "" && h.Machine != machine {
		text += fmt.Sprintf(" on %q", h.Machine)
	}
	return text + " since " + h.Since.Format("2006-01-02 15:04 UTC")
}
