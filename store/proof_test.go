package store

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"example.org/readback/store/disk"
	"example.org/readback/store/journal"
	"example.org/readback/store/pages"
	"example.org/readback/store/proof"
	"example.org/readback/store/repair"
	"example.org/readback/testdata"
)

// answer is a hash over everything that a reading of the book gives.
func answer(path string) (string, error) {
	b, err := proof.Open(path)
	if err != nil {
		return "", err
	}
	defer b.Close()
	sum := sha256.New()
	for _, s := range b.Sources {
		fmt.Fprintf(sum, "%x %q\n", s.ID(), s.Name())
		var line []byte
		for r, err := range s.Records() {
			if err != nil {
				return "", err
			}
			line = journal.AppendLine(line[:0], r)
			sum.Write(line)
		}
		groups, err := s.Groups()
		if err != nil {
			return "", err
		}
		for _, g := range groups {
			list, err := s.Group(g)
			if err != nil {
				return "", err
			}
			digest, err := s.Digest(g)
			if err != nil {
				return "", err
			}
			fmt.Fprintf(sum, "%d %d %d\n", g, len(list), list[len(list)-1].Seq)
			if digest != nil && string(digest) != fmt.Sprintf("digest %d", list[len(list)-1].Seq) {
				return "", fmt.Errorf("WRONG DIGEST %q of setup %d", digest, g)
			}
		}
	}
	return fmt.Sprintf("%x", sum.Sum(nil)), nil
}

// structure lists the offsets of every byte of the page heads and element heads
// of a book file, those of buckets kept inside a page included.
func structure(t *testing.T, book []byte) (list []int) {
	path := filepath.Join(t.TempDir(), "structure")
	must(t, os.WriteFile(path, book, 0o600))
	head, err := pages.Look(path, true)
	must(t, err)
	var page func(at int)
	page = func(at int) {
		for i := range 16 {
			list = append(list, at+i)
		}
		flags, count := binary.NativeEndian.Uint16(book[at+8:]), int(binary.NativeEndian.Uint16(book[at+10:]))
		if flags&3 == 0 {
			return
		}
		for e := at + 16; e < at+16+16*count; e += 16 {
			for i := range 16 {
				list = append(list, e+i)
			}
			if flags == 2 && binary.NativeEndian.Uint32(book[e:]) == 1 {
				value := e + int(binary.NativeEndian.Uint32(book[e+4:])+binary.NativeEndian.Uint32(book[e+8:]))
				for i := range 16 {
					list = append(list, value+i)
				}
				if binary.NativeEndian.Uint64(book[value:]) == 0 {
					page(value + 16)
				}
			}
		}
	}
	for id := range int(head.HighWater) {
		page(id * 4096)
	}
	return list
}

// Ensure that no single bit of the structure of a book makes a reading short or
// other than it was: it gives the same answer or an error. The -long form turns
// every bit, the short one a part of them.
func TestRead_EveryStructuralBit(t *testing.T) {
	field := newClosed(t, 70)
	office := filepath.Join(t.TempDir(), "office.readback")
	other := newClosed(t, 25)
	if _, err := repair.Gather(office, nil, field, other); err != nil {
		t.Fatal(err)
	}
	for name, from := range map[string]string{"field book": field, "office book": office} {
		sound, err := os.ReadFile(from)
		must(t, err)
		dir := t.TempDir()
		path := filepath.Join(dir, filepath.Base(from))
		must(t, os.WriteFile(path, sound, 0o600))
		if lines, err := os.ReadFile(disk.JournalPath(from)); err == nil {
			must(t, os.WriteFile(disk.JournalPath(path), lines, 0o600))
		}
		want, err := answer(path)
		must(t, err)
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		must(t, err)
		defer f.Close()
		step, first := 301, newRand(t, 3).IntN(301)
		if *testdata.Long {
			step, first = 1, 0
		}
		bits := structure(t, sound)
		same, refused := 0, 0
		for n := first; n < len(bits)*8; n += step {
			at, bit := bits[n/8], n%8
			_, err := f.WriteAt([]byte{sound[at] ^ 1<<bit}, int64(at))
			must(t, err)
			switch got, err := answer(path); {
			case err != nil:
				refused++
			case got == want:
				same++
			default:
				t.Errorf("%s, page %d byte %d bit %d: another answer and no error", name, at/4096, at%4096, bit)
			}
			_, err = f.WriteAt(sound[at:at+1], int64(at))
			must(t, err)
		}
		t.Logf("%s: %d of %d structural bits turned: %d refused, %d the same answer, 0 short", name, same+refused, len(bits)*8, refused, same)
	}
}
