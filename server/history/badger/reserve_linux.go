package badger

import (
	"errors"
	"os"
	"syscall"
)

// allocate gives a file blocks of the disk.
func allocate(f *os.File, size int64) error {
	err := syscall.Fallocate(int(f.Fd()), 0, 0, size)
	if errors.Is(err, syscall.EOPNOTSUPP) {
		return fillWithZeros(f, size)
	}
	return err
}
