package badger

import "sync"

// timestamps keeps the engine's clock, which counts transactions: the timestamp
// of the latest one that is safely on disk, and those at which snapshots read.
type timestamps struct {
	mu      sync.Mutex
	durable uint64
	reading map[uint64]int // timestamp → snapshots open at it
}

// latest is the timestamp of the last transaction that is safely on disk.
func (ts *timestamps) latest() uint64 {
	ts.mu.Lock()
	defer ts.mu.Unlock()
	return ts.durable
}

// acquire is as latest, and keeps the timestamp readable until release.
func (ts *timestamps) acquire() uint64 {
	ts.mu.Lock()
	defer ts.mu.Unlock()
	if ts.reading == nil {
		ts.reading = map[uint64]int{}
	}
	ts.reading[ts.durable]++
	return ts.durable
}

func (ts *timestamps) release(read uint64) {
	ts.mu.Lock()
	defer ts.mu.Unlock()
	ts.reading[read]--
	if ts.reading[read] == 0 {
		delete(ts.reading, read)
	}
}

// advance sets the latest timestamp and gives the earliest one that can still be
// read: of what is older, the engine may drop all but the newest.
func (ts *timestamps) advance(latest uint64) (earliest uint64) {
	ts.mu.Lock()
	defer ts.mu.Unlock()
	ts.durable = latest
	earliest = latest
	for read := range ts.reading {
		earliest = min(earliest, read)
	}
	return earliest
}
