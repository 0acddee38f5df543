package app

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"os/signal"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/google/uuid"
	"github.com/spf13/cobra"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/metadata"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/gateway/strictjson"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/report"
	"gaugebook.dev/server/tell"
)

// The invented shop of the demo and its tokens.
const (
	demoShop    = "invented-shop"
	demoBench   = "demo-bench-token-0001"
	demoCounter = "demo-counter-token-0001"
	demoShown   = "sedan-nail" // the visit whose report is printed
)

func demoCommand(scenario fs.FS) *cobra.Command {
	var on doors
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Play an invented shop's morning against a real server, and stay up",
		Long: `Play an invented shop's morning against a real server: ten vehicles with their
visits are recorded over gRPC, one report is printed, then calls to paste into
another terminal. Ctrl-C ends it and forgets everything.`,
		Example: "  gaugebook demo\n  gaugebook demo --grpc 127.0.0.1:0 --http 127.0.0.1:0",
		Args:    none,
		RunE: func(cmd *cobra.Command, _ []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			defer context.AfterFunc(ctx, stop)() // a second signal ends the process at once
			if err := on.check(); err != nil {
				return err
			}
			dir, err := os.MkdirTemp("", "gaugebook-demo-")
			if err != nil {
				return err
			}
			defer func() { _ = os.RemoveAll(dir) }()
			return demo(ctx, dir, scenario, on, cmd.OutOrStdout())
		},
	}
	on.flags(cmd)
	return cmd
}

// demo starts the service in dir, plays the scenario, prints one report and how
// to go on, and stays until the context ends.
func demo(ctx context.Context, dir string, scenario fs.FS, on doors, out io.Writer) error {
	log := slog.New(slog.DiscardHandler)
	at := place{dir: filepath.Join(dir, "book"), new: true}
	store, err := at.open(log)
	if err != nil {
		return err
	}
	album, err := at.openPhotos()
	if err != nil {
		return errors.Join(err, store.Close())
	}
	keys := []access.Key{
		access.NewKey(demoBench, "bench phone", access.Bench, demoShop),
		access.NewKey(demoCounter, "front counter", access.Counter, demoShop),
	}
	s, err := start(store, album, keys, judge.NoneOwn, on, log)
	if err != nil {
		return err
	}
	if err := play(ctx, s, scenario, out); err != nil {
		_ = s.stop()
		return err
	}
	return s.run(ctx)
}

// morning is one visit of the scenario as it goes over the wire.
type morning struct {
	name    string
	request *pb.AssessVisitRequest
}

func play(ctx context.Context, s *service, scenario fs.FS, out io.Writer) error {
	visits, err := readScenario(scenario)
	if err != nil {
		return err
	}
	conn, err := grpc.NewClient(s.grpcAt.Addr().String(), grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		return err
	}
	defer func() { _ = conn.Close() }()
	ctx = metadata.AppendToOutgoingContext(ctx, "authorization", "Bearer "+demoBench)
	slices.SortFunc(visits, func(a, b morning) int {
		return cmp.Or(cmp.Compare(rankShown(a.name), rankShown(b.name)), cmp.Compare(a.name, b.name))
	})
	vehicles, inspections := pb.NewVehicleServiceClient(conn), pb.NewInspectionServiceClient(conn)
	for _, m := range visits {
		answer, err := record(ctx, vehicles, inspections, m.request)
		if err != nil {
			return fmt.Errorf("%s: %w", m.name, err)
		}
		if m.name == demoShown {
			if err := report.Write(out, m.request, answer.GetAssessment(), answer.GetTold()); err != nil {
				return err
			}
		}
	}
	shown := visits[0].request
	nextSteps(out, s, len(visits), shown.GetVehicle().GetId(), shown.GetInspection().GetId())
	return nil
}

func rankShown(name string) int {
	if name == demoShown {
		return 0
	}
	return 1
}

// record keeps a vehicle, its earlier visits, and the visit of this morning.
func record(ctx context.Context, vehicles pb.VehicleServiceClient, inspections pb.InspectionServiceClient, req *pb.AssessVisitRequest) (*pb.RecordInspectionResponse, error) {
	if _, err := vehicles.RecordVehicle(ctx, &pb.RecordVehicleRequest{ShopId: demoShop, Vehicle: req.GetVehicle()}); err != nil {
		return nil, err
	}
	var last *pb.RecordInspectionResponse
	for _, visit := range append(slices.Clone(req.GetEarlier()), req.GetInspection()) {
		answer, err := inspections.RecordInspection(ctx, &pb.RecordInspectionRequest{
			ShopId: demoShop, Inspection: visit, SentTime: timestamppb.Now(), Reader: ofReport(req.GetReader(), tell.Shop{}),
		})
		if err != nil {
			return nil, err
		}
		last = answer
	}
	return last, nil
}

var demoNames = uuid.NewSHA1(uuid.NameSpaceOID, []byte("gaugebook demo"))

// readScenario reads every visit of the scenario and gives vehicle and visits
// the ids that a phone would have made.
func readScenario(scenario fs.FS) ([]morning, error) {
	names, err := fs.Glob(scenario, "*.json")
	if err != nil {
		return nil, err
	}
	var out []morning
	for _, file := range names {
		data, err := fs.ReadFile(scenario, file)
		if err != nil {
			return nil, err
		}
		req := &pb.AssessVisitRequest{}
		if problems := strictjson.Read(data, req); len(problems) > 0 {
			return nil, fmt.Errorf("%s: %s", file, problems[0])
		}
		name := strings.TrimSuffix(path.Base(file), ".json")
		id := func(what string) string { return uuid.NewSHA1(demoNames, []byte(name+" "+what)).String() }
		req.Vehicle.Id = cmp.Or(req.GetVehicle().GetId(), id("vehicle"))
		for i, e := range req.GetEarlier() {
			e.Id, e.VehicleId = cmp.Or(e.GetId(), id(fmt.Sprint("earlier ", i))), req.GetVehicle().GetId()
		}
		req.Inspection.Id, req.Inspection.VehicleId = cmp.Or(req.GetInspection().GetId(), id("visit")), req.GetVehicle().GetId()
		slices.SortStableFunc(req.GetEarlier(), func(a, b *pb.Inspection) int { return day(a).Compare(day(b)) })
		out = append(out, morning{name, req})
	}
	return out, nil
}

func day(i *pb.Inspection) time.Time {
	d := i.GetLocalDate()
	return time.Date(int(d.GetYear()), time.Month(d.GetMonth()), int(d.GetDay()), 12, 0, 0, 0, time.UTC)
}

// nextSteps prints the addresses and four calls that can be pasted.
func nextSteps(out io.Writer, s *service, vehicles int, vehicle, visit string) {
	web, rpc := "http://"+s.httpAt.Addr().String(), s.grpcAt.Addr().String()
	sayf(out, "\n%d vehicles of an invented shop are in the book. gRPC on %s, JSON on %s.", vehicles, rpc, web)
	sayf(out, "Try, in another terminal:\n")
	sayf(out, "  curl -H 'Authorization: Bearer %s' \\\n    %s/v1/shops/%s/inspections/%s\n", demoBench, web, demoShop, visit)
	sayf(out, "  curl -H 'Authorization: Bearer %s' \\\n    '%s/v1/shops/%s/changes?pageSize=3'\n", demoCounter, web, demoShop)
	sayf(out, "  grpcurl -plaintext -H 'Authorization: Bearer %s' \\\n    -d '{\"shop_id\": \"%s\", \"vehicle_id\": \"%s\"}' \\\n    %s gaugebook.v1.VehicleService/GetVehicle\n", demoBench, demoShop, vehicle, rpc)
	sayf(out, "  grpcurl -plaintext %s gaugebook.v1.ShopService/GetServer\n", rpc)
	sayf(out, "Ctrl-C ends the demo and forgets everything.")
}
