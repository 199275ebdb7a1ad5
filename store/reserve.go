package store

import (
	"fmt"
	"os"
	"path/filepath"

	"example.org/readback/store/disk"
)

// defaultReserve is the space held beside a book for the last readings of a
// day on a full disk: some thousand of them.
const defaultReserve = 1 << 20

// holdReserve makes the reserve file if it is not there. Its bytes are
// written, not only claimed, so that the disk really gives them away.
func holdReserve(book string, size int64) error {
	if info, err := os.Stat(disk.ReservePath(book)); err == nil && info.Size() == size {
		return nil
	}
	tmp := disk.ReservePath(book) + ".new"
	f, err := os.OpenFile(tmp, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return fmt.Errorf("no reserve is held: %w", err)
	}
	block := make([]byte, 64<<10)
	for n := int64(0); n < size && err == nil; n += int64(len(block)) {
		_, err = f.Write(block[:min(size-n, int64(len(block)))])
	}
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(tmp, disk.ReservePath(book))
	}
	if err != nil {
		_ = os.Remove(tmp)
		return fmt.Errorf("no reserve is held: %w", err)
	}
	return disk.SyncDir(filepath.Dir(book))
}

// releaseReserve gives the reserve up and says whether there was one.
func releaseReserve(book string) bool {
	return os.Remove(disk.ReservePath(book)) == nil
}
