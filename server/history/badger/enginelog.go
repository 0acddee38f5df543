package badger

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"sync"
	"time"
)

// engineLog passes on what the engine has to say, of the same kind once a minute at
// most, and knows when it last told of trouble: the engine tries again and again to
// write what it has in memory, and nobody else hears of it.
type engineLog struct {
	log *slog.Logger

	mu    sync.Mutex
	said  map[string]time.Time // by format
	ill   error
	illAt time.Time
}

func newEngineLog(log *slog.Logger) *engineLog {
	return &engineLog{log: log, said: map[string]time.Time{}}
}

// troubled is how long trouble counts after the engine last told of it. It tries
// again every second.
const troubled = 5 * time.Second

// trouble is what the engine could not write lately, or nil.
func (l *engineLog) trouble() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.ill == nil || time.Since(l.illAt) > troubled {
		return nil
	}
	return l.ill
}

func (l *engineLog) say(level slog.Level, ill bool, format string, args []any) {
	if !ill && !l.log.Enabled(context.Background(), level) {
		return
	}
	text := strings.TrimSpace(fmt.Sprintf(format, args...))
	if l.noted(level, ill, format, text) {
		l.log.Log(context.Background(), level, text)
	}
}

// noted tells whether a line is to be passed on.
func (l *engineLog) noted(level slog.Level, ill bool, format, text string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := time.Now()
	if ill {
		l.ill, l.illAt = errors.New(text), now
	}
	if level < slog.LevelWarn {
		return true
	}
	if last, before := l.said[format]; before && now.Sub(last) < sayEvery {
		return false
	}
	l.said[format] = now
	return true
}

// Errorf, Warningf, Infof and Debugf are the engine's idea of a logger. What it tells
// of its own ways is detail to whoever runs a server.
func (l *engineLog) Errorf(format string, args ...any) { l.say(slog.LevelError, true, format, args) }

// Warningf is as Errorf. Of files that it could not put together the engine warns only.
func (l *engineLog) Warningf(format string, args ...any) {
	l.say(slog.LevelWarn, strings.Contains(strings.ToLower(format), "compact"), format, args)
}

// Infof is as Errorf.
func (l *engineLog) Infof(format string, args ...any) { l.say(slog.LevelDebug, false, format, args) }

// Debugf is as Errorf.
func (l *engineLog) Debugf(format string, args ...any) { l.say(slog.LevelDebug, false, format, args) }
