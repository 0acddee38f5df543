// Package notify lets readers sleep until a shop has something new.
package notify

import "sync"

// Notifier wakes whoever waits for a shop. The zero Notifier is ready for use, by
// any number of goroutines.
type Notifier struct {
	mu    sync.Mutex
	shops map[string]*subscription
}

// subscription is shared by all who wait for one shop.
type subscription struct {
	notified chan struct{}
	waiters  int
}

// Subscribe gives a channel that is closed at the shop's next Notify, and a
// function to call, once, when the caller waits no more. Whoever subscribes first
// and looks afterwards misses nothing.
func (n *Notifier) Subscribe(shop string) (notified <-chan struct{}, unsubscribe func()) {
	n.mu.Lock()
	defer n.mu.Unlock()
	s := n.shops[shop]
	if s == nil {
		s = &subscription{notified: make(chan struct{})}
		if n.shops == nil {
			n.shops = map[string]*subscription{}
		}
		n.shops[shop] = s
	}
	s.waiters++
	return s.notified, func() {
		n.mu.Lock()
		defer n.mu.Unlock()
		s.waiters--
		if s.waiters == 0 && n.shops[shop] == s {
			delete(n.shops, shop)
		}
	}
}

// Notify wakes all who wait for the shop.
func (n *Notifier) Notify(shop string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if s := n.shops[shop]; s != nil {
		close(s.notified)
		delete(n.shops, shop)
	}
}
