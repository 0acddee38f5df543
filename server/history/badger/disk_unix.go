//go:build linux || darwin

package badger

import (
	"os"
	"path/filepath"
	"syscall"
)

// freeSpace is what a process without privileges may still write where dir is,
// in bytes.
func freeSpace(dir string) (uint64, error) {
	var stat syscall.Statfs_t
	if err := syscall.Statfs(dir, &stat); err != nil {
		return 0, &os.PathError{Op: "statfs", Path: dir, Err: err}
	}
	return stat.Bavail * uint64(stat.Bsize), nil
}

// inUse says whether somebody holds the engine's lock of a directory.
func inUse(path string) bool {
	dir, err := os.Open(path)
	if err != nil {
		return false
	}
	defer func() { _ = dir.Close() }() // gives the lock back
	return syscall.Flock(int(dir.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == syscall.EWOULDBLOCK
}

func syncDir(dir *os.File) error { return dir.Sync() }

// syncParents syncs the directories above one that was made, up to the root: any
// of them may be new.
func syncParents(path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	for parent := filepath.Dir(path); parent != path; path, parent = parent, filepath.Dir(parent) {
		dir, err := os.Open(parent)
		if os.IsPermission(err) {
			return nil // somebody else's, so it was there before
		}
		if err != nil {
			return err
		}
		err = dir.Sync()
		_ = dir.Close() // only read
		if err != nil {
			return err
		}
	}
	return nil
}
