package pages

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"runtime"

	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
)

// The head of a bbolt file, as far as it has to be known before the file may
// be trusted to bbolt: two copies, on page 0 and page 1, each behind a page
// header of 16 bytes, in the byte order of the machine.
const (
	metaMagic   = 0xED0CDAED
	metaVersion = 2
	metaAt      = 16
	metaSize    = 64
)

// Head is what the better of the two heads says.
type Head struct {
	PageSize  uint32
	HighWater uint64 // pages in use
	txid      uint64
	Root      uint64 // page of the root bucket
	Freelist  uint64 // page of the list of free pages
	Valid     int    // how many of the two heads are sound
	Tree      error  // what is wrong with the pages below
}

// Size is how many bytes of the file are in use.
func (h Head) Size() int64 { return int64(h.HighWater) * int64(h.PageSize) }

// Look looks at the file with plain reads before bbolt maps it: bbolt
// makes an empty file into a new book, and panics on one cut short. What
// checkTree finds is kept in the head's tree: such a file may still be read.
func Look(path string, full bool) (Head, error) {
	if runtime.GOOS == "windows" { // there it is a device, whatever it says of itself
		if err := fault.Nameable(path); err != nil {
			return Head{}, err
		}
	}
	info, err := os.Stat(path)
	if err != nil {
		return Head{}, fault.StatError(path, err)
	}
	switch {
	case info.IsDir():
		return Head{}, &fault.Error{Path: path, What: fault.ErrNotABook, Detail: "it is a folder", Do: "Name the book file in it"}
	case !info.Mode().IsRegular():
		return Head{}, &fault.Error{Path: path, What: fault.ErrNotABook, Detail: "it is no regular file"}
	case info.Size() == 0:
		return Head{}, &fault.Error{Path: path, What: fault.ErrEmpty, Do: fault.RestoreAdvice(path)}
	}
	f, err := os.Open(path)
	if err != nil {
		return Head{}, fault.ReadError(path, err)
	}
	defer f.Close()
	head, err := ReadHead(f, path, info.Size())
	if err == nil {
		if terr := CheckTree(f, head, full); terr != nil {
			head.Tree = &fault.Error{Path: path, What: fault.ErrDamaged, Cause: terr, Do: fault.RestoreAdvice(path)}
		}
	}
	return head, err
}

// ReadHead reads and judges the two heads.
func ReadHead(f io.ReaderAt, path string, size int64) (Head, error) {
	var head Head
	seen, foreign := false, false
	for _, at := range metaOffsets() {
		h, err := readMeta(f, at)
		foreign = foreign || errors.Is(err, errMetaOrder)
		if errors.Is(err, errMetaSum) || errors.Is(err, errMetaForm) {
			seen = true
		}
		if err != nil || (at != 0 && int64(h.PageSize) != at) {
			continue
		}
		head.Valid++
		if head.Valid == 1 || h.txid > head.txid {
			h.Valid, head = head.Valid, h
			head.Valid = h.Valid
		}
	}
	switch {
	case head.Valid == 0 && foreign:
		return head, &fault.Error{Path: path, What: fault.ErrForeign, Do: "It is not damaged. Its journal is the same on every machine and restores it here: " + fault.RestoreCommand(path)}
	case head.Valid == 0 && !seen && !hasRecord(f, size):
		return head, &fault.Error{Path: path, What: fault.ErrNotABook, Detail: "it does not begin like one", Do: "If it was one, " + lower(fault.RestoreAdvice(path))}
	case head.Valid == 0:
		return head, &fault.Error{Path: path, What: fault.ErrDamaged, Detail: "both heads of the file are unreadable", Do: fault.RestoreAdvice(path)}
	case size < head.Size():
		return head, &fault.Error{Path: path, What: fault.ErrTruncated, Detail: fmt.Sprintf("%d bytes are there, %d are in use",
			size, head.Size()), Do: fault.RestoreAdvice(path)}
	}
	return head, nil
}

// metaOffsets are the places where a head can stand: 0, and one page on for
// every page size in use.
func metaOffsets() []int64 {
	at := []int64{0}
	for size := int64(1024); size <= 1<<16; size *= 2 {
		at = append(at, size)
	}
	return at
}

var (
	errMetaNone  = errors.New("no head here")
	errMetaSum   = errors.New("the head does not match its check sum")
	errMetaForm  = errors.New("the head is of another version")
	errMetaOrder = errors.New("the head is of another byte order")
)

// readMeta reads one head at offset at.
func readMeta(f io.ReaderAt, at int64) (Head, error) {
	var b [metaAt + metaSize]byte
	if _, err := f.ReadAt(b[:], at); err != nil {
		return Head{}, errMetaNone
	}
	m := b[metaAt:]
	if Order.Uint32(m) != metaMagic {
		if binary.LittleEndian.Uint32(m) == metaMagic || binary.BigEndian.Uint32(m) == metaMagic {
			return Head{}, errMetaOrder
		}
		return Head{}, errMetaNone
	}
	sum := fnv.New64a()
	sum.Write(m[:56])
	if Order.Uint64(m[56:]) != sum.Sum64() {
		return Head{}, errMetaSum
	}
	h := Head{PageSize: Order.Uint32(m[8:]), Root: Order.Uint64(m[16:]), Freelist: Order.Uint64(m[32:]), HighWater: Order.Uint64(m[40:]), txid: Order.Uint64(m[48:])}
	if Order.Uint32(m[4:]) != metaVersion || h.PageSize < 1024 || h.PageSize > 1<<16 || h.HighWater > 1<<40 {
		return Head{}, errMetaForm
	}
	return h, nil
}

// hasRecord looks for the beginning of a record in the first MiB: then the
// file was a book whose heads are gone.
func hasRecord(f io.ReaderAt, size int64) bool {
	b := make([]byte, min(size, 1<<20))
	n, _ := f.ReadAt(b, 0)
	for i := 0; i+len(journal.Magic) <= n; i++ {
		if string(b[i:i+len(journal.Magic)]) == journal.Magic {
			return true
		}
	}
	return false
}

// lower sets the first letter in lower case.
func lower(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]|0x20) + s[1:]
}
