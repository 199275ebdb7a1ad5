package proof

import (
	"fmt"
	"path/filepath"
	"strings"

	"example.org/readback/store/disk"
)

// RescuePath finds a name beside the book, in directory dir, for what is saved of
// it when the file under the open book vanishes.
func RescuePath(dir, book string) (string, error) {
	stem, ext := rescueName(book)
	return disk.FreePath(filepath.Join(dir, stem), ext)
}

func rescueName(book string) (stem, ext string) {
	ext = filepath.Ext(book)
	return strings.TrimSuffix(filepath.Base(book), ext) + "-rescued-", ext
}

// Rescued looks in directories for what was rescued of the chain id of a book, and
// gives the one that holds most beyond event last; path is empty when there is
// none.
func Rescued(book string, id [32]byte, last uint64, dirs ...string) (path string, events uint64) {
	stem, ext := rescueName(book)
	for _, dir := range dirs {
		if dir == "" {
			continue
		}
		for n := 1; ; n++ {
			p := filepath.Join(dir, fmt.Sprintf("%s%d%s", stem, n, ext))
			if disk.Regular(p) != nil {
				break
			}
			b, err := Open(p)
			if err != nil {
				continue // whoever opens it hears of it
			}
			for _, s := range b.Sources {
				if s.id == id && s.last.Seq > max(last, events) {
					path, events = p, s.last.Seq
				}
			}
			_ = b.Close()
		}
	}
	return path, events
}
