package memory_test

import (
	"testing"

	"go.uber.org/goleak"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/historytest"
	"gaugebook.dev/server/history/memory"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

func TestPromises(t *testing.T) {
	open := func(*testing.T) history.Store { return memory.New() }
	load := func(*testing.T) (history.Loader, func() history.Store) {
		l := memory.Load()
		return l, func() history.Store { return l.Store() }
	}
	historytest.Run(t, open, historytest.Capabilities{Model: true, Load: load})
}
