package badger

import "sync"

// moments keeps the engine's clock, which counts transactions: the latest
// moment that is safely on disk, and the moments that open snapshots show.
type moments struct {
	mu     sync.Mutex
	safe   uint64
	opened map[uint64]int // moment → snapshots open at it
}

// latest is the moment of the last transaction that is safely on disk.
func (m *moments) latest() uint64 {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.safe
}

// enter is as latest, and keeps the moment readable until leave.
func (m *moments) enter() uint64 {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.opened == nil {
		m.opened = map[uint64]int{}
	}
	m.opened[m.safe]++
	return m.safe
}

func (m *moments) leave(moment uint64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.opened[moment]--
	if m.opened[moment] == 0 {
		delete(m.opened, moment)
	}
}

// advance sets the latest moment and gives the earliest one that can still be
// read: of what is older, the engine may drop all but the newest.
func (m *moments) advance(latest uint64) (earliest uint64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.safe = latest
	earliest = latest
	for moment := range m.opened {
		earliest = min(earliest, moment)
	}
	return earliest
}
