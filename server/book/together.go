package book

import (
	"context"
	"sync"

	"gaugebook.dev/server/history"
)

// Together carries out commands at the same time, each on a book of its own, and lets
// none store what it decided before all have decided: so they share a sync. Commands
// on one vehicle or tire are given one after another; together they would each but
// one have to decide again. A command must not panic.
func (b *Book) Together(ctx context.Context, commands ...func(*Book)) {
	m := &meeting{missing: len(commands), met: make(chan struct{})}
	var all sync.WaitGroup
	for _, command := range commands {
		p := &participant{Store: b.store, meeting: m}
		// The locks are its own: nobody holds what another waits for while all wait for all.
		one := &Book{store: p, judge: b.judge, now: b.now, ending: b.ending, importing: b.importing}
		all.Go(func() {
			defer m.come(ctx, p, false)
			command(one)
		})
	}
	all.Wait()
}

// meeting is where commands wait for each other.
type meeting struct {
	mu      sync.Mutex
	missing int
	decided []*participant // that have something to store
	met     chan struct{}  // closed when it is stored
}

// participant is the store as one of the commands has it.
type participant struct {
	history.Store
	meeting *meeting
	came    bool
	draft   history.Draft
	stored  history.Committed
}

// Commit stores the first draft with those of the rest, any other by itself.
func (p *participant) Commit(ctx context.Context, draft history.Draft) (history.Number, error) {
	if p.came {
		return p.Store.Commit(ctx, draft)
	}
	p.draft = draft
	p.meeting.come(ctx, p, true)
	<-p.meeting.met
	return p.stored.Number, p.stored.Err
}

// come is told once of every command, when it has something to store or has ended without.
// The last that comes stores for all.
func (m *meeting) come(ctx context.Context, p *participant, decided bool) {
	if p.came {
		return
	}
	p.came = true
	m.mu.Lock()
	defer m.mu.Unlock()
	if decided {
		m.decided = append(m.decided, p)
	}
	if m.missing--; m.missing > 0 {
		return
	}
	drafts := make([]history.Draft, len(m.decided))
	for i, p := range m.decided {
		drafts[i] = p.draft
	}
	defer close(m.met)
	for i, answer := range p.CommitAll(ctx, drafts) {
		m.decided[i].stored = answer
	}
}
