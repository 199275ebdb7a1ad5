package store

import (
	"os"
	"path/filepath"
	"strings"

	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/repair"
)

// DailyCopy leaves a copy of the book in dir (beside the book when dir is
// empty) under a name with today's date, and returns the name. The copy is
// checked in full before it replaces an earlier one of the same day. Booking
// may go on meanwhile.
func (b *Book) DailyCopy(dir string) (string, error) {
	if dir == "" {
		dir = filepath.Dir(b.path)
	}
	ext := filepath.Ext(b.path)
	path := filepath.Join(dir, strings.TrimSuffix(b.base(), ext)+"."+b.opt.Clock().Format("2006-01-02")+ext)
	if _, err := os.Stat(dir); err != nil {
		return "", fault.OpenError(dir, err)
	}
	tmp, err := disk.FreePath(path+".new-", "")
	if err != nil {
		return "", err
	}
	defer os.Remove(tmp)
	if err := b.h.CopyTo(tmp); err != nil {
		return "", openCopyError(path, err)
	}
	r := repair.Verify(tmp)
	if err := r.FileErr(); err != nil {
		return "", &fault.Error{Path: path, What: fault.ErrDamaged, Detail: "the copy was not kept", Cause: err, Do: "Look at the book with: readback audit " + fault.Quoted(b.path)}
	}
	if old := repair.Verify(path); old.Unread == nil && (old.Office != b.Office() || len(old.Chains) > 0 && old.Chains[0].ID != r.Chains[0].ID) {
		return "", &fault.Error{Path: path, What: fault.ErrExists, Detail: "it is the second journal of another book", Do: "Name another folder"}
	}
	if err := os.Rename(tmp, path); err != nil {
		return "", openCopyError(path, err)
	}
	return path, disk.SyncDir(dir)
}

// openCopyError words that the copy could not be written.
func openCopyError(path string, err error) error {
	what := fault.ErrCopy
	if disk.IsNoSpace(err) {
		what = fault.ErrNoSpace
	}
	return &fault.Error{Path: path, What: what, Detail: "the book itself is whole and not touched", Cause: err}
}
