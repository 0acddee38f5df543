package app_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/gob"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"slices"
	"sync/atomic"
	"time"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/test/bufconn"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	routes "gaugebook.dev/gateway/routes/gaugebook/v1"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// floor answers two calls with what the real server once answered, and writes
// what it once wrote.
type floor struct {
	pb.UnimplementedCalculatorServiceServer
	pb.UnimplementedInspectionServiceServer

	sample   sample
	assessed pb.AssessVisitResponse
	recorded pb.RecordInspectionResponse

	db     *engine.DB
	number atomic.Uint64
	drafts chan floorDraft // nil: each call has a transaction of its own
}

type floorDraft struct {
	rows []rawRow
	done chan error // holds one
}

// floorServer is the child that serves a floor: its arguments are the sample's
// file, a folder for its store, and whether calls share transactions.
func floorServer() int {
	if err := serveFloor(os.Args[1], os.Args[2], os.Args[3] == "shared"); err != nil {
		_, _ = os.Stderr.WriteString(err.Error() + "\n")
	}
	return 1
}

func serveFloor(sampleFile, dir string, shared bool) error {
	text, err := os.ReadFile(sampleFile)
	if err != nil {
		return err
	}
	f := &floor{}
	if err := gob.NewDecoder(bytes.NewReader(text)).Decode(&f.sample); err != nil {
		return err
	}
	if err := errors.Join(proto.Unmarshal(f.sample.Assessed, &f.assessed), proto.Unmarshal(f.sample.Kept, &f.recorded)); err != nil {
		return err
	}
	// As the real store opens it.
	f.db, err = engine.Open(engine.DefaultOptions(dir).WithLogger(nil).WithSyncWrites(true).WithDetectConflicts(false).
		WithMemTableSize(16 << 20).WithNumMemtables(2).WithNumCompactors(2).WithNumGoroutines(2).
		WithCompression(options.None).WithBlockCacheSize(0).WithIndexCacheSize(16 << 20).WithMetricsEnabled(false))
	if err != nil {
		return err
	}
	if shared {
		f.drafts = make(chan floorDraft)
		go f.write()
	}

	var rpc, web net.Listener
	for _, listener := range []*net.Listener{&rpc, &web} {
		if *listener, err = (&net.ListenConfig{}).Listen(context.Background(), "tcp", "127.0.0.1:0"); err != nil {
			return err
		}
	}
	inside := bufconn.Listen(1 << 20)
	conn, err := grpc.NewClient("passthrough:///floor", grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return inside.DialContext(ctx) }))
	if err != nil {
		return err
	}
	gateway := runtime.NewServeMux()
	if err := errors.Join(
		routes.RegisterCalculatorServiceHandler(context.Background(), gateway, conn),
		routes.RegisterInspectionServiceHandler(context.Background(), gateway, conn)); err != nil {
		return err
	}
	answer, err := protojson.Marshal(&f.assessed)
	if err != nil {
		return err
	}
	mux := http.NewServeMux()
	mux.Handle("/", gateway)
	mux.HandleFunc("/echo/", func(w http.ResponseWriter, r *http.Request) {
		_, _ = io.Copy(io.Discard, r.Body)
		w.Header().Set("Content-Type", "application/json")
		_, _ = w.Write(answer)
	})
	_, _ = fmt.Fprintf(os.Stdout, "gRPC on %s, JSON on http://%s\n", rpc.Addr(), web.Addr())
	failed := make(chan error)
	for _, listener := range []net.Listener{rpc, inside} {
		server := grpc.NewServer()
		pb.RegisterCalculatorServiceServer(server, f)
		pb.RegisterInspectionServiceServer(server, f)
		go func() { failed <- server.Serve(listener) }()
	}
	go func() { failed <- (&http.Server{Handler: mux, ReadHeaderTimeout: time.Minute}).Serve(web) }()
	return <-failed
}

// AssessVisit gives the answer of then.
func (f *floor) AssessVisit(context.Context, *pb.AssessVisitRequest) (*pb.AssessVisitResponse, error) {
	return &f.assessed, nil
}

// RecordInspection writes the rows of then under the ids of now.
func (f *floor) RecordInspection(_ context.Context, req *pb.RecordInspectionRequest) (*pb.RecordInspectionResponse, error) {
	rows := f.rows(req.GetInspection())
	if f.drafts == nil {
		return &f.recorded, f.db.Update(func(txn *engine.Txn) error { return put(txn, rows) })
	}
	d := floorDraft{rows, make(chan error, 1)}
	f.drafts <- d
	return &f.recorded, <-d.done
}

// rows are the sample's with other ids in their keys, and another number in that
// of the feed.
func (f *floor) rows(visit *pb.Inspection) []rawRow {
	rows := slices.Clone(f.sample.Rows)
	feed := fmt.Appendf(nil, "\x01%s\x00\x01", f.sample.Shop)
	for i, r := range rows {
		key := bytes.ReplaceAll(r.Key, []byte(f.sample.Visit), []byte(visit.GetId()))
		rows[i].Key = bytes.ReplaceAll(key, []byte(f.sample.Vehicle), []byte(visit.GetVehicleId()))
		if bytes.HasPrefix(key, feed) {
			rows[i].Key = binary.BigEndian.AppendUint64(slices.Clone(feed), f.number.Add(1))
		}
	}
	return rows
}

func put(txn *engine.Txn, rows []rawRow) error {
	for _, r := range rows {
		write := func() error { return txn.Set(r.Key, r.Value) }
		if r.Gone {
			write = func() error { return txn.Delete(r.Key) }
		}
		if err := write(); err != nil {
			return err
		}
	}
	return nil
}

// write commits all that waits in one transaction, again and again, up to 1 MB
// at a time.
func (f *floor) write() {
	size := 0
	for _, r := range f.sample.Rows {
		size += len(r.Key) + len(r.Value)
	}
	for first := range f.drafts {
		group := []floorDraft{first}
		for more := true; more && len(group)*size < 1_000_000; {
			select {
			case d := <-f.drafts:
				group = append(group, d)
			default:
				more = false
			}
		}
		err := f.db.Update(func(txn *engine.Txn) error {
			for _, d := range group {
				if err := put(txn, d.rows); err != nil {
					return err
				}
			}
			return nil
		})
		for _, d := range group {
			d.done <- err
		}
	}
}
