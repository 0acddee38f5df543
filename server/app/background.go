package app

import (
	"context"
	"time"

	healthpb "google.golang.org/grpc/health/grpc_health_v1"

	"gaugebook.dev/server/book"
)

const (
	// lookAtStore is how often it is asked whether the book can be written.
	lookAtStore = time.Second

	// trimEvery is how often changes that are no longer kept are looked for.
	trimEvery = 10 * time.Minute

	// sweepEvery is how often files of photos that are of no use are looked for.
	sweepEvery = time.Hour
)

// beginBackground begins what the service does by itself, until endBackground.
func (s *service) beginBackground() {
	ctx, end := context.WithCancel(context.Background())
	s.endBackground = end
	s.watchStore(ctx)
	s.every(ctx, lookAtStore, s.watchStore)
	s.every(ctx, trimEvery, s.trimChanges)
	s.background.Go(func() { s.sweepPhotos(ctx) }) // what was left when the server ended last
	s.every(ctx, sweepEvery, s.sweepPhotos)
}

func (s *service) every(ctx context.Context, span time.Duration, do func(context.Context)) {
	s.background.Go(func() {
		ticker := time.NewTicker(span)
		defer ticker.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-ticker.C:
				do(ctx)
			}
		}
	})
}

// watchStore keeps the readiness: a server that cannot write is not ready, though it
// answers who reads.
func (s *service) watchStore(context.Context) {
	status := healthpb.HealthCheckResponse_SERVING
	if s.store.Writable() != nil {
		status = healthpb.HealthCheckResponse_NOT_SERVING
	}
	s.health.SetServingStatus("", status)
}

// trimChanges removes changes that are no longer kept.
func (s *service) trimChanges(ctx context.Context) {
	n, err := s.book.TrimChanges(ctx)
	if n > 0 {
		s.log.Info("changes that are no longer kept were removed", "changes", n)
	}
	if err != nil && !book.Passing(err) {
		s.log.Error("changes that are no longer kept could not be removed", "error", err)
	}
}

// sweepPhotos removes files of photos that were erased, or were never whole.
func (s *service) sweepPhotos(ctx context.Context) {
	n, err := s.photos.Sweep(ctx, time.Now(), func(shop, name string) (bool, error) {
		is, err := s.book.Photo(ctx, shop, name)
		return is.Erased, err
	})
	if n > 0 {
		s.log.Info("files of photos that are of no use were removed", "files", n)
	}
	if err != nil && ctx.Err() == nil && !book.Passing(err) {
		s.log.Error("files of photos that are of no use could not be removed", "error", err)
	}
}
