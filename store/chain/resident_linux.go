package chain

import "syscall"

// release takes the pages of a shared map of a file out of the memory of this process.
// Nothing is lost: they are read from the file again. Where the system does not want to,
// they stay.
func release(at, size uintptr) {
	_, _, _ = syscall.Syscall(syscall.SYS_MADVISE, at, size, syscall.MADV_DONTNEED)
}
