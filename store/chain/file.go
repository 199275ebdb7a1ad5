package chain

import (
	"errors"
	"fmt"
	"io"
	"os"
	"sync"
	"sync/atomic"
	"time"

	bolt "go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/pages"
)

// GrowStep is by how much a big book file grows at once. It is far below
// bbolt's own step so that the last growth fits on a disk that is nearly full.
const GrowStep = 512 << 10

// A File is an open bbolt file behind a guard. After a panic out of bbolt it
// is dead: bbolt would block for ever in its next Update or Close, so nothing
// is called any more, every question is answered with the error at once, and
// only the lock and the file are given back.
type File struct {
	path     string
	info     os.FileInfo // of the file as it was opened
	readOnly bool
	Notes    []string // what was found on opening, whole sentences
	OneHead  bool     // one of the two heads of the file is unreadable: the other may be the older one

	read atomic.Int64 // bytes, about, since letGo gave the pages back

	mu   sync.Mutex
	Size int64 // of the file after the last commit
	db   *bolt.DB
	File *os.File
	dead error
}

// opened lists the files that this process has open. On some systems a second
// open in one process would succeed and, on closing, drop the first one's lock.
var opened struct {
	sync.Mutex
	list []*File
}

// claim enters h into the list, or says that the file is open already.
func claim(h *File) error {
	opened.Lock()
	defer opened.Unlock()
	if err := conflict(h.path, h.info, h.readOnly); err != nil {
		return err
	}
	opened.list = append(opened.list, h)
	return nil
}

// conflict says whether this process has the file open in a way that excludes
// another opening: readers share a file, a writer has it alone.
func conflict(path string, info os.FileInfo, readOnly bool) error {
	for _, o := range opened.list {
		if os.SameFile(o.info, info) && !(readOnly && o.readOnly) {
			return &fault.Error{Path: path, What: fault.ErrInUse, Detail: "this program has it open already", Do: "Close it there first"}
		}
	}
	return nil
}

// BusyHere asks the same before the file is touched at all: on a system with
// locks of the whole process (Android) even closing it again would drop the lock.
func BusyHere(path string, readOnly bool) error {
	info, err := os.Stat(path)
	if err != nil {
		return nil // whoever opens it finds the right words
	}
	opened.Lock()
	defer opened.Unlock()
	return conflict(path, info, readOnly)
}

// unclaim takes h off the list.
func unclaim(h *File) {
	opened.Lock()
	defer opened.Unlock()
	for i, o := range opened.list {
		if o == h {
			opened.list = append(opened.list[:i], opened.list[i+1:]...)
			return
		}
	}
}

// A Mode says how a book file is opened.
type Mode struct {
	ReadOnly bool
	Wait     time.Duration // for another holder of the file
	MaxSize  int           // greatest size of the file in bytes, for tests; 0: none
}

// OpenFile opens the bbolt file at path, which must have passed pages.Look.
func OpenFile(path string, o Mode) (*File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fault.StatError(path, err)
	}
	h := &File{path: path, info: info, readOnly: o.ReadOnly, Size: info.Size()}
	if err := claim(h); err != nil {
		return nil, err
	}
	opt := *bolt.DefaultOptions // freelist synced, array: opening stays O(1)
	opt.Timeout, opt.ReadOnly, opt.MaxSize = o.Wait, o.ReadOnly, o.MaxSize
	opt.OpenFile = func(name string, flag int, perm os.FileMode) (*os.File, error) {
		f, err := os.OpenFile(name, flag&^os.O_CREATE, perm)
		if err == nil && h.File == nil {
			h.File = f
		}
		return f, err
	}
	err = fault.Guarded(func() error {
		var oerr error
		h.db, oerr = bolt.Open(path, 0o600, &opt)
		return oerr
	})
	if err != nil {
		return nil, h.openFailed(err)
	}
	h.db.AllocSize = GrowStep
	return h, nil
}

// openFailed gives back what a failed opening holds and words the error.
func (h *File) openFailed(err error) error {
	var p *fault.PanicError
	if errors.As(err, &p) {
		h.Kill(err)
		return &fault.Error{Path: h.path, What: fault.ErrDamaged, Cause: err, Do: fault.RestoreAdvice(h.path)}
	}
	unclaim(h)
	switch {
	case errors.Is(err, berrors.ErrTimeout):
		return &fault.Error{Path: h.path, What: fault.ErrInUse, Detail: holderText(h.path), Do: "Close it there first"}
	case errors.Is(err, berrors.ErrInvalid), errors.Is(err, berrors.ErrVersionMismatch), errors.Is(err, berrors.ErrChecksum):
		return &fault.Error{Path: h.path, What: fault.ErrDamaged, Cause: err, Do: fault.RestoreAdvice(h.path)}
	}
	return fault.OpenError(h.path, err)
}

// view runs fn on a consistent picture of the file.
func (h *File) view(fn func(*bolt.Tx) error) error {
	db, err := h.alive()
	if err != nil {
		return err
	}
	return h.judge(fault.Guarded(func() error {
		return db.View(func(tx *bolt.Tx) error {
			defer h.letGo(tx)
			return fn(tx)
		})
	}))
}

// Update runs fn and commits durably what it wrote.
func (h *File) Update(fn func(*bolt.Tx) error) error {
	db, err := h.alive()
	if err != nil {
		return err
	}
	return h.judge(fault.Guarded(func() error {
		return db.Update(func(tx *bolt.Tx) error {
			defer h.letGo(tx)
			return fn(tx)
		})
	}))
}

// alive gives the database, or why there is none any more. A file that has
// shrunk is not touched: reading its map would fault.
func (h *File) alive() (*bolt.DB, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.dead != nil {
		return nil, h.dead
	}
	if info, err := h.File.Stat(); err == nil && info.Size() < h.Size {
		h.dead = &fault.Error{Path: h.path, What: fault.ErrGone, Detail: fmt.Sprintf("it was cut to %d bytes", info.Size()), Do: fault.RestoreAdvice(h.path)}
		h.giveBack()
		return nil, h.dead
	}
	return h.db, nil
}

// open gives the open file, or why there is none any more.
func (h *File) open() (*os.File, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.File, h.dead
}

// judge kills the handle when err is a recovered panic.
func (h *File) judge(err error) error {
	var p *fault.PanicError
	if !errors.As(err, &p) {
		return err
	}
	return h.Kill(err)
}

// Kill marks the handle dead, gives lock and file back, and returns the error
// that every later call gets.
func (h *File) Kill(cause error) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.dead == nil {
		h.dead = &fault.Error{Path: h.path, What: fault.ErrDead, Detail: fault.ErrDamaged.Error(), Cause: cause, Do: fault.RestoreAdvice(h.path)}
		h.giveBack()
	}
	return h.dead
}

// giveBack releases lock, file and entry in the list without asking bbolt.
func (h *File) giveBack() {
	if h.File != nil {
		_ = disk.Unlock(h.File) // the map keeps the file alive, so closing is not enough
		_ = h.File.Close()
	}
	h.db, h.File = nil, nil
	unclaim(h)
}

// Close closes the file; a dead handle has nothing left to close.
func (h *File) Close() error {
	h.mu.Lock()
	db := h.db
	if h.dead != nil {
		h.mu.Unlock()
		return nil
	}
	h.dead = &fault.Error{Path: h.path, What: fault.ErrClosed}
	h.mu.Unlock()
	err := fault.Guarded(db.Close)
	unclaim(h)
	return err
}

// Replaced says how the file at the path differs from the one that is open;
// nil when it is the same and has not shrunk.
func (h *File) Replaced() error {
	info, err := os.Stat(h.path)
	h.mu.Lock()
	defer h.mu.Unlock()
	switch {
	case errors.Is(err, os.ErrNotExist):
		return fmt.Errorf("the file %s was deleted or renamed", h.path)
	case err != nil:
		return fmt.Errorf("the file %s cannot be reached: %w", h.path, err)
	case !os.SameFile(info, h.info):
		return fmt.Errorf("the file %s was replaced by another", h.path)
	case info.Size() < h.Size:
		return fmt.Errorf("the file %s was cut from %d to %d bytes", h.path, h.Size, info.Size())
	}
	h.Size = info.Size()
	return nil
}

// defaultLockWait is how long an opening waits for the lock; the booker should
// learn at once that another window has the book.
const LockWait = 300 * time.Millisecond

// CopyTo writes a consistent picture of the file to a new one and syncs it.
func (h *File) CopyTo(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	err = h.view(func(tx *bolt.Tx) error {
		n, err := tx.WriteTo(onlyWriter{f})
		if err == nil && n != tx.Size() {
			err = fmt.Errorf("%d of %d bytes were copied", n, tx.Size())
		}
		return err
	})
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	return err
}

// onlyWriter hides everything of a file but Write: the copy reads through
// plain reads.
type onlyWriter struct{ io.Writer }

// OpenToRead opens a book file that nobody has open to read it: every page of
// the tree is looked at before.
func OpenToRead(path string) (*File, Meta, error) {
	var m Meta
	if err := BusyHere(path, true); err != nil {
		return nil, m, err
	}
	head, err := pages.Look(path, true)
	if err == nil {
		err = head.Tree // bbolt could run round in it for ever
	}
	if err != nil {
		return nil, m, err
	}
	h, err := OpenFile(path, Mode{ReadOnly: true, Wait: LockWait})
	if err != nil {
		return nil, m, err
	}
	if h.OneHead = head.Valid == 1; h.OneHead {
		h.Notes = append(h.Notes, "One of the two heads of the book file is unreadable; the other one serves.")
	}
	if m, err = h.Meta(); err != nil {
		_ = h.Close()
		return nil, m, err
	}
	return h, m, nil
}
