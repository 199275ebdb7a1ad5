package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"path/filepath"
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

// fileHead is what the better of the two heads says.
type fileHead struct {
	pageSize  uint32
	highWater uint64 // pages in use
	txid      uint64
	root      uint64 // page of the root bucket
	freelist  uint64 // page of the list of free pages
	valid     int    // how many of the two heads are sound
	tree      error  // what is wrong with the pages below
}

// preflight looks at the file with plain reads before bbolt maps it: bbolt
// makes an empty file into a new book, and panics on one cut short. What
// checkTree finds is kept in the head's tree: such a file may still be read.
func preflight(path string, full bool) (fileHead, error) {
	info, err := os.Stat(path)
	if err != nil {
		return fileHead{}, statError(path, err)
	}
	switch {
	case info.IsDir():
		return fileHead{}, &Error{Path: path, What: ErrNotABook, Detail: "it is a directory", Do: "Name the book file in it"}
	case !info.Mode().IsRegular():
		return fileHead{}, &Error{Path: path, What: ErrNotABook, Detail: "it is no regular file"}
	case info.Size() == 0:
		return fileHead{}, &Error{Path: path, What: ErrEmpty, Do: restoreAdvice(path)}
	}
	f, err := os.Open(path)
	if err != nil {
		return fileHead{}, openError(path, err)
	}
	defer f.Close()
	head, err := readHead(f, path, info.Size())
	if err == nil {
		if terr := checkTree(f, head, full); terr != nil {
			head.tree = &Error{Path: path, What: ErrDamaged, Cause: terr, Do: restoreAdvice(path)}
		}
	}
	return head, err
}

// readHead reads and judges the two heads.
func readHead(f io.ReaderAt, path string, size int64) (fileHead, error) {
	var head fileHead
	seen := false
	for _, at := range metaOffsets() {
		h, err := readMeta(f, at)
		if errors.Is(err, errMetaSum) || errors.Is(err, errMetaForm) {
			seen = true
		}
		if err != nil || (at != 0 && int64(h.pageSize) != at) {
			continue
		}
		head.valid++
		if head.valid == 1 || h.txid > head.txid {
			h.valid, head = head.valid, h
			head.valid = h.valid
		}
	}
	switch {
	case head.valid == 0 && !seen && !hasRecord(f, size):
		return head, &Error{Path: path, What: ErrNotABook, Detail: "it does not begin like one", Do: "If it was one, " + lower(restoreAdvice(path))}
	case head.valid == 0:
		return head, &Error{Path: path, What: ErrDamaged, Detail: "both heads of the file are unreadable", Do: restoreAdvice(path)}
	case size < int64(head.highWater)*int64(head.pageSize):
		return head, &Error{Path: path, What: ErrTruncated, Detail: fmt.Sprintf("%d bytes are there, %d are in use",
			size, int64(head.highWater)*int64(head.pageSize)), Do: restoreAdvice(path)}
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
	errMetaNone = errors.New("no head here")
	errMetaSum  = errors.New("the head does not match its check sum")
	errMetaForm = errors.New("the head is of another version or byte order")
)

// readMeta reads one head at offset at.
func readMeta(f io.ReaderAt, at int64) (fileHead, error) {
	var b [metaAt + metaSize]byte
	if _, err := f.ReadAt(b[:], at); err != nil {
		return fileHead{}, errMetaNone
	}
	m := b[metaAt:]
	if order.Uint32(m) != metaMagic {
		if binary.LittleEndian.Uint32(m) == metaMagic || binary.BigEndian.Uint32(m) == metaMagic {
			return fileHead{}, errMetaForm
		}
		return fileHead{}, errMetaNone
	}
	sum := fnv.New64a()
	sum.Write(m[:56])
	if order.Uint64(m[56:]) != sum.Sum64() {
		return fileHead{}, errMetaSum
	}
	h := fileHead{pageSize: order.Uint32(m[8:]), root: order.Uint64(m[16:]), freelist: order.Uint64(m[32:]), highWater: order.Uint64(m[40:]), txid: order.Uint64(m[48:])}
	if order.Uint32(m[4:]) != metaVersion || h.pageSize < 1024 || h.pageSize > 1<<16 || h.highWater > 1<<40 {
		return fileHead{}, errMetaForm
	}
	return h, nil
}

// hasRecord looks for the beginning of a record in the first MiB: then the
// file was a book whose heads are gone.
func hasRecord(f io.ReaderAt, size int64) bool {
	b := make([]byte, min(size, 1<<20))
	n, _ := f.ReadAt(b, 0)
	for i := 0; i+len(recordMagic) <= n; i++ {
		if string(b[i:i+len(recordMagic)]) == recordMagic {
			return true
		}
	}
	return false
}

// statError says why the file cannot even be looked at.
func statError(path string, err error) error {
	switch {
	case errors.Is(err, os.ErrNotExist):
		if _, derr := os.Stat(filepath.Dir(path)); errors.Is(derr, os.ErrNotExist) {
			return &Error{Path: path, What: ErrNoDirectory, Detail: filepath.Dir(path), Do: "Make it first, or put the card in that holds it"}
		}
		if info, jerr := os.Stat(JournalPath(path)); jerr == nil && info.Size() > 0 {
			return &Error{Path: path, What: ErrNoBook, Detail: "but its journal is", Do: restoreAdvice(path)}
		}
		return &Error{Path: path, What: ErrNoBook, Do: "Look for it elsewhere, or begin a new one: readback book " + quoted(path)}
	default:
		return openError(path, err)
	}
}

// openError words an error of opening the file.
func openError(path string, err error) error {
	if isNotAllowed(err) {
		return &Error{Path: path, What: ErrNotAllowed, Cause: err, Do: "Ask its owner, or open it to look at only"}
	}
	if isNoSpace(err) {
		return &Error{Path: path, What: ErrNoSpace, Cause: err, Do: "Make room on the disk, then open the book again"}
	}
	return &Error{Path: path, What: ErrDamaged, Cause: err, Do: restoreAdvice(path)}
}

// lower sets the first letter in lower case.
func lower(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]|0x20) + s[1:]
}
