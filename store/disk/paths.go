package disk

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// JournalPath is where the journal of the book stands: beside it.
func JournalPath(book string) string { return book + ".jsonl" }

// CopyPath is where the second journal of the book stands in directory dir.
func CopyPath(dir, book string) string { return filepath.Join(dir, filepath.Base(book)+".jsonl") }

func ReservePath(book string) string { return book + ".reserve" }
func HolderPath(book string) string  { return book + ".holder" }

// FreePath finds a name that is not taken yet: prefix, a number from 1, suffix.
func FreePath(prefix, suffix string) (string, error) {
	for n := 1; n < 10000; n++ {
		p := fmt.Sprintf("%s%d%s", prefix, n, suffix)
		if _, err := os.Lstat(p); os.IsNotExist(err) {
			return p, nil
		} else if err != nil {
			return "", err
		}
	}
	return "", fmt.Errorf("%s1%s and 9,999 more names are taken", prefix, suffix)
}

// SetAside renames path to a free name beside it, so that nothing is written
// over, and returns the new name.
func SetAside(path string) (string, error) {
	p, err := FreePath(path+".set-aside-", "")
	if err != nil {
		return "", err
	}
	if err := os.Rename(path, p); err != nil {
		return "", err
	}
	return p, SyncDir(filepath.Dir(path))
}

// CopyFile copies the first size bytes of a file that nobody changes to a new
// name and syncs it: what stands behind the pages in use is no part of a book,
// and may be a terabyte that was never written.
func CopyFile(from, to string, size int64) (err error) {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.CopyN(out, in, size)
	if err == nil {
		err = out.Sync()
	}
	if cerr := out.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		_ = os.Remove(to)
	}
	return err
}

// Regular says why the file at path is none to read lines from: opening a pipe
// would wait for ever, and a device has no end.
func Regular(path string) error {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = fmt.Errorf("%s is no regular file", path)
	}
	return err
}

// Real follows links: the journal of a book stands beside the file itself, not
// beside a link that leads to it.
func Real(path string) string {
	if info, err := os.Lstat(path); err != nil || info.Mode()&os.ModeSymlink == 0 {
		return path
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	return path
}
