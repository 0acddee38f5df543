//go:build !linux && !darwin

package badger

import (
	"errors"
	"os"
)

func freeSpace(string) (uint64, error) {
	return 0, errors.New("free space must be told by Options.FreeSpace on this system")
}

// inPlace answers why files cannot be made in a directory, as far as it is asked.
func inPlace(path string, _ *os.File) error {
	_, err := os.Stat(path)
	return err
}

// withLock does nothing: the engine's lock can be taken by the engine only, which
// says in its own words that a store is in use.
func withLock(string, bool, func(string) error) error { return nil }

// Other systems keep names by themselves and have no way to sync a directory.
func syncDir(*os.File) error { return nil }

func syncParents(string) error { return nil }
