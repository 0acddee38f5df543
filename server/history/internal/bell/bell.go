// Package bell lets readers sleep until a shop has something new.
package bell

import "sync"

// Bell is rung for a shop and wakes whoever listens for it. The zero Bell is
// ready for use, by any number of goroutines.
type Bell struct {
	mu    sync.Mutex
	shops map[string]*sleepers
}

type sleepers struct {
	rung  chan struct{}
	count int
}

// Listen gives a channel that is closed when the shop's bell is next rung, and
// a function to call, once, when the listener goes. Whoever listens first and
// looks afterwards misses nothing.
func (b *Bell) Listen(shop string) (rung <-chan struct{}, leave func()) {
	b.mu.Lock()
	defer b.mu.Unlock()
	s := b.shops[shop]
	if s == nil {
		s = &sleepers{rung: make(chan struct{})}
		if b.shops == nil {
			b.shops = map[string]*sleepers{}
		}
		b.shops[shop] = s
	}
	s.count++
	return s.rung, func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		s.count--
		if s.count == 0 && b.shops[shop] == s {
			delete(b.shops, shop)
		}
	}
}

// Ring wakes all who listen for the shop.
func (b *Bell) Ring(shop string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if s := b.shops[shop]; s != nil {
		close(s.rung)
		delete(b.shops, shop)
	}
}
