package api

import (
	"log/slog"
	"time"

	"google.golang.org/grpc"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
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

// New makes a server over a book. The log hears what only it can explain.
func New(b *book.Book, about About, log *slog.Logger) *Server {
	return &Server{book: b, about: about, log: log, heartbeat: heartbeat}
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
