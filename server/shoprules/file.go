package shoprules

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"maps"
	"os"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"gaugebook.dev/calc/rulebook"
)

// File keeps the rules of a file as they were last found good.
type File struct {
	name  string
	log   *slog.Logger
	rules atomic.Pointer[Rules]

	mu   sync.Mutex // of what reading compares with
	last []byte     // as last read, good or not
}

// Open reads a file of rules; one with anything wrong in it is refused.
func Open(name string, log *slog.Logger) (*File, error) {
	f := &File{name: name, log: log}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	rules, err := Parse(name, data)
	if err != nil {
		return nil, err
	}
	f.last = data
	f.rules.Store(&rules)
	return f, nil
}

// Of gives a shop's own limits, nil when it has none.
func (f *File) Of(shop string) *rulebook.Book { return (*f.rules.Load())[shop] }

// Shops are those that have limits of their own, in order.
func (f *File) Shops() []string { return slices.Sorted(maps.Keys(*f.rules.Load())) }

// Reload reads the file again, if it changed. One that is refused leaves the rules
// as they were. A shop's limits change only with its version, since kept answers
// name it.
func (f *File) Reload() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	data, err := os.ReadFile(f.name)
	if err != nil || bytes.Equal(data, f.last) {
		return err
	}
	f.last = data
	rules, err := Parse(f.name, data)
	if err != nil {
		return err
	}
	var problems Problems
	for _, shop := range slices.Sorted(maps.Keys(rules)) {
		now, was := rules[shop], f.Of(shop)
		if was != nil && now.Digest != was.Digest && now.Version <= was.Version {
			problems = append(problems, fmt.Sprintf("%s: %s: the limits changed and version %d was in use; want a higher version than that", f.name, shop, was.Version))
		}
	}
	if problems != nil {
		return problems
	}
	f.rules.Store(&rules)
	f.log.Info("shops' own rules loaded", "file", f.name, "shops", len(rules))
	return nil
}

// Watch reloads the file when it changes, until the context ends. What is refused
// is logged and named once; the rules in use stay.
func (f *File) Watch(ctx context.Context, every time.Duration) {
	ticks := time.NewTicker(every)
	defer ticks.Stop()
	failing := "" // as last logged
	for {
		select {
		case <-ctx.Done():
			return
		case <-ticks.C:
		}
		err := f.Reload()
		switch {
		case err == nil:
			failing = ""
		case err.Error() != failing:
			failing = err.Error()
			f.log.Error("shops' own rules refused; those in use stay", "problem", failing)
		}
	}
}
