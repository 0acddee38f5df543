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

// inPlace answers why files cannot be made in a directory, which was opened before:
// it is no longer under its path, or may not be written. For root no mode forbids
// anything, but a disk that is mounted to be read does.
//
//nolint:gosec // where a store lies is its operator's to say
func inPlace(path string, opened *os.File) error {
	there, err := os.Stat(path)
	if err != nil {
		return err
	}
	here, err := opened.Stat()
	if err != nil {
		return err
	}
	if !os.SameFile(there, here) {
		return &os.PathError{Op: "find", Path: path, Err: errNotThere}
	}
	const writeAndSearch = 2 | 1 // W_OK and X_OK of access(2)
	if err := syscall.Access(path, writeAndSearch); err != nil {
		return &os.PathError{Op: "write", Path: path, Err: err}
	}
	return nil
}

// withLock runs f while it holds the engine's lock of a directory, alone or with
// others who read, or answers *InUseError where somebody else holds it.
func withLock(path string, alone bool, f func(path string) error) error {
	dir, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { _ = dir.Close() }() // gives the lock back
	how := syscall.LOCK_SH
	if alone {
		how = syscall.LOCK_EX
	}
	switch err := syscall.Flock(int(dir.Fd()), how|syscall.LOCK_NB); {
	case err == syscall.EWOULDBLOCK:
		return &InUseError{path}
	case err != nil:
		return &os.PathError{Op: "flock", Path: path, Err: err}
	}
	return f(path)
}

func syncDir(dir *os.File) error { return dir.Sync() }

// syncParents syncs the directories above one that was made, up to the root: any
// of them may be new.
//
//nolint:gosec // where a store lies is its operator's to say
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
