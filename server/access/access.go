// Package access says who may make which call for which shop. It denies by
// default: a call without a row in the table is nobody's.
package access

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"slices"
	"strings"

	"google.golang.org/grpc"
	"google.golang.org/grpc/metadata"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Role is what a caller is to a shop.
type Role string

// Roles.
const (
	Bench   Role = "bench"   // the phone on the lot: records and reads
	Counter Role = "counter" // the point of sale: reads and follows
)

// anyone marks calls that keep nothing and tell nothing of a shop.
const anyone Role = "anyone"

// table is every call with the roles that may make it.
var table = map[string][]Role{
	pb.InspectionService_RecordInspection_FullMethodName:   {Bench},
	pb.InspectionService_GetInspection_FullMethodName:      {Bench, Counter},
	pb.InspectionService_ListInspections_FullMethodName:    {Bench, Counter},
	pb.InspectionService_ReassessInspection_FullMethodName: {Bench, Counter},
	pb.InspectionService_ReassessBook_FullMethodName:       {Counter},

	pb.VehicleService_RecordVehicle_FullMethodName: {Bench, Counter},
	pb.VehicleService_GetVehicle_FullMethodName:    {Bench, Counter},
	pb.VehicleService_ListVehicles_FullMethodName:  {Bench, Counter},
	pb.VehicleService_MergeVehicles_FullMethodName: {Bench, Counter},
	pb.VehicleService_RecordEvent_FullMethodName:   {Bench, Counter},
	pb.VehicleService_ListWheelsOff_FullMethodName: {Bench, Counter},

	pb.TireService_RecordTire_FullMethodName:      {Bench},
	pb.TireService_GetTire_FullMethodName:         {Bench, Counter},
	pb.TireService_ListTireHistory_FullMethodName: {Bench, Counter},
	pb.TireService_MoveTires_FullMethodName:       {Bench},
	pb.TireService_RecordRepair_FullMethodName:    {Bench},

	pb.OutboxService_SendBatch_FullMethodName: {Bench},

	pb.PhotoService_PutPhoto_FullMethodName: {Bench},
	pb.PhotoService_GetPhoto_FullMethodName: {Bench, Counter},

	pb.CounterService_PullChanges_FullMethodName:      {Counter},
	pb.CounterService_FollowChanges_FullMethodName:    {Counter},
	pb.CounterService_ListOpenFindings_FullMethodName: {Bench, Counter},
	pb.CounterService_RecordOutcome_FullMethodName:    {Bench, Counter},

	pb.CalculatorService_AssessVisit_FullMethodName:       {anyone},
	pb.CalculatorService_AssessTread_FullMethodName:       {anyone},
	pb.CalculatorService_CalculatePressure_FullMethodName: {anyone},
	pb.CalculatorService_AssessRepair_FullMethodName:      {anyone},
	pb.CalculatorService_ReadSidewall_FullMethodName:      {anyone},
	pb.CalculatorService_CheckFitment_FullMethodName:      {anyone},
	pb.CalculatorService_EstimateLife_FullMethodName:      {anyone},
	pb.CalculatorService_PlanRotation_FullMethodName:      {anyone},

	pb.ShopService_GetShop_FullMethodName:       {Bench, Counter},
	pb.ShopService_UpdateShop_FullMethodName:    {Counter},
	pb.ShopService_ListComingDue_FullMethodName: {Counter},
	pb.ShopService_EraseCustomer_FullMethodName: {Counter},
	pb.ShopService_ListRulebooks_FullMethodName: {Bench, Counter},
	pb.ShopService_GetRulebook_FullMethodName:   {Bench, Counter},
	pb.ShopService_ListKinds_FullMethodName:     {Bench, Counter},
	pb.ShopService_GetServer_FullMethodName:     {anyone},

	"/grpc.health.v1.Health/Check":                                   {anyone},
	"/grpc.health.v1.Health/List":                                    {anyone},
	"/grpc.health.v1.Health/Watch":                                   {anyone},
	"/grpc.reflection.v1.ServerReflection/ServerReflectionInfo":      {anyone},
	"/grpc.reflection.v1alpha.ServerReflection/ServerReflectionInfo": {anyone},
}

// Calls lists the calls that have a row.
func Calls() []string {
	var cs []string
	for c := range table {
		cs = append(cs, c)
	}
	slices.Sort(cs)
	return cs
}

// Key is one token and whose it is. Only the token's SHA-256 is held.
type Key struct {
	Hash  [sha256.Size]byte
	Name  string
	Role  Role
	Shops []string
}

// NewKey makes the key of a token.
func NewKey(token, name string, role Role, shops ...string) Key {
	return Key{sha256.Sum256([]byte(token)), name, role, shops}
}

// Caller is who makes a call, once authenticated.
type Caller struct {
	Name string
	Role Role
}

type callerKey struct{}

// CallerOf gives the caller that the interceptor found; the zero Caller for
// calls that need none.
func CallerOf(ctx context.Context) Caller {
	c, _ := ctx.Value(callerKey{}).(Caller)
	return c
}

// Denied is a call that may not be made.
type Denied struct {
	Unauthenticated bool // no token, or one that is not known
	Message         string
}

func (d *Denied) Error() string { return d.Message }

// Guard decides by a fixed list of keys.
type Guard struct{ keys []Key }

// NewGuard makes a guard.
func NewGuard(keys ...Key) *Guard { return &Guard{keys} }

// Unary is the interceptor in front of every unary call.
func (g *Guard) Unary(ctx context.Context, req any, info *grpc.UnaryServerInfo, handler grpc.UnaryHandler) (any, error) {
	p, err := g.permit(ctx, info.FullMethod)
	if err != nil {
		return nil, err
	}
	if err := p.allows(req); err != nil {
		return nil, err
	}
	return handler(p.context(ctx), req)
}

// Stream is the interceptor in front of every stream. The shop stands in its
// request: it is guarded when that is read, before the handler sees it.
func (g *Guard) Stream(srv any, ss grpc.ServerStream, info *grpc.StreamServerInfo, handler grpc.StreamHandler) error {
	p, err := g.permit(ss.Context(), info.FullMethod)
	if err != nil {
		return err
	}
	return handler(srv, &guardedStream{ss, p, p.context(ss.Context())})
}

// guardedStream is a stream whose every request is guarded.
type guardedStream struct {
	grpc.ServerStream
	permit permit
	ctx    context.Context
}

func (s *guardedStream) Context() context.Context { return s.ctx }

func (s *guardedStream) RecvMsg(m any) error {
	if err := s.ServerStream.RecvMsg(m); err != nil {
		return err
	}
	return s.permit.allows(m)
}

// permit is what a caller may: make the call, in the shops of its key. A nil key
// is anyone's, for a call that has no shop.
type permit struct{ key *Key }

// permit finds who calls and whether the role may make the call.
func (g *Guard) permit(ctx context.Context, method string) (permit, error) {
	roles, ok := table[method]
	if !ok {
		return permit{}, &Denied{Message: "no role may make this call"}
	}
	if slices.Contains(roles, anyone) {
		return permit{}, nil
	}
	key, err := g.authenticate(ctx)
	if err != nil {
		return permit{}, err
	}
	if !slices.Contains(roles, key.Role) {
		return permit{}, &Denied{Message: fmt.Sprintf("the role %s may not make this call", key.Role)}
	}
	return permit{&key}, nil
}

// allows tells whether a request is of a shop of the caller.
func (p permit) allows(req any) error {
	if p.key == nil {
		return nil
	}
	if shop, ok := ShopOf(req); !ok || !slices.Contains(p.key.Shops, shop) {
		return &Denied{Message: "not a shop of this caller"}
	}
	return nil
}

func (p permit) context(ctx context.Context) context.Context {
	if p.key == nil {
		return ctx
	}
	return context.WithValue(ctx, callerKey{}, Caller{p.key.Name, p.key.Role})
}

// authenticate compares with every key in constant time.
func (g *Guard) authenticate(ctx context.Context) (Key, error) {
	missing := &Denied{Unauthenticated: true, Message: `a token is needed: "authorization: Bearer ..."`}
	values := metadata.ValueFromIncomingContext(ctx, "authorization")
	if len(values) != 1 {
		return Key{}, missing
	}
	scheme, token, ok := strings.Cut(values[0], " ")
	if !ok || !strings.EqualFold(scheme, "Bearer") { // RFC 9110, section 11.1
		return Key{}, missing
	}
	hash := sha256.Sum256([]byte(token))
	found := -1
	for i, k := range g.keys {
		if subtle.ConstantTimeCompare(hash[:], k.Hash[:]) == 1 {
			found = i
		}
	}
	if found < 0 {
		return Key{}, &Denied{Unauthenticated: true, Message: "the token is not known here"}
	}
	return g.keys[found], nil
}

// ShopOf reads the shop of a request: field 1, shop_id. ok is false when the
// request has none or it is empty.
func ShopOf(req any) (shop string, ok bool) {
	m, isMessage := req.(proto.Message)
	if !isMessage {
		return "", false
	}
	fd := m.ProtoReflect().Descriptor().Fields().ByName("shop_id")
	if fd == nil || fd.Number() != 1 || fd.Kind() != protoreflect.StringKind {
		return "", false
	}
	shop = m.ProtoReflect().Get(fd).String()
	return shop, shop != ""
}
