package book

import (
	"context"
	"sync"
)

// lock makes the commands on one vehicle queue for each other: they would only
// find their drafts stale. It ends with the context.
func (b *Book) lock(ctx context.Context, shop, vehicle string) (unlock func(), err error) {
	return b.locks.lock(ctx, shop+"\x00"+vehicle)
}

// keyed is a lock for every key in use.
type keyed struct {
	mu   sync.Mutex
	held map[string]*holding
}

type holding struct {
	token chan struct{} // in it while nobody holds the lock
	users int           // who hold it or wait for it
}

// lock takes the lock of a key and gives the function that lets it go.
func (k *keyed) lock(ctx context.Context, name string) (unlock func(), err error) {
	k.mu.Lock()
	if k.held == nil {
		k.held = map[string]*holding{}
	}
	h := k.held[name]
	if h == nil {
		h = &holding{token: make(chan struct{}, 1)}
		h.token <- struct{}{}
		k.held[name] = h
	}
	h.users++
	k.mu.Unlock()

	leave := func() {
		k.mu.Lock()
		defer k.mu.Unlock()
		if h.users--; h.users == 0 {
			delete(k.held, name)
		}
	}
	select {
	case <-h.token:
		return func() { h.token <- struct{}{}; leave() }, nil
	case <-ctx.Done():
		leave()
		return nil, ctx.Err()
	}
}
