//go:build linux || darwin

package photos

import (
	"errors"
	"os"
	"syscall"
)

// freeSpace is what a process without privileges may still write where dir is, in bytes.
func freeSpace(dir string) (uint64, error) {
	var stat syscall.Statfs_t
	if err := syscall.Statfs(dir, &stat); err != nil {
		return 0, &os.PathError{Op: "statfs", Path: dir, Err: err}
	}
	return stat.Bavail * uint64(stat.Bsize), nil
}

// syncFolder sees to it that the names in a folder outlive a power cut.
func syncFolder(dir string) error {
	folder, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}
