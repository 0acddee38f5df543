package badger

import (
	"os"
	"testing"

	"go.uber.org/goleak"
)

// childVariable makes this test program play the part of a server that writes:
// its value names one of the children.
const childVariable = "GAUGEBOOK_HISTORY_CHILD"

// A child is a program of its own; its argument is the directory of the store.
var children = map[string]func(dir string) error{
	"until killed": writeUntilKilled,
	"counted":      writeCounted,
	"idle":         writeNothing,
	"asked":        writeWhenAsked,
}

func TestMain(m *testing.M) {
	if name := os.Getenv(childVariable); name != "" {
		if err := children[name](os.Args[1]); err != nil {
			_, _ = os.Stderr.WriteString(err.Error() + "\n")
			os.Exit(1)
		}
		return
	}
	goleak.VerifyTestMain(m)
}

// childOf is the environment that makes a child of this program.
func childOf(name string) []string {
	return append(os.Environ(), childVariable+"="+name)
}
