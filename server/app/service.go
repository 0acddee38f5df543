package app

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"

	"github.com/spf13/cobra"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/health"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/keepalive"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/reflection"
	"google.golang.org/grpc/test/bufconn"

	"gaugebook.dev/gateway"

	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/api"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/photos"
)

// maxMessage is the largest message taken at either door.
const maxMessage = 4 << 20

// drainFor is how long calls in flight may take to end at shutdown.
const drainFor = 10 * time.Second

// service is the running server: two doors over one book.
type service struct {
	log     *slog.Logger
	store   history.Store
	photos  *photos.Folder
	book    *book.Book
	grpc    *grpc.Server // the network
	inner   *grpc.Server // behind the JSON door, so that its callers have no share of a phone's limits
	http    *http.Server
	conn    *grpc.ClientConn
	health  *health.Server
	grpcAt  net.Listener
	httpAt  net.Listener
	innerAt *bufconn.Listener
	failed  chan error

	operator      *operator // nil: none
	endBackground context.CancelFunc
	background    sync.WaitGroup
}

// doors are the addresses to listen on.
type doors struct{ grpc, http string }

func (d *doors) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&d.grpc, "grpc", "127.0.0.1:7468", "address for gRPC")
	cmd.Flags().StringVar(&d.http, "http", "127.0.0.1:7469", "address for JSON")
}

// check refuses an address that none can be.
func (d *doors) check() error {
	_, onGRPC := net.ResolveTCPAddr("tcp", d.grpc)
	_, onHTTP := net.ResolveTCPAddr("tcp", d.http)
	if onGRPC != nil {
		return inputError{fmt.Errorf("--grpc: %w", onGRPC)}
	}
	if onHTTP != nil {
		return inputError{fmt.Errorf("--http: %w", onHTTP)}
	}
	return nil
}

// ownRules gives a shop's own limits, nil for a shop that has none.
type ownRules = func(shop string) *rulebook.Book

// start opens both doors over a store and the photos beside it. Both are closed with the
// service, and at once where a door cannot be opened.
func start(store history.Store, album *photos.Folder, keys []access.Key, own ownRules, on doors, log *slog.Logger) (*service, error) {
	s := &service{
		log: log, store: store, photos: album, book: book.New(store, judge.For(own), time.Now),
		health: health.NewServer(), innerAt: bufconn.Listen(1 << 20), failed: make(chan error, 3),
	}
	server := api.New(s.book, album, api.About{Version: Version, Epoch: store.Epoch().String(), MaxMessageBytes: maxMessage}, log)
	guard := access.NewGuard(keys...)
	s.grpc = s.newServer(server, guard, grpc.ChainUnaryInterceptor(dropClientAddress), grpc.ChainStreamInterceptor(dropClientAddressOfStream))
	s.inner = s.newServer(server, guard)

	var err error
	if s.grpcAt, err = net.Listen("tcp", on.grpc); err != nil {
		return nil, errors.Join(fmt.Errorf("listen for gRPC: %w", err), s.close())
	}
	if s.httpAt, err = net.Listen("tcp", on.http); err != nil {
		return nil, errors.Join(fmt.Errorf("listen for HTTP: %w", err), s.grpcAt.Close(), s.close())
	}
	s.conn, err = grpc.NewClient("passthrough:gateway",
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return s.innerAt.DialContext(ctx) }),
		grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(4*maxMessage)))
	if err != nil {
		return nil, errors.Join(err, s.grpcAt.Close(), s.httpAt.Close(), s.close())
	}
	s.http = gateway.HTTPServer(gateway.New(s.conn, gateway.Options{Served: api.Served()}))
	s.beginBackground()
	go func() { s.failed <- s.grpc.Serve(s.grpcAt) }()
	go func() { s.failed <- s.inner.Serve(s.innerAt) }()
	go func() {
		if err := s.http.Serve(s.httpAt); !errors.Is(err, http.ErrServerClosed) {
			s.failed <- err
		}
	}()
	return s, nil
}

// newServer makes a server of every service, with what comes before the
// interceptors that all have.
func (s *service) newServer(server *api.Server, guard *access.Guard, before ...grpc.ServerOption) *grpc.Server {
	g := grpc.NewServer(append(before,
		grpc.MaxRecvMsgSize(maxMessage),
		grpc.ChainUnaryInterceptor(api.Recover(s.log), api.Errors(s.log), guard.Unary),
		grpc.ChainStreamInterceptor(api.StreamRecover(s.log), api.StreamErrors(s.log), guard.Stream),
		grpc.KeepaliveEnforcementPolicy(keepalive.EnforcementPolicy{MinTime: api.LeastKeepalive, PermitWithoutStream: true}),
	)...)
	server.Register(g)
	healthpb.RegisterHealthServer(g, s.health)
	reflection.Register(g)
	return g
}

// dropClientAddress drops what only the gateway may say, from a call that comes
// from outside.
func dropClientAddress(ctx context.Context, req any, _ *grpc.UnaryServerInfo, handler grpc.UnaryHandler) (any, error) {
	return handler(withoutClientAddress(ctx), req)
}

func dropClientAddressOfStream(srv any, ss grpc.ServerStream, _ *grpc.StreamServerInfo, handler grpc.StreamHandler) error {
	return handler(srv, &inContext{ss, withoutClientAddress(ss.Context())})
}

type inContext struct {
	grpc.ServerStream
	ctx context.Context
}

func (s *inContext) Context() context.Context { return s.ctx }

func withoutClientAddress(ctx context.Context) context.Context {
	md, _ := metadata.FromIncomingContext(ctx) // a copy
	md.Delete(gateway.ClientAddressKey)
	return metadata.NewIncomingContext(ctx, md)
}

// run waits until the context ends or a door fails, then shuts down in order.
func (s *service) run(ctx context.Context) error {
	var failure error
	select {
	case <-ctx.Done():
	case failure = <-s.failed:
	}
	return errors.Join(failure, s.stop())
}

// stop drains both doors at once: no new calls, those in flight end, those that
// wait for a change answer without one. The store is closed last, when nobody
// uses it any more.
func (s *service) stop() error {
	s.health.Shutdown()
	s.endBackground()
	s.book.EndWaits()
	ctx, cancel := context.WithTimeout(context.Background(), drainFor)
	defer cancel()
	var doors sync.WaitGroup
	doors.Go(s.operator.close)
	doors.Go(func() { drain(ctx, s.grpc) })
	var err error
	doors.Go(func() {
		if err = s.http.Shutdown(ctx); err != nil {
			err = errors.Join(err, s.http.Close())
		}
		drain(ctx, s.inner)
	})
	doors.Wait()
	s.background.Wait()
	return errors.Join(err, s.conn.Close(), s.close())
}

// close lets go of what is kept, when nobody uses it any more.
func (s *service) close() error { return errors.Join(s.store.Close(), s.photos.Close()) }

// drain stops a server gracefully, and hard when that takes too long.
func drain(ctx context.Context, g *grpc.Server) {
	defer context.AfterFunc(ctx, g.Stop)()
	g.GracefulStop()
}
