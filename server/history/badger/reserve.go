package badger

import (
	"errors"
	"io/fs"
	"os"
)

// reserveName is the file that holds room for the engine in a store that is open, so
// that it can be opened again on a disk which others have filled meanwhile. A store that
// was closed in order has none.
const reserveName = "RESERVE"

type reserve struct {
	path string
	size uint64
}

// keepReserve takes room into reserve where there is enough besides.
func (s *Store) keepReserve() {
	if s.readOnly || s.reserve.size == 0 || s.obstacle() != nil || s.reserve.held() || s.noRoom(s.minFree+s.reserve.size) != nil {
		return
	}
	if err := s.reserve.take(); err != nil {
		s.log.Warn("no room could be taken into reserve for a full disk", "error", err)
	}
}

func (r reserve) held() bool {
	info, err := os.Stat(r.path)
	return err == nil && info.Size() >= int64(r.size)
}

// take makes the file, whole or not at all.
func (r reserve) take() error {
	f, err := os.OpenFile(r.path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	err = errors.Join(allocate(f, int64(r.size)), f.Close())
	if err != nil {
		err = errors.Join(err, r.give())
	}
	return err
}

// give removes the file, where there is one.
func (r reserve) give() error {
	if err := os.Remove(r.path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// fillWithZeros gives a file blocks of the disk where the system has no way to ask
// for them alone.
func fillWithZeros(f *os.File, size int64) error {
	zeros := make([]byte, 1<<20)
	for at := int64(0); at < size; at += int64(len(zeros)) {
		if _, err := f.WriteAt(zeros[:min(int64(len(zeros)), size-at)], at); err != nil {
			return err
		}
	}
	return nil
}
