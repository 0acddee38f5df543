//go:build !linux && !darwin

package badger

import (
	"errors"
	"os"
)

func freeSpace(string) (uint64, error) {
	return 0, errors.New("free space must be told by Options.FreeSpace on this system")
}

// inUse leaves it to the engine to say so in its own words.
func inUse(string) bool { return false }

// Other systems keep names by themselves and have no way to sync a directory.
func syncDir(*os.File) error { return nil }

func syncParents(string) error { return nil }
