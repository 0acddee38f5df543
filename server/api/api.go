package api

import (
	"log/slog"
	"slices"
	"time"

	"google.golang.org/grpc"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/photos"
)

// Server answers every service of the contract: embedded so, the compiler
// demands a handler for every call.
type Server struct {
	pb.UnsafeInspectionServiceServer
	pb.UnsafeVehicleServiceServer
	pb.UnsafeTireServiceServer
	pb.UnsafeOutboxServiceServer
	pb.UnsafePhotoServiceServer
	pb.UnsafeCounterServiceServer
	pb.UnsafeCalculatorServiceServer
	pb.UnsafeShopServiceServer

	book      *book.Book
	photos    *photos.Folder
	about     About
	log       *slog.Logger
	heartbeat time.Duration // of a stream without changes
}

// About is what the server says of itself.
type About struct {
	Version         string // of the program
	Epoch           string // of the store's numbering
	MaxMessageBytes int    // largest message that it takes
}

// New makes a server over a book and the photos beside it. The log hears what only it can
// explain.
func New(b *book.Book, in *photos.Folder, about About, log *slog.Logger) *Server {
	return &Server{book: b, photos: in, about: about, log: log, heartbeat: heartbeat}
}

// services are those of the contract.
var services = []grpc.ServiceDesc{
	pb.InspectionService_ServiceDesc, pb.VehicleService_ServiceDesc, pb.TireService_ServiceDesc, pb.OutboxService_ServiceDesc,
	pb.PhotoService_ServiceDesc, pb.CounterService_ServiceDesc, pb.CalculatorService_ServiceDesc, pb.ShopService_ServiceDesc,
}

// Served are the calls that are served, by their full names:
// "gaugebook.v1.ShopService.GetShop". Sorted. The compiler demands a handler for each.
func Served() []string {
	var all []string
	for _, s := range services {
		for _, m := range s.Methods {
			all = append(all, s.ServiceName+"."+m.MethodName)
		}
		for _, m := range s.Streams {
			all = append(all, s.ServiceName+"."+m.StreamName)
		}
	}
	slices.Sort(all)
	return all
}

// Register puts all services on a gRPC server.
func (s *Server) Register(r grpc.ServiceRegistrar) {
	pb.RegisterInspectionServiceServer(r, s)
	pb.RegisterVehicleServiceServer(r, s)
	pb.RegisterTireServiceServer(r, s)
	pb.RegisterOutboxServiceServer(r, s)
	pb.RegisterPhotoServiceServer(r, s)
	pb.RegisterCounterServiceServer(r, s)
	pb.RegisterCalculatorServiceServer(r, s)
	pb.RegisterShopServiceServer(r, s)
}

// Pages: how many rows a list gives.
const (
	defaultPage = 50
	maxPage     = 200
)

// pageSize brings a page size into bounds; checkPageSize has refused negative ones.
func pageSize(asked int32) int {
	switch {
	case asked == 0:
		return defaultPage
	case asked > maxPage:
		return maxPage
	}
	return int(asked)
}
