package store

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"example.org/readback/store/journal"
	"example.org/readback/store/proof"
	"example.org/readback/testdata"
)

// Ensure that of a book of 24 MB that is read whole no more than a part is in the memory
// of this process at any time, in order and out of order.
func TestRead_GivesPagesBack(t *testing.T) {
	if !*testdata.Long {
		t.Skip("a book of 24 MB: -long")
	}
	b := newBook(t, 0)
	body, err := json.Marshal(map[string]string{"text": strings.Repeat("x", 16<<10)})
	must(t, err)
	const events = 1500
	for n := 1; n <= events; {
		var list []journal.Draft
		for range 250 {
			d := draft(n)
			d.Body, d.Digest = body, nil
			list, n = append(list, d), n+1
		}
		_, err := b.AppendAll(list)
		must(t, err)
	}
	path := b.path
	must(t, b.Close())
	const most = 16 << 20
	look := func(done, _ uint64) {
		if done%50 == 0 {
			if n := mapped(t, path); n > most {
				t.Fatalf("%d MB of the book are in memory at event %d", n>>20, done)
			}
		}
	}
	p, err := proof.OpenWatched(path, look)
	must(t, err)
	defer p.Close()
	if p.Events() != events {
		t.Fatalf("%d events", p.Events())
	}
	for n := uint64(1); n <= events; n++ {
		_, err := p.Sources[0].Record(n*7%events + 1)
		must(t, err)
		look(n, 0)
	}
}

// mapped is how much of a mapped file is in the memory of this process.
func mapped(t *testing.T, path string) (bytes int) {
	f, err := os.Open("/proc/self/smaps")
	must(t, err)
	defer f.Close()
	own := false
	for in := bufio.NewScanner(f); in.Scan(); {
		line := in.Text()
		var kb int
		if first, _, _ := strings.Cut(line, " "); strings.Contains(first, "-") {
			own = strings.HasSuffix(line, path)
		} else if n, _ := fmt.Sscanf(line, "Rss: %d kB", &kb); own && n == 1 {
			bytes += kb << 10
		}
	}
	return bytes
}
