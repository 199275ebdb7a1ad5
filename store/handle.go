package store

import (
	"errors"
	"fmt"
	"os"
	"sync"
	"time"

	bolt "go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"
)

// growStep is by how much a big book file grows at once. It is far below
// bbolt's own step so that the last growth fits on a disk that is nearly full.
const growStep = 512 << 10

// A handle is an open bbolt file behind a guard. After a panic out of bbolt it
// is dead: bbolt would block for ever in its next Update or Close, so nothing
// is called any more, every question is answered with the error at once, and
// only the lock and the file are given back.
type handle struct {
	path     string
	info     os.FileInfo // of the file as it was opened
	readOnly bool

	mu   sync.Mutex
	size int64 // of the file after the last commit
	db   *bolt.DB
	file *os.File
	dead error
}

// opened lists the files that this process has open. On some systems a second
// open in one process would succeed and, on closing, drop the first one's lock.
var opened struct {
	sync.Mutex
	list []*handle
}

// claim enters h into the list, or says that the file is open already.
func claim(h *handle) error {
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
			return &Error{Path: path, What: ErrInUse, Detail: "this program has it open already", Do: "Close it there first"}
		}
	}
	return nil
}

// busyHere asks the same before the file is touched at all: on a system with
// locks of the whole process (Android) even closing it again would drop the lock.
func busyHere(path string, readOnly bool) error {
	info, err := os.Stat(path)
	if err != nil {
		return nil // whoever opens it finds the right words
	}
	opened.Lock()
	defer opened.Unlock()
	return conflict(path, info, readOnly)
}

// unclaim takes h off the list.
func unclaim(h *handle) {
	opened.Lock()
	defer opened.Unlock()
	for i, o := range opened.list {
		if o == h {
			opened.list = append(opened.list[:i], opened.list[i+1:]...)
			return
		}
	}
}

// openHandle opens the bbolt file at path, which must have passed preflight.
func openHandle(path string, o Options) (*handle, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, statError(path, err)
	}
	h := &handle{path: path, info: info, readOnly: o.ReadOnly, size: info.Size()}
	if err := claim(h); err != nil {
		return nil, err
	}
	opt := *bolt.DefaultOptions // freelist synced, array: opening stays O(1)
	opt.Timeout, opt.ReadOnly, opt.MaxSize = o.LockWait, o.ReadOnly, o.maxSize
	opt.OpenFile = func(name string, flag int, perm os.FileMode) (*os.File, error) {
		f, err := os.OpenFile(name, flag&^os.O_CREATE, perm)
		if err == nil && h.file == nil {
			h.file = f
		}
		return f, err
	}
	err = guarded(func() error {
		var oerr error
		h.db, oerr = bolt.Open(path, 0o600, &opt)
		return oerr
	})
	if err != nil {
		return nil, h.openFailed(err)
	}
	h.db.AllocSize = growStep
	return h, nil
}

// openFailed gives back what a failed opening holds and words the error.
func (h *handle) openFailed(err error) error {
	var p *panicError
	if errors.As(err, &p) {
		h.kill(err)
		return &Error{Path: h.path, What: ErrDamaged, Cause: err, Do: restoreAdvice(h.path)}
	}
	unclaim(h)
	switch {
	case errors.Is(err, berrors.ErrTimeout):
		return &Error{Path: h.path, What: ErrInUse, Detail: holderText(h.path), Do: "Close it there first"}
	case errors.Is(err, berrors.ErrInvalid), errors.Is(err, berrors.ErrVersionMismatch), errors.Is(err, berrors.ErrChecksum):
		return &Error{Path: h.path, What: ErrDamaged, Cause: err, Do: restoreAdvice(h.path)}
	}
	return openError(h.path, err)
}

// view runs fn on a consistent picture of the file.
func (h *handle) view(fn func(*bolt.Tx) error) error {
	db, err := h.alive()
	if err != nil {
		return err
	}
	return h.judge(guarded(func() error { return db.View(fn) }))
}

// update runs fn and commits durably what it wrote.
func (h *handle) update(fn func(*bolt.Tx) error) error {
	db, err := h.alive()
	if err != nil {
		return err
	}
	return h.judge(guarded(func() error { return db.Update(fn) }))
}

// alive gives the database, or why there is none any more. A file that has
// shrunk is not touched: reading its map would fault.
func (h *handle) alive() (*bolt.DB, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.dead != nil {
		return nil, h.dead
	}
	if info, err := h.file.Stat(); err == nil && info.Size() < h.size {
		h.dead = &Error{Path: h.path, What: ErrGone, Detail: fmt.Sprintf("it was cut to %d bytes", info.Size()), Do: restoreAdvice(h.path)}
		h.giveBack()
		return nil, h.dead
	}
	return h.db, nil
}

// open gives the open file, or why there is none any more.
func (h *handle) open() (*os.File, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.file, h.dead
}

// judge kills the handle when err is a recovered panic.
func (h *handle) judge(err error) error {
	var p *panicError
	if !errors.As(err, &p) {
		return err
	}
	return h.kill(err)
}

// kill marks the handle dead, gives lock and file back, and returns the error
// that every later call gets.
func (h *handle) kill(cause error) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.dead == nil {
		h.dead = &Error{Path: h.path, What: ErrDead, Detail: ErrDamaged.Error(), Cause: cause, Do: restoreAdvice(h.path)}
		h.giveBack()
	}
	return h.dead
}

// giveBack releases lock, file and entry in the list without asking bbolt.
func (h *handle) giveBack() {
	if h.file != nil {
		_ = unlock(h.file) // the map keeps the file alive, so closing is not enough
		_ = h.file.Close()
	}
	h.db, h.file = nil, nil
	unclaim(h)
}

// close closes the file; a dead handle has nothing left to close.
func (h *handle) close() error {
	h.mu.Lock()
	db := h.db
	if h.dead != nil {
		h.mu.Unlock()
		return nil
	}
	h.dead = &Error{Path: h.path, What: ErrClosed}
	h.mu.Unlock()
	err := guarded(db.Close)
	unclaim(h)
	return err
}

// replaced says how the file at the path differs from the one that is open;
// nil when it is the same and has not shrunk.
func (h *handle) replaced() error {
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
	case info.Size() < h.size:
		return fmt.Errorf("the file %s was cut from %d to %d bytes", h.path, h.size, info.Size())
	}
	h.size = info.Size()
	return nil
}

// defaultLockWait is how long an opening waits for the lock; the booker should
// learn at once that another window has the book.
const defaultLockWait = 300 * time.Millisecond
